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
 * @param {BandAnswer | undefined} advance the table's own advance at idle, without base and its tolerance
 */
export function idleSentence(base, band, advance) {
	if (band.silent) return silentSentence(base, band);
	const reads = `${rangeWords(band.minCrankDeg, band.maxCrankDeg)} at ${rpm(band.engineRPM)}`;
	if (base === undefined) return `Your engine should read ${reads}, before TDC.`;
	if (advance && advance.maxCrankDeg < 0.05) return `At ${rpm(band.engineRPM)} the weights still rest: your ${still(base)} static should read ${still(base)}.`;
	return `Your ${still(base)} static should read ${reads}.`;
}

/** Below its first speed the book has no figure to give. @param {number | undefined} base @param {BandAnswer} band */
function silentSentence(base, band) {
	const silent = `The book is silent at ${rpm(band.engineRPM)}: its table begins higher.`;
	if (base === undefined || band.leastCrankDeg === undefined) return `${silent} More than ${rangeWords(band.maxCrankDeg, band.maxCrankDeg).split(" to ")[0]} before TDC would be too early.`;
	return `${silent} With your ${still(base)} static anything from ${rangeWords(band.leastCrankDeg, band.maxCrankDeg)} can be right.`;
}

/** The base as the book prints it. @param {number} base */
const still = (base) => `${num(Math.abs(base), Number.isInteger(base) ? 0 : 1)}${base < 0 ? " after" : ""}`;

/**
 * idleAdvance says how much of an idle reading is advance, or "" when none is.
 * The advance is the table's alone: a tolerance of the base is none.
 * @param {number | undefined} base @param {BandAnswer} band @param {BandAnswer | undefined} advance as for idleSentence
 */
export function idleAdvance(base, band, advance) {
	if (base === undefined) return "";
	if (band.silent) return "How much of it is advance, the book does not say. Static timing tells the base alone.";
	if (!advance || advance.maxCrankDeg < 0.05) return "";
	const words = `${num(Math.max(0, advance.minCrankDeg))} to ${num(advance.maxCrankDeg)} of it is advance already.`;
	if (band.minCrankDeg - base < 0.05) return words; // with the base's tolerance the static figure itself may be read here
	return `${words} A reading of ${still(base)} at idle would mean that the base is late.`;
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
			h("td", null, h("span", { class: "strobe-figure figures" }, figures(band)), band.silent ? h("span", { class: "note" }, silentNote(band)) : band.held ? h("span", { class: "note" }, band.note ? sentence(band.note) : "The end value is held.") : null)))));
}

/** @param {BandAnswer} band */
const silentNote = (band) => (band.leastCrankDeg === undefined ? "Book silent: at most this is possible." : "Book silent: this much is possible.");

/** Numerals large, the words between them small. @param {BandAnswer} band */
function figures(band) {
	const least = band.silent ? band.leastCrankDeg : band.minCrankDeg;
	if (least === undefined) return h("span", null, num(band.maxCrankDeg));
	return rangeWords(least, band.maxCrankDeg).split(" ").map((word) => (/\d/.test(word) ? h("span", null, word) : h("small", null, ` ${word} `)));
}

/** @param {string} text */
function sentence(text) {
	return `${text.charAt(0).toUpperCase()}${text.slice(1)}.`;
}
