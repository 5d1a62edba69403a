// The facts that are asked about a car and its distributor. Limits are those
// of ordinary entry checking (common practice): they ask, they do not forbid.

import { withBook } from "./book-facts.js";
import { checks } from "./fact-checks.js";
import { firingOrderShown } from "./firing-order.js";

/** @typedef {import("../kit/doubt.js").Doubt} Doubt */

/**
 * @typedef {object} GrouplessField
 * @property {string} key
 * @property {"car" | "distributor"} of
 * @property {string} label
 * @property {"number" | "text" | "choice" | "long"} kind
 * @property {string[]} [units]
 * @property {string[]} [options]
 * @property {string} [note]
 * @property {boolean} [hasNoSource]
 * @property {boolean} [hasUsualUnit] the first unit is taken where none was chosen
 * @property {(value: string) => string} [inWords] the value as it is shown, where it is typed in several ways
 * @property {(value: string, unit: string, facts: Facts) => Doubt | null} [check]
 */

/** @typedef {GrouplessField & {group: string}} FactField */

export const groups = [
	"The owner’s story",
	"Engine",
	"Electrics",
	"Distributor",
	"Settings by the book",
	"Condition, measured",
];

/**
 * factFields lists what is asked, in the order of the page, in the English now chosen.
 * @param {boolean} [isUnit] only what a distributor by itself is asked about
 * @returns {FactField[]}
 */
export function factFields(isUnit = false) {
	return [story(), engine(), electrics(), distributor(), settings(), condition()]
		.flatMap((fields, i) => fields.map((field) => ({ ...field, group: groups[i] })))
		.filter((field) => !isUnit || isOfUnit(field));
}

/** Facts of an engine that a distributor by itself is asked about too. */
const alsoOfUnit = ["cylinders", "firingOrder", "staticTiming"];

/** @param {FactField} field */
const isOfUnit = ({ of, key }) => of === "distributor" || alsoOfUnit.includes(key);

/**
 * factCount counts the facts with a value.
 * @param {Facts} car
 * @param {Facts} ofDistributor
 * @param {Partial<Sheet>} [sheet] the book's table, which holds two of them too
 * @param {boolean} [isUnit] of a distributor by itself
 */
export function factCount(car, ofDistributor, sheet, isUnit = false) {
	const fields = factFields(isUnit).filter((field) => !field.hasNoSource);
	const known = fields.filter(
		(field) =>
			(withBook(field.key, (field.of === "car" ? car : ofDistributor)[field.key], sheet)?.value ?? "").trim() !==
			"",
	).length;
	return { known, asked: fields.length };
}

/** @returns {GrouplessField[]} */
const story = () => [
	{
		key: "story",
		of: "car",
		label: "What it does wrong, since when, after what change",
		kind: "long",
		hasNoSource: true,
	},
];

const firing = { check: checks.firingOrder, inWords: firingOrderShown };

/** @returns {GrouplessField[]} */
const engine = () => [
	{ key: "year", of: "car", label: "Year", kind: "text", check: checks.year },
	{ key: "layout", of: "car", label: "Layout", kind: "choice", options: ["inline", "V", "flat"] },
	{ key: "cylinders", of: "car", label: "Cylinders", kind: "number", check: checks.cylinders },
	{ key: "capacity", of: "car", label: "Capacity", kind: "number", units: ["cc", "cu in"], check: checks.capacity },
	{ key: "stroke", of: "car", label: "Stroke", kind: "number", units: ["mm", "in"], check: checks.stroke },
	{
		key: "chamber",
		of: "car",
		label: "Combustion chamber",
		kind: "choice",
		options: ["side-valve", "bathtub", "wedge", "hemispherical", "pent-roof", "F-head"],
	},
	{ key: "cam", of: "car", label: "Camshaft", kind: "choice", options: ["standard", "mild", "hot"] },
	{
		key: "compressionRatio",
		of: "car",
		label: "Compression ratio",
		kind: "number",
		units: [": 1"],
		check: checks.compressionRatio,
	},
	{ key: "firingOrder", of: "car", label: "Firing order", kind: "text", ...firing },
	{
		key: "crankRotation",
		of: "car",
		label: "Crank turns, seen from the pulley",
		kind: "choice",
		options: ["clockwise", "anticlockwise"],
	},
	{
		key: "pulleyDiameter",
		of: "car",
		label: "Diameter where the marks are",
		kind: "number",
		units: ["mm", "in"],
		check: checks.pulleyDiameter,
	},
	{
		key: "markMeaning",
		of: "car",
		label: "What the timing mark means",
		kind: "text",
		note: "TDC, the static figure, or one of several notches? Proved or only believed?",
	},
	{ key: "fuel", of: "car", label: "Fuel octane", kind: "number", units: ["RON", "AKI"], check: checks.fuel },
	{
		key: "altitude",
		of: "car",
		label: "Height above the sea where it is used",
		kind: "number",
		units: ["m", "ft"],
		check: checks.altitude,
	},
	{ key: "modifications", of: "car", label: "What is not standard", kind: "long" },
];

