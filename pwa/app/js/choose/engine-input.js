// The engine as the calculations of timing and knock take it, and what of it is
// still asked. Nothing is guessed: compression, chamber and fuel have to be said.

import { inputs } from "../../made/shapes.js";
import { parse } from "../kit/format.js";
import { convert, figureIn } from "../kit/units.js";
import { isIn } from "../record/figure-limits.js";
import { cylindersOf, factText, idleOf } from "../record/known.js";
import { scatterJudgement } from "../scatter/scatter.js";
import { recordsOf } from "./listenings.js";

/** @typedef {import("../record/known.js").Given} Given */

/** What has to be known first, in the order it is asked. */
export const needed = ["compressionRatio", "chamber", "fuel", "capacity", "cylinders"];

/** What makes it better, and is not needed. */
export const better = ["cam", "idleVacuum", "idleSpeed", "altitude"];

const litre = 1000; // cc
const cubicInch = 16.387064; // cc, exact

/** missingOf lists the facts still asked. @param {Given} given @returns {string[]} */
export const missingOf = (given) =>
	needed.filter((key) =>
		key === "cylinders"
			? cylindersOf(given) === null
			: key === "chamber"
				? !chambers[factText(given, key)]
				: figureOf(given, key) === null || (key === "fuel" && !given.car.body.facts.fuel.unit),
	);

/**
 * The chambers as they are called among the facts. An F-head burns like a bathtub with its plug to one side
 * (judgement).
 * @type {{[fact: string]: string}}
 */
const chambers = {
	"side-valve": "side-valve",
	bathtub: "bathtub",
	wedge: "wedge",
	hemispherical: "hemispherical",
	"pent-roof": "pent-roof",
	"F-head": "bathtub",
};

/** @param {Given} given @param {string} key */
const figureOf = (given, key) => parse(factText(given, key));

/**
 * engineOf gives engine, fuel, air and records for every method of the room; null while something is asked.
 * @param {Given} given
 */
export function engineOf(given) {
	if (missingOf(given).length) return null;
	const facts = given.car.body.facts;
	const altitude = figureOf(given, "altitude");
	const cam = factText(given, "cam");
	return {
		engine: {
			displacementCc: displacementOf(given),
			cylinders: cylindersOf(given),
			compressionRatio: figureOf(given, "compressionRatio"),
			chamber: chambers[factText(given, "chamber")],
			...(cam ? { cam } : {}),
		},
		fuel: { octane: figureOf(given, "fuel"), scale: facts.fuel.unit },
		...(altitude === null ? {} : { air: { altitudeM: convert(altitude, facts.altitude?.unit || "m", "m") } }),
		records: recordsOf(given.car.id),
	};
}

/** @param {Given} given @returns {number | null} cc */
function displacementOf(given) {
	const [capacity, unit] = [figureOf(given, "capacity"), given.car.body.facts.capacity?.unit];
	if (capacity === null) return null;
	return unit === "cu in" ? capacity * cubicInch : !unit && capacity < 20 ? capacity * litre : capacity;
}

/**
 * engineKnown gives what is known of the engine as time.turn takes it: that leaves out what hangs on the rest.
 * @param {Given} given
 */
export function engineKnown(given) {
	const facts = given.car.body.facts;
	const altitude = figureOf(given, "altitude");
	const found = {
		strokeMm: figureIn(facts.stroke && { ...facts.stroke, unit: facts.stroke.unit || "mm" }, "mm"),
		displacementCc: displacementOf(given),
		compressionRatio: figureOf(given, "compressionRatio"),
		chamber: chambers[factText(given, "chamber")],
		cam: factText(given, "cam"),
	};
	const limits = inputs["time.turn"];
	const engine = Object.entries(found).filter(
		([key, value]) => value && (typeof value === "string" || isIn(value, limits[`engine.${key}`])),
	);
	return {
		engine: Object.fromEntries(engine),
		air: altitude === null ? null : { altitudeM: convert(altitude, facts.altitude?.unit || "m", "m") },
	};
}

/** idleAt gives idle speed and vacuum where they are known. @param {Given} given */
export function idleAt(given) {
	const [rpm, fact] = [idleOf(given), given.car.body.facts.idleVacuum];
	const vacuum = parse(fact?.value);
	const kPa = vacuum === null ? null : convert(vacuum, fact.unit || "inHg", "kPa");
	return {
		...(rpm !== null && rpm >= 400 && rpm <= 1500 ? { idleEngineRPM: rpm } : {}),
		...(kPa !== null && kPa >= 10 && kPa <= 85 ? { idleVacuumKPa: kPa } : {}),
	};
}

/**
 * earliestOf gives how far before No. 1, by which the engine is timed, the earliest cylinder fires.
 * @param {Given} given
 * @returns {Promise<{earliestCrankDeg?: number, earliestCylinder?: number}>}
 */
export async function earliestOf(given) {
	const earliest = (await scatterJudgement(given).catch(() => null))?.earliest;
	if (!earliest || !(earliest.crankDeg > 0)) return {};
	return {
		earliestCrankDeg: earliest.crankDeg,
		...(earliest.cylinder ? { earliestCylinder: earliest.cylinder } : {}),
	};
}
