// The facts that are asked about a car and its distributor. Limits are those
// of ordinary entry checking (common practice): they ask, they do not forbid.

import { t } from "../lib/words.js";
import { withBook } from "./book-facts.js";
import { checks } from "./fact-checks.js";

/**
 * @typedef {{level: "ask" | "stop", problem: string, limit: string, do: string}} Doubt
 * @typedef {{key: string, of: "car" | "distributor", group: string, label: string, kind: "number" | "text" | "choice" | "long", units?: string[], options?: string[],
 *   note?: string, hasNoSource?: boolean, check?: (value: string, unit: string, facts: Facts) => Doubt | null}} FactField
 */

export const groups = ["The owner’s story", "Engine", "Electrics", "Distributor", "Settings by the book", "Condition, measured"];

/**
 * factFields lists what is asked, in the order of the page, in the English now chosen.
 * @returns {FactField[]}
 */
export function factFields() {
	return [...story(), ...engine(), ...electrics(), ...distributor(), ...settings(), ...condition()];
}

/**
 * factCount counts the facts with a value.
 * @param {Facts} car
 * @param {Facts} ofDistributor
 * @param {Partial<Sheet>} [sheet] the book's table, which holds two of them too
 */
export function factCount(car, ofDistributor, sheet) {
	const fields = factFields().filter((field) => !field.hasNoSource);
	const known = fields.filter((field) => (withBook(field.key, (field.of === "car" ? car : ofDistributor)[field.key], sheet)?.value ?? "").trim() !== "").length;
	return { known, asked: fields.length };
}

/** @returns {FactField[]} */
const story = () => [
	{ key: "story", of: "car", group: groups[0], label: "What it does, since when, after what was changed", kind: "long", hasNoSource: true },
];

/** @returns {FactField[]} */
const engine = () => [
	{ key: "year", of: "car", group: groups[1], label: "Year", kind: "text", check: checks.year },
	{ key: "layout", of: "car", group: groups[1], label: "Layout", kind: "choice", options: ["inline", "V", "flat"] },
	{ key: "cylinders", of: "car", group: groups[1], label: "Cylinders", kind: "number", check: checks.cylinders },
	{ key: "capacity", of: "car", group: groups[1], label: "Capacity", kind: "number", units: ["cc", "cu in"], check: checks.capacity },
	{ key: "chamber", of: "car", group: groups[1], label: "Combustion chamber", kind: "choice", options: ["side-valve", "bathtub", "wedge", "hemispherical", "pent-roof", "F-head"] },
	{ key: "compressionRatio", of: "car", group: groups[1], label: "Compression ratio", kind: "number", units: [": 1"], check: checks.compressionRatio },
	{ key: "firingOrder", of: "car", group: groups[1], label: "Firing order", kind: "text", check: checks.firingOrder },
	{ key: "crankRotation", of: "car", group: groups[1], label: "Crank turns, seen from the pulley", kind: "choice", options: ["clockwise", "anticlockwise"] },
	{ key: "pulleyDiameter", of: "car", group: groups[1], label: "Diameter where the marks are", kind: "number", units: ["mm", "in"], check: checks.pulleyDiameter },
	{ key: "markMeaning", of: "car", group: groups[1], label: "What the timing mark means", kind: "text", note: "Proved, or only believed? TDC, the static figure, one of several notches." },
	{ key: "fuel", of: "car", group: groups[1], label: "Fuel octane", kind: "number", units: ["RON", "AKI"], check: checks.fuel },
	{ key: "altitude", of: "car", group: groups[1], label: "Height above the sea where it lives", kind: "number", units: ["m", "ft"], check: checks.altitude },
	{ key: "modifications", of: "car", group: groups[1], label: "What is not standard", kind: "long" },
];