/** @returns {GrouplessField[]} */
const electrics = () => [
	{ key: "voltage", of: "car", label: "System voltage", kind: "choice", options: ["6", "12"], units: ["V"] },
	{
		key: "earth",
		of: "car",
		label: "Battery terminal to earth",
		kind: "choice",
		options: ["positive", "negative"],
	},
	{ key: "charging", of: "car", label: "Charged by", kind: "choice", options: ["dynamo", "alternator"] },
	{
		key: "trigger",
		of: "car",
		label: "Electronic trigger instead of points",
		kind: "choice",
		options: ["none", "inside the cap", "separate box"],
	},
	{
		key: "coilOhm",
		of: "car",
		label: "Coil, primary resistance",
		kind: "number",
		units: ["ohm"],
		check: checks.coilOhm,
	},
	{ key: "ballast", of: "car", label: "Ballast", kind: "choice", options: ["none", "block", "resistance wire"] },
	{
		key: "ballastOhm",
		of: "car",
		label: "Ballast resistance",
		kind: "number",
		units: ["ohm"],
		check: checks.ballastOhm,
	},
	{ key: "condenser", of: "car", label: "Condenser", kind: "number", units: ["µF"], check: checks.condenser },
	{
		key: "plugGap",
		of: "car",
		label: "Plug gap",
		kind: "number",
		units: ["in", "thou", "mm"],
		check: checks.plugGap,
	},
	{
		key: "feedVoltage",
		of: "car",
		label: "Voltage at the coil feed, points closed",
		kind: "number",
		units: ["V"],
		check: checks.feedVoltage,
	},
];

/** @returns {GrouplessField[]} */
const distributor = () => [
	{
		key: "rotation",
		of: "distributor",
		label: "Turns, seen from the cap end",
		kind: "choice",
		options: ["clockwise", "anticlockwise"],
	},
	{ key: "pointsKind", of: "distributor", label: "Points", kind: "choice", options: ["single", "twin"] },
	{
		key: "drive",
		of: "distributor",
		label: "Drive",
		kind: "choice",
		options: ["skew gear", "offset dog", "slot and tongue"],
	},
	{
		key: "limitPlate",
		of: "distributor",
		label: "Number on the stop’s plate",
		kind: "number",
		units: ["distributor degrees"],
		check: checks.limitPlate,
	},
	{
		key: "stopsAtHand",
		of: "distributor",
		label: "Stops at hand, as stamped",
		kind: "text",
		note: "Distributor degrees, such as 9 11 13.",
		check: checks.stops,
	},
	{
		key: "primariesAtHand",
		of: "distributor",
		label: "Primary springs at hand",
		kind: "text",
		note: "Each against the one in it, by its stretch under one weight: 1.2 is a fifth stiffer.",
		check: checks.springs,
	},
	{
		key: "secondariesAtHand",
		of: "distributor",
		label: "Secondary springs at hand",
		kind: "text",
		note: "Each against the one in it.",
		check: checks.springs,
	},
	{ key: "capsuleCode", of: "distributor", label: "Vacuum capsule code", kind: "text", check: checks.capsuleCode },
	{
		key: "vacuumPort",
		of: "distributor",
		label: "Vacuum pipe goes to",
		kind: "choice",
		options: ["ported", "manifold", "venturi", "nowhere"],
	},
];

/** @returns {GrouplessField[]} */
const settings = () => [
	{
		key: "gap",
		of: "distributor",
		label: "Points gap",
		kind: "text",
		units: ["in", "thou", "mm"],
		check: checks.gap,
	},
	{
		key: "dwell",
		of: "distributor",
		label: "Dwell",
		kind: "text",
		units: ["distributor degrees", "%"],
		check: checks.dwell,
	},
	{
		key: "staticTiming",
		of: "car",
		label: "Static timing, engine stopped",
		kind: "number",
		units: ["before TDC", "after TDC"],
		check: checks.staticTiming,
	},
	{
		key: "strobeTiming",
		of: "car",
		label: "Strobe figure at idle",
		kind: "number",
		units: ["before TDC", "after TDC"],
		check: checks.strobeTiming,
	},
	{
		key: "strobeSpeed",
		of: "car",
		label: "Speed for the strobe figure",
		kind: "number",
		units: ["engine rpm"],
		check: checks.idleSpeed,
	},
	{
		key: "strobeVacuum",
		of: "car",
		label: "Vacuum pipe for the strobe figure",
		kind: "choice",
		options: ["off and plugged", "connected"],
	},
	{
		key: "idleSpeed",
		of: "car",
		label: "Idle speed",
		kind: "number",
		units: ["engine rpm"],
		check: checks.idleSpeed,
	},
];

/** @returns {GrouplessField[]} */
const condition = () => [
	{
		key: "compression",
		of: "car",
		label: "Compressions, cylinder by cylinder",
		kind: "text",
		units: ["psi", "bar"],
		check: checks.compression,
	},
	{
		key: "idleVacuum",
		of: "car",
		label: "Manifold vacuum at warm idle",
		kind: "number",
		units: ["inHg", "mmHg", "kPa"],
		check: checks.idleVacuum,
	},
	{
		key: "dwellIdle",
		of: "distributor",
		label: "Dwell at idle",
		kind: "number",
		units: ["distributor degrees", "%"],
		check: checks.dwell,
	},
	{
		key: "dwellFast",
		of: "distributor",
		label: "Dwell at a faster speed",
		kind: "number",
		units: ["distributor degrees", "%"],
		check: checks.dwell,
	},
	{
		key: "scatter",
		of: "distributor",
		label: "Scatter between cylinders",
		kind: "number",
		units: ["distributor degrees"],
		check: checks.scatter,
	},
	{
		key: "sidePlay",
		of: "distributor",
		label: "Side play of the shaft",
		kind: "number",
		units: ["in", "thou", "mm"],
		check: checks.sidePlay,
	},
	{ key: "capsuleCheck", of: "distributor", label: "Vacuum capsule, as tested", kind: "text" },
];
