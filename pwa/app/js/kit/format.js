// Numbers as they are shown, and numbers as they are typed.

import { inEnglish } from "./words.js";

const minus = "\u2212";
const thinSpace = "\u202f"; // narrow and unbreakable
const vulgar = { "¼": 0.25, "½": 0.5, "¾": 0.75 };

/**
 * num writes a finite number with a fixed count of decimals and a true minus
 * sign; anything else becomes a dash, so that "NaN" is never shown.
 * @param {number | null | undefined} x
 * @param {number} [digits]
 */
export function num(x, digits = 1) {
	if (typeof x !== "number" || !Number.isFinite(x)) return "–";
	const text = Math.abs(x).toFixed(digits);
	return x < 0 && Number(text) !== 0 ? minus + text : text;
}

/**
 * signed is num with a plus sign on positive numbers.
 * @param {number | null | undefined} x
 * @param {number} [digits]
 */
export function signed(x, digits = 1) {
	const text = num(x, digits);
	return typeof x === "number" && x > 0 && Number(text) !== 0 ? "+" + text : text;
}

/**
 * btdc writes a crank angle (positive before TDC) with its side spelled out.
 * @param {number | null | undefined} x crank degrees
 * @param {number} [digits]
 */
export function btdc(x, digits = 1) {
	if (typeof x !== "number" || !Number.isFinite(x)) return "–";
	const text = Math.abs(x).toFixed(digits);
	if (Number(text) === 0) return `${text}° at TDC`;
	return `${text}° ${x > 0 ? "before" : "after"} TDC`;
}

/**
 * rpm writes a speed to the nearest turn. Thousands are set apart by a thin space from five digits on, as
 * calculations write them: four stand together, as on a tachometer and in the book (SI brochure 5.4.4 allows it).
 * @param {number | null | undefined} x turns per minute
 */
export function rpm(x) {
	if (typeof x !== "number" || !Number.isFinite(x)) return "–";
	const text = num(Math.round(x), 0);
	return Math.abs(x) < 9999.5 ? text : text.replace(/\B(?=(\d{3})+(?!\d))/g, thinSpace);
}

/**
 * parse reads a number as people type it: 7.5, 7,5, 7½, 7 1/2, −4, .5.
 * Anything else, an empty field or a number that is not finite gives null.
 * @param {unknown} text
 * @returns {number | null}
 */
export function parse(text) {
	let rest = String(text ?? "")
		.replace(/[\s\u202f]+/g, " ")
		.replace(/[−–]/g, "-")
		.trim();
	if (rest === "" || rest.length > 24) return null;
	let sign = 1;
	if (/^[+-]/.test(rest)) {
		sign = rest[0] === "-" ? -1 : 1;
		rest = rest.slice(1).trim();
	}
	const size = unsigned(rest);
	return size === null ? null : sign * size + 0;
}

/**
 * parseSpeed is parse for a speed, where a comma or a space before exactly
 * three digits separates thousands: 1,500 and 1 500 are both 1500.
 * @param {unknown} text
 * @returns {number | null}
 */
export function parseSpeed(text) {
	return parse(
		String(text ?? "")
			.trim()
			.replace(/^(\d{1,2})[ ,\u202f](\d{3})$/, "$1$2"),
	);
}

/** @param {string} text @returns {number | null} */
function unsigned(text) {
	if (/^(\d+([.,]\d*)?|[.,]\d+)$/.test(text)) return Number(text.replace(",", "."));
	const sign = text.slice(-1);
	if (sign in vulgar && /^\d*$/.test(text.slice(0, -1).trim())) {
		return Number(text.slice(0, -1).trim() || 0) + vulgar[/** @type {keyof typeof vulgar} */ (sign)];
	}
	const parts = /^(?:(\d+) )?(\d+) ?\/ ?(\d+)$/.exec(text);
	if (!parts || Number(parts[3]) === 0) return null;
	return Number(parts[1] ?? 0) + Number(parts[2]) / Number(parts[3]);
}

/**
 * short writes a number with at most two decimals and no idle zeros.
 * @param {number | null | undefined} x
 */
export function short(x) {
	if (typeof x !== "number" || !Number.isFinite(x)) return "–";
	return num(x, 2).replace(/\.?0+$/, "");
}

const months = "January February March April May June July August September October November December".split(" ");

/**
 * dateWords writes a day as it is shown everywhere: "18 May 2024", "May 18, 2024" in America. Anything else stays.
 * @param {string} date "YYYY-MM-DD", or an instant that begins so
 */
export function dateWords(date) {
	const [, year, month, day] = /^(\d{4})-(\d{2})-(\d{2})/.exec(date) ?? [];
	const name = months[Number(month) - 1];
	return name ? inEnglish(`${Number(day)} ${name} ${year}`) : date;
}

/**
 * asWritten sorts instants and days as they are written; the rules of a language are not needed, and are slow to come.
 * @param {string} a @param {string} b
 */
export const asWritten = (a, b) => (a < b ? -1 : a > b ? 1 : 0);

/** hasWords says whether every word that is sought stands in a text. @param {string} text @param {string} sought */
export function hasWords(text, sought) {
	const small = text.toLowerCase();
	return sought
		.toLowerCase()
		.split(/\s+/)
		.every((word) => small.includes(word));
}
