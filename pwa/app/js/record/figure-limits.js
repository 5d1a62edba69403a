// What a figure can be at all. Beyond these it cannot be used: a guided step
// refuses it, and what stands stored is left out and named. What is merely
// unusual is asked about elsewhere and never refused. The limits are those of
// the calculations, from the tags of their fields (made/shapes.js).

import { figures, inputs } from "../../made/shapes.js";
import { num, parse, parseSpeed, rpm, short } from "../kit/format.js";

/** @typedef {{problem: string, limit: string, do: string}} Found */

/** isIn tells whether the calculation takes a number. @param {number} x @param {FigureLimit} limit */
export const isIn = (x, { min, max, over, under }) =>
	!(x < (min ?? x) || x > (max ?? x) || x <= (over ?? -Infinity) || x >= (under ?? Infinity));

/** inWords says a limit. @param {FigureLimit} limit */
export function inWords({ min, max, over, under }) {
	const said = (/** @type {number} */ x) => (Math.abs(x) < 1000 ? short(x) : rpm(x));
	if (under !== undefined)
		return `${min === undefined ? `more than ${said(over ?? 0)}` : `${said(min)} or more`}, less than ${said(under)}`;
	return min === undefined
		? `more than ${said(over ?? 0)}, up to ${said(max ?? Infinity)}`
		: `${said(min)} to ${said(max ?? Infinity)}`;
}

/** eitherSide says a limit of degrees before TDC. @param {FigureLimit} limit */
export const eitherSide = ({ min = 0, max = 0 }) => `up to ${max}° before TDC, ${-min}° after`;

const again = "Read it again, and correct it. What you typed stays.";

/** @param {string} method @param {string} path the most it takes of that */
const most = (method, path) => /** @type {number} */ (inputs[method][path].max);

/**
 * Numbers by what they are told in; limits of the calculations that take them, the others chosen as what cannot be.
 * @type {{[unit: string]: {over?: number, least?: number, most: number, isWhole?: boolean}}}
 */
const numbers = {
	thou: { over: 0, most: Math.floor(most("points.judge", "gapMm") / 0.0254) },
	// one cylinder: the points may be closed nearly all the way round
	"distributor degrees": { over: 0, most: most("points.judge", "dwellDistDeg") },
	"crank degrees": { least: 0, most: 60 },
	teeth: { least: 5, most: most("cap.plan", "gearTeeth"), isWhole: true },
	RON: { least: 40, most: 130 },
	// the air itself weighs no more; 1 inHg in kPa: NIST SP 811
	inHg: { least: 0, most: Math.floor(most("vacuum.judge", "readings.kPa") / 3.386389) },
	"o’clock, 7.5 is half past seven": { over: 0, most: 12 },
};

/**
 * unusable says why an answer cannot be used, or null. An empty one is missing,
 * not unusable.
 * @param {Ask} ask @param {{[key: string]: string}} answers
 * @returns {Found | null}
 */
export function unusable({ key, kind, unit = "" }, answers) {
	const text = (answers[key] ?? "").trim();
	if (text === "" || kind === "choice" || kind === "text") return null;
	const value = kind === "speed" ? parseSpeed(text) : parse(text);
	if (value === null)
		return {
			problem: `“${text.slice(0, 24)}” cannot be read as a number`,
			limit: "digits and one point or comma",
			do: "Correct it. What you typed stays.",
		};
	if (kind === "speed") return beyond(value, text, { over: 0, most: figures["reading.rpm"].max ?? Infinity }, unit);
	if (kind === "timing") return beyondTiming(value, text, unit, answers[`${key}.side`] === "after");
	return numbers[unit] ? beyond(value, text, numbers[unit], unit) : null;
}

/**
 * @param {number} value
 * @param {string} text
 * @param {{over?: number, least?: number, most: number, isWhole?: boolean}} limit
 * @param {string} unit
 * @returns {Found | null}
 */
function beyond(value, text, { over, least, most, isWhole }, unit) {
	const isIn =
		value <= most &&
		(over === undefined || value > over) &&
		(least === undefined || value >= least) &&
		(!isWhole || Number.isInteger(value));
	if (isIn) return null;
	const said = over === undefined ? `${least} to ${most}` : `more than ${over}, up to ${most}`;
	return {
		problem: `${text} cannot be`,
		limit: `${said} ${unit.replace(/, .*/, "")}${isWhole ? ", a whole number" : ""}`,
		do: again,
	};
}

/** @param {number} size @param {string} text @param {string} unit @param {boolean} isAfter @returns {Found | null} */
function beyondTiming(size, text, unit, isAfter) {
	const onOldMarks = unit.includes("old marks"); // a stop may be met far from TDC
	const { min = 0, max = 0 } = onOldMarks
		? inputs["marks.tdc"].stopAfterCrankDeg
		: figures["visitSet.staticCrankDeg"];
	const furthest = isAfter ? -min : max;
	if (size >= 0 && size <= furthest) return null;
	if (size < 0)
		return {
			problem: `${text} has a sign`,
			limit: `0 to ${furthest} crank degrees, and a side`,
			do: "Type it without the sign and choose before or after TDC.",
		};
	const said = onOldMarks
		? `0 to ${max} crank degrees either side`
		: `up to ${max} crank degrees before TDC, ${-min} after`;
	return {
		problem: `${num(size, Number.isInteger(size) ? 0 : 1)}° ${isAfter ? "after" : "before"} TDC cannot be`,
		limit: said,
		do: again,
	};
}

/** isUsable tells a reading that the calculation takes. @param {{rpm: number, deg: number}} reading */
export const isUsable = ({ rpm, deg }) => isIn(rpm, figures["reading.rpm"]) && isIn(deg, figures["reading.deg"]);

/** isUsableStatic tells a static figure that the calculation takes. @param {number} crankDeg before TDC positive */
export const isUsableStatic = (crankDeg) => isIn(crankDeg, figures["visitSet.staticCrankDeg"]);

/** isUsableError tells a reading error that the calculation takes, degrees either way. @param {number} degrees */
export const isUsableError = (degrees) => isIn(degrees, figures["visitSet.readingErrorCrankDeg"]);
