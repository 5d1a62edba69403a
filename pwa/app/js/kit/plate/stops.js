// What can be read on a figure, one stop at a time: every reading, and every
// drawn line at the band's own speeds. A stop is a place and a sentence.
import { num } from "../format.js";
import { outside, rowAt } from "./band.js";
import { lineAt } from "./trace.js";

/**
 * @typedef {import("./band.js").BandPoint} BandPoint
 *
 * @typedef {object} Stop
 * @property {string} key stays the same when the figure is drawn again
 * @property {number} engineRPM
 * @property {number} crankDeg
 * @property {string} what "rising, on the bench" or the name of a line
 * @property {number | null} minCrankDeg
 * @property {number | null} maxCrankDeg
 * @property {boolean} [isSilent] the book says nothing here: the band is what is possible
 * @property {string} standing "in band", "2.5 above the band" …
 * @property {string} sentence
 */

const DIRECTIONS = { rising: "rising", falling: "falling", static: "static, engine stopped" };
const PLACES = { bench: "on the bench", car: "on the car" };

/** @param {number} x degrees, to a tenth everywhere, so that a row does not read "9.6, 11.7, 17" */
export const deg = (x) => num(x);

/**
 * A value in words: "17.2 before TDC" for totals, "11.0 of advance" for a curve alone.
 * @param {number} crankDeg @param {"total" | "advance"} quantity
 */
export function degWords(crankDeg, quantity) {
	if (quantity === "advance") return `${deg(crankDeg)} of advance`;
	const tenth = Math.round(crankDeg * 10) / 10;
	if (tenth === 0) return "at TDC";
	return `${deg(Math.abs(tenth))} ${tenth > 0 ? "before" : "after"} TDC`;
}

/**
 * The book's figures in words: "17.0 to 21.0", "at most 4.0".
 * @param {number | null | undefined} min @param {number | null | undefined} max
 */
export function bandWords(min, max) {
	if (min != null && max != null) return `${deg(min)} to ${deg(max)}`;
	if (max != null) return `at most ${deg(max)}`;
	if (min != null) return `at least ${deg(min)}`;
	return "";
}

/** @param {{minCrankDeg?: number | null, maxCrankDeg?: number | null}} band where the book is silent */
export const possibleWords = (band) => `${bandWords(band.minCrankDeg, band.maxCrankDeg)} possible`;

/**
 * @param {number} crankDeg
 * @param {{minCrankDeg?: number | null, maxCrankDeg?: number | null}} band
 * @param {string} [verdict] the judge's word, which knows the reading error
 * @param {boolean} [isSilent] the book says nothing here, the band is what is possible
 */
export function standing(crankDeg, band, verdict, isSilent = false) {
	if (band.minCrankDeg == null && band.maxCrankDeg == null) return "no book figure";
	const off = outside(band, crankDeg);
	if (Math.abs(off) < 0.05) return isSilent ? "no figure in the book" : "in band";
	const words = `${deg(Math.abs(off))} ${off > 0 ? "above" : "below"} ${isSilent ? "what is possible" : "the band"}`;
	if (verdict === "pass") return `${words}, within the reading error`;
	if (verdict === "watch") return `${words}, watch`;
	return words;
}

/** @param {PlatePoint} point */
export function readingName(point) {
	const name = DIRECTIONS[point.direction] ?? point.direction;
	if (point.direction === "static") return name;
	const place = point.place ? PLACES[point.place] : "";
	return [name, place].filter(Boolean).join(", ");
}

/**
 * All stops of a figure, from low speed to high.
 * @param {PlateInput} input
 * @returns {Stop[]}
 */
export function stopsOf(input) {
	const quantity = input.axis.quantity;
	const stops = [
		...input.points.map((point, i) => readingStop(point, i, quantity)),
		...input.curves.flatMap((curve) => curveStops(curve, input)),
		...(input.points.length || input.curves.length ? [] : input.bands.flatMap((band) => bookStops(band))),
	];
	return stops.sort((a, b) => a.engineRPM - b.engineRPM || b.crankDeg - a.crankDeg);
}

