// How an engine fires, for the ear: the question's choices for its number of
// cylinders, and the intervals that follow from what was chosen or typed. Pure.

import { parse } from "../kit/format.js";

/** @typedef {{way: "" | "even" | "bank" | "v6" | "twin" | "typed", angle: string, typed: string}} FiringKept */
/**
 * @typedef {{cylinders: number, intervals: number[] | null}} Firing cylinders that sound, and the crank degrees between
 *   them; null: not said
 */

/** @type {FiringKept} */
export const notSaid = { way: "", angle: "", typed: "" };

const slack = 1; // degrees by which intervals may miss their sum: chosen, room for 102.9 seven times

/**
 * ways are the choices that an engine of so many cylinders has. The angles are
 * those of the crank throws of the trade (common practice).
 * @param {number} cylinders
 * @returns {{value: FiringKept["way"], label: string, note?: string}[]}
 */
export function ways(cylinders) {
	return [
		{ value: "even", label: "Evenly", note: `every ${String(Math.round(7200 / cylinders) / 10)}°` },
		...(cylinders === 8
			? [
					{
						value: /** @type {const} */ ("bank"),
						label: "One bank of a V8",
						note: "its own tail pipe: 90-180-270-180",
					},
				]
			: []),
		...(cylinders === 6 ? [{ value: /** @type {const} */ ("v6"), label: "Uneven V6", note: "90-150" }] : []),
		...(cylinders === 2
			? [{ value: /** @type {const} */ ("twin"), label: "V-twin", note: "both rods on one pin" }]
			: []),
		{ value: "typed", label: "Other", note: "type the degrees" },
	];
}

/**
 * firingOf gives the cylinders and intervals of what is kept, or the problem.
 * @param {FiringKept} kept
 * @param {number} cylinders
 * @returns {{firing: Firing, problem: null} | {firing: null, problem: Omit<FieldProblem, "field">}}
 */
export function firingOf(kept, cylinders) {
	const said = (/** @type {number[]} */ intervals) => ({
		firing: { cylinders: intervals.length, intervals },
		problem: null,
	});
	switch (ways(cylinders).some(({ value }) => value === kept.way) ? kept.way : "") {
		case "even":
			return said(Array(cylinders).fill(720 / cylinders));
		case "bank":
			return said([90, 180, 270, 180]);
		case "v6":
			return said([90, 150, 90, 150, 90, 150]);
		case "twin":
			return twin(kept.angle);
		case "typed":
			return typed(kept.typed, cylinders);
		default:
			return { firing: { cylinders, intervals: null }, problem: null };
	}
}

/** Both rods on one pin: the second fires a turn and the angle later. @param {string} text */
function twin(text) {
	const angle = parse(text);
	if (angle === null || angle < 1 || angle > 180)
		return refused("the angle of the V is not known", "1 to 180 degrees", "Type the angle between the cylinders.");
	return { firing: { cylinders: 2, intervals: [360 - angle, 360 + angle] }, problem: null };
}

/** @param {string} text @param {number} cylinders */
function typed(text, cylinders) {
	const parts = text
		.trim()
		.split(/\s*[-–—;/]\s*|,\s+|\s+/)
		.filter((part) => part !== "");
	const intervals = (parts.length === 1 ? text.split(",") : parts).map((part) => parse(part) ?? NaN);
	if (text.trim() === "" || intervals.some((each) => !(each > 0)))
		return refused(
			"the degrees are not all numbers above 0",
			"as 90-180-270-180",
			"Type the crank degrees from each firing to the next.",
		);
	if (intervals.length > cylinders)
		return refused(
			`${intervals.length} intervals, ${cylinders} cylinders`,
			"one for each cylinder",
			"Leave out what is too many.",
		);
	const sum = intervals.reduce((all, each) => all + each, 0);
	if (Math.abs(sum - 720) > slack && Math.abs(sum - 360) > slack)
		return refused(
			`they add up to ${Math.round(sum * 10) / 10}°`,
			"720°, a two-stroke 360°",
			"Count once round, the last back to the first.",
		);
	return { firing: { cylinders: intervals.length, intervals }, problem: null };
}

/**
 * @param {string} problem
 * @param {string} limit
 * @param {string} what
 * @returns {{firing: null, problem: Omit<FieldProblem, "field">}}
 */
const refused = (problem, limit, what) => ({ firing: null, problem: { problem, limit, do: what } });
