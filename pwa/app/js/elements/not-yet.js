// What a concluding screen says while it cannot conclude: why, and the one
// thing to do next.

import { h } from "../lib/dom.js";
import { address } from "../lib/routes.js";
import { inEnglish } from "../lib/words.js";
import { trouble } from "./caution.js";
import { mark } from "./marks.js";

/** @typedef {import("../data/case.js").Case} Case */

/**
 * @param {string} title @param {string} text @param {{href: string, label: string} | null} next
 * @returns {HTMLElement}
 */
export function notYet(title, text, next) {
	return h("section", { class: "not-yet" },
		h("h2", null, inEnglish(title)),
		h("p", null, inEnglish(text)),
		next ? nextLink(next.href, next.label) : null);
}

/** The one link on a screen that says "do this next". @param {string} href @param {string} label */
export function nextLink(href, label) {
	return h("a", { class: "button next", href }, label, " ", mark("next"));
}

/**
 * bookMissing says why the book's figures cannot be used yet; null when they can.
 * @param {Case} given @param {string} carId
 */
export function bookMissing(given, carId) {
	const href = address("car", carId, "book");
	if (given.isBookBlank) return notYet("No book figures yet", "Without the book’s table there is nothing to compare with. Enter it as it is printed, in any style.", { href, label: "Enter the book’s figures" });
	if (!given.problem) return null;
	return notYet("The book’s figures are not complete", `${capital(given.problem.problem)}. ${given.problem.do}`, { href, label: "Complete the book’s figures" });
}

/** @param {string} carId */
export function readingsMissing(carId) {
	return notYet("No readings yet", "The book is there. Take readings on the bench or with the strobe on the car; three or four speeds are enough for a first word.",
		{ href: address("car", carId, "readings"), label: "Enter readings" });
}

/** @param {string} state of the engine @param {string} carId */
export function stillStarting(state, carId) {
	const text = state === "failed" ? "The engine on this phone did not start; the server is being asked." : "It takes a second or two the first time. Everything you entered is safe.";
	return h("section", { class: "not-yet", role: "status" },
		h("h2", null, "The engine is starting"),
		h("p", null, text),
		h("a", { class: "button", href: address("car", carId, "readings") }, "Go on with readings meanwhile"));
}

/**
 * A refusal of the calculation, with the way to the page where it is put right.
 * @param {Problem} problem @param {string} carId
 */
export function refused(problem, carId) {
	const field = problem.field ?? "";
	if (field.startsWith("readings")) return trouble(said(problem), nextLink(address("car", carId, "readings"), "Correct the readings"));
	if (field.startsWith("spec")) return trouble(said(problem), nextLink(address("car", carId, "book"), "Correct the book’s figures"));
	return trouble(said(problem));
}

/** The field's path in the words of the screen. @param {Problem} problem @returns {Problem} */
function said(problem) {
	return { ...problem, title: place(problem.field ?? "") || problem.title, detail: sentence(problem.detail), do: sentence(problem.do) };
}

/**
 * place names a field path as a person would: "spec.points[2].maxDeg" is line
 * 3 of the book's table.
 * @param {string} path
 */
export function place(path) {
	const row = /\.points\[(\d+)\]/.exec(path);
	if (path.startsWith("spec")) return row ? `The book’s table, line ${Number(row[1]) + 1}, cannot be used` : "The book’s figures cannot be used yet";
	if (path.startsWith("readings")) return row ? `Reading ${Number(row[1]) + 1} cannot be used` : "The readings cannot be used yet";
	return "";
}

/** @param {string | undefined} text */
function sentence(text) {
	return text ? capital(text) + (/[.!?]$/.test(text) ? "" : ".") : text;
}

/** @param {string} text */
function capital(text) {
	return text.charAt(0).toUpperCase() + text.slice(1);
}
