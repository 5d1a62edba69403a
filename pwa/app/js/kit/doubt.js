// Doubts about a figure as it was typed. They ask, name the limit and say what
// to do; "stop" is for the few where going on does harm. Limits are common
// practice for entry checking.

import { parse } from "./format.js";
import { figureIn } from "./units.js";

/** @typedef {{level: "ask" | "stop", problem: string, limit: string, do: string}} Doubt */

/**
 * doubt asks about what is unusual.
 * @param {string} problem
 * @param {string} limit
 * @param {string} action
 * @returns {Doubt}
 */
export const doubt = (problem, limit, action) => ({ level: "ask", problem, limit, do: action });

/** unreadable names what is no number. @param {string} value @returns {Doubt | null} */
export function unreadable(value) {
	if (value.trim() === "" || parse(value) !== null) return null;
	return doubt(
		`“${value.trim().slice(0, 24)}” cannot be read as a number`,
		"digits, one point or comma, or a fraction",
		"Correct it. It is kept as typed, and not counted until it can be read.",
	);
}

/** vacuumDoubt asks outside 0 to 29 inHg. @param {string} value @param {string} unit @returns {Doubt | null} */
export function vacuumDoubt(value, unit) {
	const bad = unreadable(value);
	const inHg = figureIn({ value, unit }, "inHg");
	if (bad || inHg === null) return bad;
	return inHg >= 0 && inHg <= 29
		? null
		: doubt(`${value.trim()} ${unit} is no vacuum`, "0 to 29 inHg, that is 0 to 98 kPa", "Is the unit right?");
}