/** @returns {FactField[]} */
const electrics = () => [
	{ key: "voltage", of: "car", group: groups[2], label: "System voltage", kind: "choice", options: ["6", "12"], units: ["V"] },
	{ key: "earth", of: "car", group: groups[2], label: `Battery terminal to ${t("earth")}`, kind: "choice", options: ["positive", "negative"] },
	{ key: "charging", of: "car", group: groups[2], label: "Charged by", kind: "choice", options: ["dynamo", "alternator"] },
	{ key: "trigger", of: "car", group: groups[2], label: "Electronic trigger instead of points", kind: "choice", options: ["none", "inside the cap", "separate box"] },
	{ key: "coilOhm", of: "car", group: groups[2], label: "Coil, primary resistance", kind: "number", units: ["ohm"], check: checks.coilOhm },
	{ key: "ballast", of: "car", group: groups[2], label: "Ballast", kind: "choice", options: ["none", "block", "resistance wire"] },
	{ key: "ballastOhm", of: "car", group: groups[2], label: "Ballast resistance", kind: "number", units: ["ohm"], check: checks.ballastOhm },
	{ key: "condenser", of: "car", group: groups[2], label: "Condenser", kind: "number", units: ["µF"], check: checks.condenser },
	{ key: "plugGap", of: "car", group: groups[2], label: "Plug gap", kind: "number", units: ["in", "thou", "mm"], check: checks.plugGap },
	{ key: "feedVoltage", of: "car", group: groups[2], label: "Voltage at the coil feed, points closed", kind: "number", units: ["V"], check: checks.feedVoltage },
];

/** @returns {FactField[]} */
const distributor = () => [
	{ key: "rotation", of: "distributor", group: groups[3], label: "Turns, seen from the cap end", kind: "choice", options: ["clockwise", "anticlockwise"] },
	{ key: "pointsKind", of: "distributor", group: groups[3], label: "Points", kind: "choice", options: ["single", "twin"] },
	{ key: "drive", of: "distributor", group: groups[3], label: "Drive", kind: "choice", options: [t("drive"), "offset dog", "slot and tongue"] },
	{ key: "limitPlate", of: "distributor", group: groups[3], label: "Number on the limit plate", kind: "number", units: ["distributor degrees"], check: checks.limitPlate },
	{ key: "capsuleCode", of: "distributor", group: groups[3], label: "Vacuum capsule code", kind: "text", check: checks.capsuleCode },
	{ key: "vacuumPort", of: "distributor", group: groups[3], label: "Vacuum pipe goes to", kind: "choice", options: ["ported", "manifold", "venturi", "nowhere"] },
];

/** @returns {FactField[]} */
const settings = () => [
	{ key: "gap", of: "distributor", group: groups[4], label: "Points gap", kind: "text", units: ["in", "thou", "mm"], check: checks.gap },
	{ key: "dwell", of: "distributor", group: groups[4], label: "Dwell", kind: "text", units: ["distributor degrees", "%"], check: checks.dwell },
	{ key: "staticTiming", of: "car", group: groups[4], label: `${t("staticTiming")[0].toUpperCase()}${t("staticTiming").slice(1)}, engine stopped`, kind: "number", units: ["before TDC", "after TDC"], check: checks.staticTiming },
	{ key: "strobeTiming", of: "car", group: groups[4], label: "Strobe figure at idle", kind: "number", units: ["before TDC", "after TDC"], check: checks.strobeTiming },
	{ key: "strobeSpeed", of: "car", group: groups[4], label: "Speed for the strobe figure", kind: "number", units: ["engine rpm"], check: checks.idleSpeed },
	{ key: "strobeVacuum", of: "car", group: groups[4], label: "Vacuum pipe for the strobe figure", kind: "choice", options: ["off and plugged", "connected"] },
	{ key: "idleSpeed", of: "car", group: groups[4], label: `${t("idle")[0].toUpperCase()}${t("idle").slice(1)} speed`, kind: "number", units: ["engine rpm"], check: checks.idleSpeed },
];

/** @returns {FactField[]} */
const condition = () => [
	{ key: "compression", of: "car", group: groups[5], label: "Compressions, cylinder by cylinder", kind: "text", units: ["psi", "bar"], check: checks.compression },
	{ key: "idleVacuum", of: "car", group: groups[5], label: "Manifold vacuum at warm idle", kind: "number", units: ["inHg", "mmHg", "kPa"], check: checks.idleVacuum },
	{ key: "dwellIdle", of: "distributor", group: groups[5], label: "Dwell at idle", kind: "number", units: ["distributor degrees", "%"], check: checks.dwell },
	{ key: "dwellFast", of: "distributor", group: groups[5], label: "Dwell at a faster speed", kind: "number", units: ["distributor degrees", "%"], check: checks.dwell },
	{ key: "scatter", of: "distributor", group: groups[5], label: "Scatter between cylinders", kind: "number", units: ["distributor degrees"], check: checks.scatter },
	{ key: "sidePlay", of: "distributor", group: groups[5], label: "Side play of the shaft", kind: "number", units: ["in", "thou", "mm"], check: checks.sidePlay },
	{ key: "capsuleCheck", of: "distributor", group: groups[5], label: "Vacuum capsule, as tested", kind: "text" },
];