/** @param {PlatePoint} point @param {number} i @param {"total" | "advance"} quantity @returns {Stop} */
function readingStop(point, i, quantity) {
	const what = readingName(point);
	const band = { minCrankDeg: point.minCrankDeg ?? null, maxCrankDeg: point.maxCrankDeg ?? null };
	const state = standing(point.crankDeg, band, point.verdict, point.isSilent);
	const speed = point.direction === "static" ? "" : `${Math.round(point.engineRPM)} engine rpm`;
	return {
		key: `reading ${i}`,
		engineRPM: point.engineRPM,
		crankDeg: point.crankDeg,
		what,
		...band,
		isSilent: point.isSilent,
		standing: state,
		sentence: point.isSilent
			? [speed, what, `measured ${degWords(point.crankDeg, quantity)}`, possibleWords(band), state]
					.filter(Boolean)
					.join(", ")
			: sentence(speed, what, `measured ${degWords(point.crankDeg, quantity)}`, band, state, "allowed"),
	};
}

/** @param {PlateCurve} curve @param {PlateInput} input @returns {Stop[]} */
function curveStops(curve, input) {
	const speeds = input.bands.length ? input.bands.map((b) => b.engineRPM) : curve.points.map((p) => p.engineRPM);
	return speeds.flatMap((engineRPM) => {
		const crankDeg = lineAt(curve.points, engineRPM);
		if (crankDeg == null) return [];
		const band = rowAt(input.bands, engineRPM) ?? { minCrankDeg: null, maxCrankDeg: null };
		const state = standing(crankDeg, band);
		return [
			{
				key: `${curve.kind} ${engineRPM}`,
				engineRPM,
				crankDeg,
				what: curve.name,
				minCrankDeg: band.minCrankDeg,
				maxCrankDeg: band.maxCrankDeg,
				standing: state,
				sentence: sentence(
					`${Math.round(engineRPM)} engine rpm`,
					curve.name,
					degWords(crankDeg, input.axis.quantity),
					band,
					state,
				),
			},
		];
	});
}

/** @param {BandPoint} band @returns {Stop[]} */
function bookStops(band) {
	const book = { minCrankDeg: band.minCrankDeg, maxCrankDeg: band.maxCrankDeg };
	return [
		{
			key: `book ${band.engineRPM}`,
			engineRPM: band.engineRPM,
			crankDeg: ((band.minCrankDeg ?? band.maxCrankDeg ?? 0) + (band.maxCrankDeg ?? band.minCrankDeg ?? 0)) / 2,
			what: "the book",
			...book,
			standing: "",
			sentence: `${Math.round(band.engineRPM)} engine rpm, book ${bandWords(band.minCrankDeg, band.maxCrankDeg)}`,
		},
	];
}

/**
 * @param {string} speed @param {string} what @param {string} value
 * @param {{minCrankDeg?: number | null, maxCrankDeg?: number | null}} band @param {string} state
 * @param {"book" | "allowed"} [whose] the book's own row, or what a sound distributor can show at the speed
 */
function sentence(speed, what, value, band, state, whose = "book") {
	const book = bandWords(band.minCrankDeg, band.maxCrankDeg);
	return [speed, what, value, book && `${whose} ${book}`, state].filter(Boolean).join(", ");
}

/**
 * The stop nearest to a tapped place; the whole figure is the target.
 * @param {readonly {x: number, y: number}[]} spots places of the stops, px
 * @param {number} x @param {number} y
 * @returns {number} index, -1 without stops
 */
export function nearest(spots, x, y) {
	let best = -1;
	let least = Infinity;
	spots.forEach((spot, i) => {
		const gap = Math.hypot(spot.x - x, spot.y - y);
		if (gap < least) [best, least] = [i, gap];
	});
	return best;
}

/**
 * The next index for a key, or null when the key is none of ours.
 * @param {string} key @param {number} index current, -1 for none @param {number} count
 */
export function keyStep(key, index, count) {
	if (!count) return null;
	switch (key) {
		case "ArrowRight":
		case "ArrowUp":
			return Math.min(count - 1, index + 1);
		case "ArrowLeft":
		case "ArrowDown":
			return Math.max(0, index - 1);
		case "Home":
			return 0;
		case "End":
			return count - 1;
		default:
			return null;
	}
}
