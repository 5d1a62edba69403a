// Boxes that must be read: cautions before a step, and troubles.

import { h } from "./dom.js";
import { inEnglish } from "./words.js";
import { mark } from "./mark.js";

/**
 * caution is a boxed warning that stands before the step it is about. Of every hazard the first sentence stands
 * open, so that none is hidden; what else there is to say of them is a tap behind, and printed.
 * @param {string} title
 * @param {string[]} lines a hazard each
 * @param {boolean} [defers] whether the job begins here: then what it defers to stands open too, else on paper only
 */
export function caution(title, lines, defers = false) {
	const firsts = lines.map(firstSentence);
	if (firsts.every((first, i) => first === lines[i])) return boxed(title, defers, listOf(lines));
	return boxed(
		title,
		defers,
		h(
			"details",
			{ class: "fold caution-more" },
			h(
				"summary",
				null,
				h(
					"span",
					{ class: "caution-short" },
					firsts.map((first) => h("span", null, inEnglish(first))),
					h("span", { class: "vh" }, "The whole of it"),
				),
			),
			listOf(lines),
		),
	);
}

/**
 * cautionLine is a caution that was read before: the sign and the name of each hazard in a line; a tap opens all of it.
 * @param {{name: string, text: string}[]} hazards
 */
export const cautionLine = (hazards) =>
	h(
		"aside",
		{ class: "caution-line", role: "note", "aria-label": "Caution, as before" },
		h(
			"details",
			{ class: "fold" },
			h(
				"summary",
				null,
				h(
					"span",
					{ class: "caution-signs" },
					hazards.map(({ name }) => h("span", null, mark("caution"), inEnglish(name), " ")),
				),
			),
			listOf(hazards.map(({ text }) => text)),
		),
	);

/** firstSentence is what stands open of a hazard. @param {string} line */
export const firstSentence = (line) => /^.*?[.!?](?= [A-Z])/.exec(line)?.[0] ?? line;

/**
 * wholeCaution stands open in every line, with what it defers to: where a button says that it was read.
 * @param {string} title @param {string[]} lines
 */
export const wholeCaution = (title, lines) => boxed(title, true, listOf(lines));

/** @param {string} title @param {boolean} defers @param {...HTMLElement} inside */
const boxed = (title, defers, ...inside) =>
	h(
		"aside",
		{ class: "caution", role: "note", "aria-label": inEnglish(`Caution: ${title}`) },
		h("p", { class: "caution-head" }, mark("caution"), h("strong", null, "Caution"), " ", inEnglish(title)),
		inside,
		h("p", { class: defers ? "defers" : "defers on-paper" }, deferral),
	);

/** @param {string[]} lines */
const listOf = (lines) =>
	h(
		"ul",
		null,
		lines.map((line) => h("li", null, inEnglish(line))),
	);

/** What every caution defers to: said where a job begins, and on paper. */
export const deferral = "The car’s own manual, local rules and licensed practice come first.";

/**
 * trouble shows a problem: what, the limit, what to do.
 * @param {Problem} problem
 * @param {...Node} actions
 * @returns {HTMLElement}
 */
export function trouble(problem, ...actions) {
	return h(
		"div",
		{ class: "trouble", role: "alert" },
		h("p", null, mark("fail"), " ", h("strong", null, inEnglish(problem.title))),
		problem.detail && problem.detail !== problem.title ? h("p", null, inEnglish(problem.detail)) : null,
		problem.limit ? h("p", null, `Limit: ${problem.limit}.`) : null,
		problem.do ? h("p", null, inEnglish(problem.do)) : null,
		actions,
	);
}
