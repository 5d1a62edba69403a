// Boxes that must be read: cautions before a step, and troubles.

import { h } from "./dom.js";
import { inEnglish } from "./words.js";
import { mark } from "./mark.js";

/**
 * caution is a boxed warning that stands before the step it is about. Of every hazard the first sentence stands
 * open, so that none is hidden; what else there is to say of them is a tap behind, and printed.
 * @param {string} title
 * @param {string[]} lines a hazard each
 * @returns {HTMLElement}
 */
export function caution(title, lines) {
	const hazards = lines.filter((line) => line !== deferral);
	const firsts = hazards.map(firstSentence);
	const isAll = firsts.every((first, i) => first === hazards[i]) && hazards.length === lines.length;
	if (isAll) return wholeCaution(title, lines);
	const short = listOf(firsts);
	short.className = "caution-short";
	return boxed(
		title,
		short,
		h("details", { class: "fold caution-more" }, h("summary", null, "The whole of it"), listOf(lines)),
	);
}

/** firstSentence is what stands open of a hazard. @param {string} line */
export const firstSentence = (line) => /^.*?[.!?](?= [A-Z])/.exec(line)?.[0] ?? line;

/**
 * wholeCaution stands open in every line: where a button says that it was read.
 * @param {string} title @param {string[]} lines
 */
export const wholeCaution = (title, lines) => boxed(title, listOf(lines));

/** @param {string} title @param {...(HTMLElement | null)} inside */
const boxed = (title, ...inside) =>
	h(
		"aside",
		{ class: "caution", role: "note", "aria-label": inEnglish(`Caution: ${title}`) },
		h("p", { class: "caution-head" }, mark("caution"), h("strong", null, "Caution"), " ", inEnglish(title)),
		inside,
	);

/** @param {string[]} lines */
const listOf = (lines) =>
	h(
		"ul",
		null,
		lines.map((line) => h("li", null, inEnglish(line))),
	);

/** What every caution defers to. */
export const deferral =
	"The car’s own manual, the rules where you live and licensed practice come before anything said here.";

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
