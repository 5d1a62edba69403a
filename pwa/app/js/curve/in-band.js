// How many readings or speeds are in the band. "In the band" means the same on
// every page: inside what the book's rows allow (pass), or outside by no more than
// the reading error (watch).

import { num } from "../kit/format.js";
import { outside } from "../kit/plate/band.js";

/** Half of a tenth, crank degrees: no figure on the screen is finer. */
const finest = 0.05;

/**
 * standingOf judges a figure as the calculation judges a reading.
 * @param {number} crankDeg
 * @param {{minCrankDeg?: number | null, maxCrankDeg?: number | null}} band
 * @param {number} error of reading, crank degrees
 * @returns {"pass" | "watch" | "fail"}
 */
export function standingOf(crankDeg, band, error) {
	const off = Math.abs(outside(band, crankDeg));
	if (off < finest) return "pass";
	return off < error + finest ? "watch" : "fail";
}

/** @param {InBand} counted */
const inOf = (counted) =>
	`${counted.inside + counted.withinError} of ${counted.inside + counted.withinError + counted.outside}`;

/**
 * readingsInBand says how many readings are in the band, as read and with the
 * base taken off: "6 of 9 as read; 8 of 9 once 2.0° of base is taken off".
 * @param {InBandCounts} counts
 */
export function readingsInBand({ asRead, baseOff, baseOffCrankDeg }) {
	const plain = `${inOf(asRead)} as read`;
	if (!baseOff || baseOffCrankDeg === null) return plain;
	return `${plain}; ${inOf(baseOff)} once ${num(Math.abs(baseOffCrankDeg))}° of base is ${baseOffCrankDeg > 0 ? "taken off" : "put back on"}`;
}

/** The rule in one line. @param {number | undefined} error crank degrees */
export const inBandRule = (error) =>
	`In the band: inside what a sound distributor through the book’s rows can show, or outside by no more than the reading error${error ? ` of ${num(error)}° crank` : ""} (watch).`;
