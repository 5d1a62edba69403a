// The timing marks of one car: the rim, the ring gear, the piston, and where
// zero truly is; each figure as it was typed, read as the calculation wants it.

import { parse } from "../kit/format.js";
import { figureIn } from "../kit/units.js";
import { ask } from "../engine/ask.js";

/** Crank degrees in the tables. Chosen: what is painted on a rim. */
export const tableDegrees = [2, 5, 8, 10, 15, 20, 25, 30, 35, 40, 90, 120, 180];
const pistonDegrees = [2, 4, 6, 8, 10, 12, 15, 20, 25, 30];

/** @param {Facts} facts of the car @returns {number | null} mm */
export function rimOf(facts) {
	const mm = figureIn(
		facts.pulleyDiameter?.unit
			? facts.pulleyDiameter
			: facts.pulleyDiameter && { ...facts.pulleyDiameter, unit: "mm" },
		"mm",
	);
	return mm !== null && mm >= 20 && mm <= 2000 ? mm : null;
}

/**
 * @param {number} diameterMm
 * @returns {Promise<{crankDeg: number, arcMm: number, chordMm: number, mmPerDeg: number}[]>}
 */
export const arcTable = (diameterMm) =>
	Promise.all(tableDegrees.map((crankDeg) => ask("marks.arc", { diameterMm, crankDeg })));

/** @param {number} ringTeeth @returns {Promise<{crankDeg: number, teeth: number, degPerTooth: number}[]>} */
export const teethTable = (ringTeeth) =>
	Promise.all([2, 5, 8, 10, 15, 20, 30].map((crankDeg) => ask("marks.teeth", { ringTeeth, crankDeg })));

/** @param {number} strokeMm @param {number} rodMm @returns {Promise<{crankDeg: number, travelMm: number}[]>} */
export const pistonTable = (strokeMm, rodMm) =>
	Promise.all(pistonDegrees.map((crankDeg) => ask("marks.piston", { strokeMm, rodMm, crankDeg })));

/**
 * tapeInput makes what marks.tape takes. The printable length is what A4 and
 * Letter both have inside the margins of the page.
 * @param {Facts} facts of the car
 * @param {{before: string, after: string, step: string, carrier: string, thickness: string, length?: number}} wish
 * @returns {{input: object | null, missing: string}}
 */
export function tapeInput(facts, wish) {
	const diameterMm = rimOf(facts);
	const crankRotation = facts.crankRotation?.value ?? "";
	if (diameterMm === null) return { input: null, missing: "The diameter where the tape goes is not entered." };
	if (crankRotation !== "clockwise" && crankRotation !== "anticlockwise")
		return { input: null, missing: "Which way the crank turns, seen from the pulley, is not entered." };
	const [before, after, step, thickness] = [
		parse(wish.before),
		parse(wish.after),
		parse(wish.step),
		parse(wish.thickness),
	];
	if (before === null || after === null)
		return { input: null, missing: "How far the scale goes is not a number. Type degrees before and after TDC." };
	return {
		input: {
			diameterMm,
			crankRotation,
			carrier: wish.carrier || "pulley",
			beforeCrankDeg: before,
			afterCrankDeg: after,
			stepCrankDeg: step || 1,
			pageLengthMm: sheetMm.strip,
			overlapMm: 10,
			endMm: 6,
			...(thickness ? { tapeThicknessMm: thickness } : {}),
		},
		missing: "",
	};
}

/**
 * One sheet of the tape, in mm. Whole CSS pixels both ways (672 × 192), as
 * only then a browser prints an SVG at true scale: 96 pixels are 25.4 mm.
 */
export const sheetMm = { width: 177.8, height: 50.8, strip: 170, left: 3.9 };
export const sheetPx = { width: 672, height: 192 };
