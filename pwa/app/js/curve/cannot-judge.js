// Why the curve cannot be judged yet: no book, no readings, or a refusal of the
// calculation; and the page on which that is put right.

import { trouble } from "../kit/caution.js";
import { address } from "../kit/address.js";
import { nextLink, notYet } from "../kit/finding/not-yet.js";
import { firstCapital } from "../kit/words.js";

/** @typedef {import("../record/case.js").Case} Case */

/**
 * bookMissing says why the book's figures cannot be used yet; null when they can.
 * @param {Case} given @param {string} carId
 */
export function bookMissing(given, carId) {
	const href = address("car", carId, "book");
	if (given.isBookBlank)
		return notYet(
			"No book figures yet",
			"Without the book’s table there is nothing to compare with. Enter it as it is printed, in any style.",
			{ href, label: "Enter the book’s figures" },
		);
	if (!given.problem) return null;
	return notYet(
		"The book’s figures are not complete",
		`${firstCapital(given.problem.problem)}. ${given.problem.do}`,
		{
			href,
			label: "Complete the book’s figures",
		},
	);
}

/** @param {string} carId */
export function readingsMissing(carId) {
	return notYet(
		"No readings yet",
		"The book is there. Take readings on the bench or with the strobe on the car; three or four speeds are enough for a first word.",
		{ href: address("car", carId, "readings"), label: "Enter readings" },
	);
}

/**
 * A refusal of the calculation, with the way to the page where it is put right.
 * @param {Problem} problem @param {string} carId
 */
export function refused(problem, carId) {
	const field = problem.field ?? "";
	if (field.startsWith("readings"))
		return trouble(said(problem), nextLink(address("car", carId, "readings"), "Correct the readings"));
	if (field.startsWith("spec"))
		return trouble(said(problem), nextLink(address("car", carId, "book"), "Correct the book’s figures"));
	return trouble(said(problem));
}

/** The field's path in the words of the screen. @param {Problem} problem @returns {Problem} */
function said(problem) {
	return {
		...problem,
		title: place(problem.field ?? "") || problem.title,
		detail: sentence(problem.detail),
		do: sentence(problem.do),
	};
}

/**
 * place names a field path as a person would: "spec.points[2].maxDeg" is line
 * 3 of the book's table.
 * @param {string} path
 */
export function place(path) {
	const row = /\.points\[(\d+)\]/.exec(path);
	if (path.startsWith("spec"))
		return row
			? `The book’s table, line ${Number(row[1]) + 1}, cannot be used`
			: "The book’s figures cannot be used yet";
	if (path.startsWith("readings"))
		return row ? `Reading ${Number(row[1]) + 1} cannot be used` : "The readings cannot be used yet";
	return "";
}

/** @param {string | undefined} text */
function sentence(text) {
	return text ? firstCapital(text) + (/[.!?]$/.test(text) ? "" : ".") : text;
}
