// What a figure can be at all. Beyond these it cannot be used: a guided step
// refuses it, and what stands stored is left out and named. What is merely
// unusual is asked about elsewhere and never refused.

import { num, parse, parseSpeed } from "../lib/format.js";

/** @typedef {{problem: string, limit: string, do: string}} Found */

/** Limits of the calculations advance.judge and marks.static, which refuse what lies beyond: crank degrees before TDC. */
export const staticLimits = { least: -40, most: 60 };
/** The same of a reading of the curve: degrees as they are read, and rpm. */
export const readingLimits = { leastDeg: -60, mostDeg: 120, mostRPM: 12_000 };
/** The same of a reading error: degrees either way. */
export const errorLimit = 10;

const again = "Read it again, and correct it. What you typed stays.";

/** Numbers by what they are told in; limits of the calculations that take them, the others chosen as what cannot be. @type {{[unit: string]: {over?: number, least?: number, most: number, isWhole?: boolean}}} */
const numbers = {
	thou: { over: 0, most: 78 }, // 2 mm, points.judge
	"distributor degrees": { over: 0, most: 180 }, // dwell: two cylinders that never open
	"crank degrees": { least: 0, most: 60 },
	teeth: { least: 5, most: 60, isWhole: true }, // cap.plan
	RON: { least: 40, most: 130 },
	inHg: { least: 0, most: 30 }, // the air itself weighs no more
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
	if (value === null) return { problem: `“${text.slice(0, 24)}” cannot be read as a number`, limit: "digits and one point or comma", do: "Correct it. What you typed stays." };
	if (kind === "speed") return beyond(value, text, { over: 0, most: readingLimits.mostRPM }, unit);
	if (kind === "timing") return beyondTiming(value, text, unit, answers[`${key}.side`] === "after");
	return numbers[unit] ? beyond(value, text, numbers[unit], unit) : null;
}

/** @param {number} value @param {string} text @param {{over?: number, least?: number, most: number, isWhole?: boolean}} limit @param {string} unit @returns {Found | null} */
function beyond(value, text, { over, least, most, isWhole }, unit) {
	const isIn = value <= most && (over === undefined || value > over) && (least === undefined || value >= least) && (!isWhole || Number.isInteger(value));
	if (isIn) return null;
	const said = over === undefined ? `${least} to ${most}` : `more than ${over}, up to ${most}`;
	return { problem: `${text} cannot be`, limit: `${said} ${unit.replace(/, .*/, "")}${isWhole ? ", a whole number" : ""}`, do: again };
}

/** @param {number} size @param {string} text @param {string} unit @param {boolean} isAfter @returns {Found | null} */
function beyondTiming(size, text, unit, isAfter) {
	const onOldMarks = unit.includes("old marks"); // a stop may be met far from TDC: marks.tdc takes 170
	const most = onOldMarks ? 170 : isAfter ? -staticLimits.least : staticLimits.most;
	if (size >= 0 && size <= most) return null;
	if (size < 0) return { problem: `${text} has a sign`, limit: `0 to ${most} crank degrees, and a side`, do: "Type it without the sign and choose before or after TDC." };
	const said = onOldMarks ? "0 to 170 crank degrees either side" : `up to ${staticLimits.most} crank degrees before TDC, ${-staticLimits.least} after`;
	return { problem: `${num(size, Number.isInteger(size) ? 0 : 1)}° ${isAfter ? "after" : "before"} TDC cannot be`, limit: said, do: again };
}

/** isUsable tells a reading that the calculation takes. @param {{rpm: number, deg: number}} reading */
export const isUsable = ({ rpm, deg }) => rpm > 0 && rpm <= readingLimits.mostRPM && deg >= readingLimits.leastDeg && deg <= readingLimits.mostDeg;

/** isUsableStatic tells a static figure that the calculation takes. @param {number} crankDeg before TDC positive */
export const isUsableStatic = (crankDeg) => crankDeg >= staticLimits.least && crankDeg <= staticLimits.most;
