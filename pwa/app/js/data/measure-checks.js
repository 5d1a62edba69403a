// Doubts about what is measured on the condition, points and volts pages. As
// with facts: they ask, name the limit and say what to do; "stop" is for the
// few where going on does harm. Limits are common practice for entry checking.

import { parse } from "../lib/format.js";
import { compressionBounds, compressions } from "./condition.js";
import { convert, figureIn } from "./units.js";

/** @typedef {import("./facts.js").Doubt} Doubt */

/** @param {string} problem @param {string} limit @param {string} action @returns {Doubt} */
const ask = (problem, limit, action) => ({ level: "ask", problem, limit, do: action });

/** @param {string} value @returns {Doubt | null} */
function unreadable(value) {
	if (value.trim() === "" || parse(value) !== null) return null;
	return ask(`“${value.trim().slice(0, 24)}” cannot be read as a number`, "digits, one point or comma, or a fraction", "Correct it. It is kept as typed, and not counted until it can be read.");
}

/**
 * checkDoubt looks at a figure of a condition check.
 * @param {Pick<Measure, "id" | "unit" | "possible">} measure @param {{value: string, unit: string}} fact @param {number | null} figure in the measure's unit
 * @returns {Doubt | null}
 */
export function checkDoubt({ id, unit = "", possible }, { value, unit: typedIn }, figure) {
	if (value.trim() === "") return null;
	if (figure === null) return id === "B27" ? compressionsDoubt(value, typedIn) : unreadable(value);
	if (possible && (figure < possible.low || figure > possible.high)) return ask(`${Number(figure.toPrecision(4))} ${unit} cannot be right here`, `${possible.low} to ${possible.high} ${unit}`, "Look at the unit and the meter’s range, and correct it. It is kept as typed, and not judged.");
	if (id === "B27" && figure > 25) return { level: "stop", problem: `the lowest is ${Math.round(figure)} % under the highest`, limit: "25 %", do: "Stop tuning: find the cause of the low compression first." };
	return null;
}

/** @param {string} value @param {string} unit @returns {Doubt} */
function compressionsDoubt(value, unit) {
	const most = compressionBounds[unit]?.[1];
	const high = Math.max(...compressions(value));
	if (most !== undefined && high > most) return ask(`${high} ${unit} is no compression`, `0 to ${most} ${unit}`, "Is the unit right? It is kept as typed, and not judged.");
	return ask("the compressions cannot be read", "two or more figures with a dash or a space between, or one figure in %", "Type them cylinder by cylinder: 158-162-155-160. It is kept as typed, and not judged.");
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
	if (volts > 30) return ask(`${value.trim()} V cannot be right here`, `at most ${most} V`, "Look at the meter’s range, and correct it. It is kept as typed, and not judged.");
	if (volts <= most) return null;
	return ask(`${value.trim()} V is much for a ${nominalV} V car ${isCranking ? "while cranking" : "with the engine still"}`, `at most ${most} V`, "Is the meter on the wrong range, or another battery in it? Nothing is passed on it.");
}

/** signDoubt names a reading whose sign is against the others'. @param {string} value @returns {Doubt} */
export function signDoubt(value) {
	return ask(`${value.trim()} V is the odd one out: some readings are positive and some negative`, "all of one sign", "Leave the meter’s one lead on the battery’s earth post throughout, and read this one again. It is kept as typed and left out; the rest is judged.");
}

/** What vacuum.judge takes: kPa below ambient, and movement by the shaft it is read on. */
const capsuleReach = { kPa: [0, 102], crank: [-60, 90], distributor: [-30, 45] };

/** What a figure beyond that is answered with. */
const leftOut = "Look at the decimal point and the unit, and correct it. It is kept as typed and left out; the rest is judged.";

/**
 * capsuleVacuumDoubt names, in the unit it is typed in, a vacuum that cannot
 * be, and asks about an unusual one.
 * @param {string} value @param {string} unit @returns {Doubt | null}
 */
export function capsuleVacuumDoubt(value, unit) {
	if (parse(value) === null || !isLeftOut(value, unit)) return vacuumDoubt(value, unit);
	return ask(`${value.trim()} ${unit} is no vacuum that can be`, `0 to ${Math.floor(convert(capsuleReach.kPa[1], "kPa", unit) ?? 0)} ${unit}`, leftOut);
}

/** movementDoubt names a movement that no capsule makes. @param {string} value @param {string} unit @returns {Doubt | null} */
export function movementDoubt(value, unit) {
	if (parse(value) === null || !isLeftOut(value, unit)) return unreadable(value);
	const [low, high] = capsuleReach[unit.startsWith("crank") ? "crank" : "distributor"];
	return ask(`${value.trim()} ${unit} is no movement of a capsule`, `${low} to ${high} ${unit}`, leftOut);
}

/** What of the capsule else is judged, by the fact it is typed in: more than 0, and at most this. */
export const capsuleMost = { capsuleMost: 30, "capsule.hold.seconds": 3600 };

/** capsuleMostDoubt names a figure beyond that. @param {keyof typeof capsuleMost} key @param {string} value @param {string} unit @returns {Doubt | null} */
export function capsuleMostDoubt(key, value, unit) {
	const x = parse(value);
	return x === null ? unreadable(value) : x > 0 && x <= capsuleMost[key] ? null : ask(`${value.trim()} ${unit} cannot be right here`, `more than 0, at most ${capsuleMost[key]} ${unit}`, leftOut);
}

/** isLeftOut tells whether a figure of the capsule is beyond what is judged. @param {string} value @param {string} unit */
export function isLeftOut(value, unit) {
	const isAngle = unit.endsWith("degrees");
	const x = isAngle ? parse(value) : figureIn({ value, unit }, "kPa");
	const [low, high] = capsuleReach[isAngle ? (unit.startsWith("crank") ? "crank" : "distributor") : "kPa"];
	return x !== null && (x < low || x > high);
}

/** vacuumDoubt asks outside 0 to 29 inHg. @param {string} value @param {string} unit @returns {Doubt | null} */
export function vacuumDoubt(value, unit) {
	const bad = unreadable(value);
	const inHg = figureIn({ value, unit }, "inHg");
	if (bad || inHg === null) return bad;
	return inHg >= 0 && inHg <= 29 ? null : ask(`${value.trim()} ${unit} is no vacuum`, "0 to 29 inHg, that is 0 to 98 kPa", "Is the unit right?");
}
