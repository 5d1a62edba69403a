// What the strobe should say, in numerals that are read at arm's length.

import { num, rpm } from "../lib/format.js";
import { h } from "../lib/dom.js";

/**
 * rangeWords writes a band of totals: "8.7 to 12.0"; a side is said wherever
 * it is not plainly before TDC.
 * @param {number} min @param {number} max crank degrees before TDC
 */
export function rangeWords(min, max) {
	const low = side(min);
	const high = side(max);
	if (low.after && high.after) return `${high.size} to ${low.size} after`;
	if (low.after) return `${low.size} after to ${high.size} before`;
	return `${low.size} to ${high.size}`;
}

/** @param {number} crankDeg */
function side(crankDeg) {
	const size = num(Math.abs(crankDeg));
	return { size, after: crankDeg < 0 && Number(size) !== 0 };
}

/**
 * idleSentence says what the idle figure already holds.
 * @param {number | undefined} base the book's static figure, crank degrees before TDC
 * @param {BandAnswer} band at idle
 */
export function idleSentence(base, band) {
	const reads = `${rangeWords(band.minCrankDeg, band.maxCrankDeg)} at ${rpm(band.engineRPM)}`;
	if (base === undefined) return `Your engine should read ${reads}, before TDC.`;
	const still = `${num(Math.abs(base), Number.isInteger(base) ? 0 : 1)}${base < 0 ? " after" : ""}`;
	if (band.maxCrankDeg - base < 0.05) return `At ${rpm(band.engineRPM)} the weights still rest: your ${still} static should read ${still}.`;
	return `Your ${still} static should read ${reads}.`;
}

/**
 * idleAdvance says how much of an idle reading is advance, or "" when none is.
 * @param {number | undefined} base @param {BandAnswer} band
 */
export function idleAdvance(base, band) {
	if (base === undefined || band.maxCrankDeg - base < 0.05) return "";
	const least = Math.max(0, band.minCrankDeg - base);
	const advance = `${num(least)} to ${num(band.maxCrankDeg - base)} of it is advance already.`;
	if (least < 0.05) return advance;
	return `${advance} A reading of ${num(Math.abs(base), Number.isInteger(base) ? 0 : 1)} at idle would mean that the base is late.`;
}

/**
 * @param {readonly BandAnswer[]} bands @param {number | null} idle engine rpm
 * @returns {HTMLElement}
 */
export function strobeTable(bands, idle) {
	return h("table", { class: "strobe-table" },
		h("caption", null, "Total crank degrees before TDC. Vacuum pipe off, its end plugged."),
		h("thead", null, h("tr", null, h("th", { scope: "col" }, "engine rpm"), h("th", { scope: "col" }, "strobe should read"))),
		h("tbody", null, bands.map((band) => h("tr", null,
			h("th", { scope: "row" }, h("span", { class: "figures" }, rpm(band.engineRPM)), band.engineRPM === idle ? h("span", { class: "note" }, "your idle") : null),
			h("td", null, h("span", { class: "strobe-figure figures" }, figures(band)), band.held ? h("span", { class: "note" }, band.note ? sentence(band.note) : "The end value is held.") : null)))));
}

/** Numerals large, the words between them small. @param {BandAnswer} band */
function figures(band) {
	return rangeWords(band.minCrankDeg, band.maxCrankDeg).split(" ").map((word) => (/\d/.test(word) ? h("span", null, word) : h("small", null, ` ${word} `)));
}

/** @param {string} text */
function sentence(text) {
	return `${text.charAt(0).toUpperCase()}${text.slice(1)}.`;
}
