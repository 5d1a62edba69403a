// A curve that was accepted, as a table of the garage; and the book again.

import { garage } from "../kept/garage.js";

/** Numbers as they would be typed: no more digits than mean something. @param {number | undefined | null} value */
const typed = (value) => (value === undefined || value === null ? "" : String(Number(value.toFixed(1))));

/** sheetOf makes the table. @param {Spec} spec @returns {Sheet} */
export const sheetOf = (spec) => ({
	angleUnit: /** @type {Sheet["angleUnit"]} */ (spec.angleUnit),
	speedUnit: /** @type {Sheet["speedUnit"]} */ (spec.speedUnit),
	base: /** @type {Sheet["base"]} */ (spec.base),
	baseCrankDeg: typed(Math.abs(spec.baseCrankDeg ?? 0)),
	baseSide: (spec.baseCrankDeg ?? 0) < 0 ? "after" : "before",
	baseToleranceCrankDeg: typed(spec.baseToleranceCrankDeg),
	noAdvanceBelow: typed(spec.noAdvanceBelowRPM),
	driveRatio: typed(spec.driveRatio),
	listedWhile: "either",
	limitDistDeg: typed(spec.limitDistDeg),
	rows: spec.points.map(({ rpm, minDeg, maxDeg }) => ({ rpm: typed(rpm), min: typed(minDeg), max: typed(maxDeg) })),
});

/** takeCurve makes a curve the car's own. @param {string} carId @param {Spec} spec @param {string} basis */
export const takeCurve = (carId, spec, basis) =>
	garage.update("car", carId, (body) => {
		body.chosen = { sheet: sheetOf(spec), at: new Date().toISOString(), basis: basis.slice(0, 400) };
	});

/** useBook puts the chosen curve aside, or takes it up again. @param {string} carId @param {boolean} isOff */
export const useBook = (carId, isOff) =>
	garage.update("car", carId, (body) => {
		if (!body.chosen) return;
		if (isOff) body.chosen.off = true;
		else delete body.chosen.off;
	});
