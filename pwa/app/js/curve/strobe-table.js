// What the strobe should say, in numerals that are read at arm's length.

import { allowed, namedEdges } from "../record/book-band.js";
import { num, rpm } from "../kit/format.js";
import { h } from "../kit/dom.js";
import { bandWords } from "../kit/plate/stops.js";
import { firstCapital, inEnglish } from "../kit/words.js";

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
	const { least, most } = allowed(band);
	const range = rangeWords(least, most);
	const reads = `${range}${range.includes("after") ? "" : "°"} at ${rpm(band.engineRPM)} engine rpm`;
	if (base === undefined) return `Your engine should read ${reads}, before TDC.`;
	if (advance && allowed(advance).most < 0.05)
		return `At ${rpm(band.engineRPM)} the weights still rest: your ${still(base)} static should read ${still(base)}.`;
	return `With ${still(base)} static it should read ${reads}.`;
}

/** Below its first speed the book has no figure to give. @param {number | undefined} base @param {BandAnswer} band */
function silentSentence(base, band) {
	const silent = `There is no figure in the book at ${rpm(band.engineRPM)}: its table begins higher.`;
	const { least, most } = allowed(band);
	if (base === undefined)
		return `${silent} More than ${rangeWords(most, most).split(" to ")[0]} before TDC would be too early.`;
	return `${silent} With your ${still(base)} static anything from ${rangeWords(least, most)} can be right.`;
}

/** The base as the book prints it. @param {number} base */
const still = (base) => `${num(Math.abs(base), Number.isInteger(base) ? 0 : 1)}°${base < 0 ? " after" : ""}`;

/**
 * idleAdvance says how much of an idle reading is advance, or "" when none is.
 * The advance is the table's alone: a tolerance of the base is none.
 * @param {number | undefined} base @param {BandAnswer} band @param {BandAnswer | undefined} advance as for idleSentence
 */
export function idleAdvance(base, band, advance) {
	if (base === undefined) return "";
	if (band.silent) return "The book does not say how much of it is advance. Static timing shows the base alone.";
	const alone = advance && allowed(advance);
	if (!alone || alone.most < 0.05) return "";
	const least = num(Math.max(0, alone.least));
	const words = `${Number(least) ? `${least} to` : "Up to"} ${num(alone.most)} of it comes from the weights.`;
	if (allowed(band).least - base < 0.05) return words; // the static figure itself may be read here
	return `${words} A reading of ${still(base)} at idle would mean that the base is late.`;
}

/**
 * strobeTable shows at each speed what a sound distributor through the book's
 * rows can show, large, and beneath it what the book itself prints there.
 * @param {readonly BandAnswer[]} bands @param {number | null} idle engine rpm
 * @param {{spec: Spec, rows: readonly number[]}} book its own speeds, engine rpm
 * @returns {HTMLElement}
 */
export function strobeTable(bands, idle, book) {
	return h(
		"table",
		{ class: "strobe-table" },
		h(
			"caption",
			null,
			"Total crank degrees before TDC. Vacuum pipe off, its end plugged.",
			h(
				"span",
				{ class: "range-words" },
				"What a sound distributor through the book’s rows can show. Readings are judged by it.",
			),
		),
		h(
			"thead",
			null,
			h(
				"tr",
				null,
				h("th", { scope: "col" }, "engine rpm"),
				h("th", { scope: "col" }, inEnglish("strobe should read")),
			),
		),
		h(
			"tbody",
			null,
			bands.map((band) =>
				h(
					"tr",
					null,
					h(
						"th",
						{ scope: "row" },
						h("span", { class: "figures" }, rpm(band.engineRPM)),
						band.engineRPM === idle ? h("span", { class: "note" }, "your idle") : null,
					),
					h("td", null, h("span", { class: "strobe-figure figures" }, figures(band)), noteOf(band, book)),
				),
			),
		),
	);
}

/**
 * What the book itself says at a speed, where that is not the large figure.
 * @param {BandAnswer} band
 * @param {{spec: Spec, rows: readonly number[]}} book
 */
function noteOf(band, { spec, rows }) {
	const words = bookWords(
		band,
		rows.some((own) => Math.abs(own - band.engineRPM) < 0.01) ? namedEdges(spec, band) : null,
	);
	return words ? h("span", { class: "note" }, words) : null;
}

/**
 * @param {BandAnswer} band
 * @param {{minCrankDeg: number | null, maxCrankDeg: number | null} | null} row the book's own, at this speed
 */
function bookWords(band, row) {
	if (row)
		return row.minCrankDeg === null || row.maxCrankDeg === null
			? `The book’s row: ${bandWords(row.minCrankDeg, row.maxCrankDeg)}.`
			: "The book’s row.";
	if (band.silent) return "No figure in the book: this much is possible.";
	if (band.held) return band.note ? sentence(band.note) : "Outside the book’s table.";
	const { least, most } = allowed(band);
	const isLine = Math.abs(least - band.minCrankDeg) < 0.05 && Math.abs(most - band.maxCrankDeg) < 0.05;
	return isLine ? "" : `Straight line: ${rangeWords(band.minCrankDeg, band.maxCrankDeg)}.`;
}

/** Numerals large, the words between them small. @param {BandAnswer} band */
function figures(band) {
	const { least, most } = allowed(band);
	return rangeWords(least, most)
		.split(" ")
		.map((word) => (/\d/.test(word) ? h("span", null, word) : h("small", null, ` ${word} `)));
}

/** @param {string} text */
function sentence(text) {
	return `${firstCapital(text)}.`;
}
