// Doubts about what is measured on the condition, points and volts pages. As
// with facts: they ask, name the limit and say what to do; "stop" is for the
// few where going on does harm. Limits are common practice for entry checking.

import { parse } from "../lib/format.js";
import { convert, figureIn } from "./units.js";

/** @typedef {import("./facts.js").Doubt} Doubt */

/** @param {string} problem @param {string} limit @param {string} action @returns {Doubt} */
const ask = (problem, limit, action) => ({ level: "ask", problem, limit, do: action });

/** @param {string} value @returns {Doubt | null} */
function unreadable(value) {
	if (value.trim() === "" || parse(value) !== null) return null;
	return ask(`“${value.trim().slice(0, 24)}” cannot be read as a number`, "digits, one point or comma, or a fraction", "Correct it. It is kept as typed, and not counted until it can be read.");
}

/** What a figure of a check can sensibly be, in the check's own unit. @type {{[measure: string]: [low: number, high: number]}} */
const sensible = {
	B1: [0, 0.05], B2: [0, 0.05], B3: [0, 0.2], B4: [0, 0.1], B6: [-10, 10], "B8.mound": [0, 0.06], B10: [5, 60], B11: [0, 2], B12: [0, 2], B14: [0, 20],
	"B15.capacity": [0.05, 1], "B15.insulation": [0, 5000], "B15.series": [0, 100], "B17.brush": [0, 10], B18: [0, 200], "B19.resistor": [0, 50], B20: [0, 25],
	"B22.standing": [3, 15], "B22.cranking": [2, 14], B23: [5, 17], B24: [0, 14], B25: [0, 14], "B26.primary": [0.2, 6], "B26.secondary": [1, 60], "B26.case": [0, 5000],
	B27: [0, 100], B29: [0, 30], B30: [0, 29],
};

/**
 * checkDoubt looks at a figure of a condition check.
 * @param {{id: string, unit?: string}} measure @param {{value: string, unit: string}} fact @param {number | null} figure in the measure's unit
 * @returns {Doubt | null}
 */
export function checkDoubt({ id, unit = "" }, { value }, figure) {
	if (value.trim() === "") return null;
	if (figure === null) return id === "B27" ? ask("the compressions cannot be read", "two or more figures with a dash or a space between, or one figure in %", "Type them cylinder by cylinder: 158-162-155-160.") : unreadable(value);
	if (id === "B27" && figure > 25) return { level: "stop", problem: `the lowest is ${Math.round(figure)} % under the highest`, limit: "25 %", do: "Stop tuning: find the cause of the low compression first." };
	const range = sensible[id];
	if (!range || (figure >= range[0] && figure <= range[1])) return null;
	return ask(`${Number(figure.toPrecision(4))} ${unit} is most unusual here`, `${range[0]} to ${range[1]} ${unit}`, "Is the unit right? If it is so, leave it.");
}

/** gapDoubt asks outside 0.2 to 0.8 mm. @param {string} value @param {string} unit @returns {Doubt | null} */
export function gapDoubt(value, unit) {
	if (value.trim() === "") return null;
	const bad = unreadable(value);
	if (bad) return bad;
	if (!unit) return ask("the unit of the gap is not chosen", "thou, mm or in", "Choose what your feeler is marked in.");
	const mm = figureIn({ value, unit }, "mm");
	if (mm !== null && mm >= 0.2 && mm <= 0.8) return null;
	return ask(`${value.trim()} ${unit} is unusual for points`, `0.2 to 0.8 mm: ${Number((convert(0.2, "mm", unit) ?? 0).toFixed(3))} to ${Number((convert(0.8, "mm", unit) ?? 0).toFixed(3))} ${unit}`, "Is the unit right?");
}

/**
 * dwellDoubt asks outside 25 to 75 % of the way from one spark to the next,
 * and refuses a dwell that never opens.
 * @param {string} value @param {string} unit @param {number | null} cylinders @returns {Doubt | null}
 */
export function dwellDoubt(value, unit, cylinders) {
	if (value.trim() === "") return null;
	const dwell = parse(value);
	if (dwell === null) return unreadable(value);
	const share = unit === "%" ? dwell : cylinders ? (dwell * cylinders) / 3.6 : null;
	if (share === null || (share >= 25 && share <= 75)) return null;
	if (dwell <= 0 || share >= 100) return { level: "stop", problem: dwell <= 0 ? "a dwell of nothing gives no spark" : "with that dwell the points would never open", limit: `more than 0, less than ${unit === "%" ? "100 %" : `${Number((360 / (cylinders ?? 1)).toFixed(1))} distributor degrees`}`, do: "Check the number of cylinders and the scale of the meter. It is kept as typed, and not counted." };
	return ask(`that is ${Math.round(share)} % of the way from one spark to the next`, "25 to 75 %", "Is the meter on the scale for another number of cylinders, or does it show the open angle?");
}

/** speedDoubt asks about speeds that are no idle and no test. @param {string} value @returns {Doubt | null} */
export function speedDoubt(value) {
	const speed = parse(value.replace(/[\s\u202f]/g, ""));
	if (value.trim() === "") return null;
	if (speed === null) return unreadable(value);
	return speed >= 200 && speed <= 8000 ? null : ask(`${value.trim()} is unusual`, "200 to 8000 engine rpm", "On a bench, type twice what the distributor turns.");
}

/**
 * voltsDoubt asks about volts that this system does not have.
 * @param {string} value @param {6 | 12 | null} nominalV @param {boolean} isCranking @returns {Doubt | null}
 */
export function voltsDoubt(value, nominalV, isCranking) {
	const bad = unreadable(value);
	const volts = Math.abs(parse(value) ?? 0);
	if (bad || value.trim() === "" || nominalV === null) return bad;
	const most = nominalV === 6 ? 8 : 15.5;
	if (volts <= most) return null;
	return ask(`${value.trim()} V is much for a ${nominalV} V car ${isCranking ? "while cranking" : "with the engine still"}`, `at most ${most} V`, "Is it a 12 V battery, or a meter on the wrong range? If it is so, leave it.");
}

/** vacuumDoubt asks outside 0 to 29 inHg. @param {string} value @param {string} unit @returns {Doubt | null} */
export function vacuumDoubt(value, unit) {
	const bad = unreadable(value);
	const inHg = figureIn({ value, unit }, "inHg");
	if (bad || inHg === null) return bad;
	return inHg >= 0 && inHg <= 29 ? null : ask(`${value.trim()} ${unit} is no vacuum`, "0 to 29 inHg, that is 0 to 98 kPa", "Is the unit right?");
}
