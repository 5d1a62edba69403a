// Units of the trade that say the same thing in different measures. What was
// typed stays as typed; the other measures stand beside it.

import { parse, short } from "./format.js";

/** Scales by kind: how much of the first-named unit one of each is. @type {{[unit: string]: number}[]} */
const kinds = [
	{ mm: 1, in: 25.4, thou: 0.0254 }, // exact
	{ kPa: 1, inHg: 3.386389, mmHg: 0.1333224 }, // conventional mercury, 0 °C
	{ oz: 1, g: 0.03527396 }, // avoirdupois
	{ m: 1, ft: 0.3048 }, // exact
	{ km: 1, miles: 1.609344 }, // exact
	{ "°C": 1, "°F": 1 / 1.8 }, // exact, with the zeros below
];

/** Where the zero of a unit lies on its own scale. @type {{[unit: string]: number}} */
const zeros = { "°F": 32 };

/** unitsLike lists the units a figure in this one may be typed in, itself first. @param {string} unit */
export function unitsLike(unit) {
	const kind = kinds.find((one) => unit in one);
	return kind ? [unit, ...Object.keys(kind).filter((other) => other !== unit)] : [unit];
}

/**
 * convert takes a figure into another unit of the same kind; null where the
 * two are not of one kind.
 * @param {number} x @param {string} from @param {string} to
 * @returns {number | null}
 */
export function convert(x, from, to) {
	if (from === to) return x;
	const kind = kinds.find((one) => from in one && to in one);
	return kind ? ((x - (zeros[from] ?? 0)) * kind[from]) / kind[to] + (zeros[to] ?? 0) : null;
}

/**
 * figureIn reads what was typed in one unit as a figure in another; null
 * where it cannot be read.
 * @param {{value: string, unit: string} | undefined} fact @param {string} unit
 * @returns {number | null}
 */
export function figureIn(fact, unit) {
	const x = parse(fact?.value);
	return x === null || !fact ? null : convert(x, fact.unit, unit);
}

/**
 * alsoIn writes a typed figure in the other units of its kind: "0.38 mm,
 * 0.015 in"; empty where there is nothing to say.
 * @param {string} value @param {string} unit
 */
export function alsoIn(value, unit) {
	const x = parse(value);
	if (x === null) return "";
	const isLong = (convert(x, unit, "mm") ?? 0) >= 5; // chosen: no feeler is that thick, and nobody says 5118 thou
	return unitsLike(unit)
		.slice(1)
		.filter((other) => !(isLong && other === "thou"))
		.map((other) => `${digits(/** @type {number} */ (convert(x, unit, other)), other)} ${other}`)
		.join(", ");
}

/** @param {number} x @param {string} unit */
function digits(x, unit) {
	const places = { in: x >= 1 ? 3 : 4, thou: 1, mm: 3, inHg: 1, mmHg: 0, kPa: 1, oz: 1, g: 0, "°C": 0, "°F": 0 }[
		unit
	];
	return places === undefined ? short(x) : String(Number(x.toFixed(places)));
}

/**
 * @typedef {{min: number, max: number, taken: string}} Range taken says what was added where the book has one figure
 *   only
 */

/**
 * rangeIn reads a range as books print it, "0.014-0.016", "60 ±3" or
 * "57 to 63", and takes it into a unit. One figure alone gets the tolerance
 * given, and says so.
 * @param {string} text
 * @param {(x: number) => number | null} into
 * @param {number} tolerance in the unit it is taken into
 * @param {string} toleranceWords
 * @returns {Range | null}
 */
export function rangeIn(text, into, tolerance, toleranceWords) {
	const ends = endsOf(text);
	const [a, b] = ends?.map(into) ?? [null, null];
	if (!ends || a === null || b === null) return null;
	if (ends[0] !== ends[1]) return { min: Math.min(a, b), max: Math.max(a, b), taken: "" };
	return { min: a - tolerance, max: a + tolerance, taken: toleranceWords };
}

/** @param {string} text @returns {[number, number] | null} */
function endsOf(text) {
	const plain = text.replace(/[−–—]/g, "-").trim();
	const around = plain.split(/±|\+\s*\/\s*-/);
	if (around.length === 2) {
		const [middle, most] = [parse(around[0]), parse(around[1])];
		return middle === null || most === null ? null : [middle - most, middle + most];
	}
	const ends = plain
		.split(/\s+to\s+|\s*-\s*|\s*\.\.\.?\s*/)
		.filter(Boolean)
		.map(parse);
	if (ends.length > 2 || ends.length === 0 || ends.some((end) => end === null)) return null;
	const [low, high = low] = /** @type {number[]} */ (ends);
	return [low, high];
}
