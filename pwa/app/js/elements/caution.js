// Boxes that must be read: cautions before a step, and troubles.

import { h } from "../lib/dom.js";
import { inEnglish } from "../lib/words.js";
import { mark } from "./marks.js";

/**
 * caution is a boxed warning that stands before the step it is about.
 * @param {string} title
 * @param {string[]} lines
 * @returns {HTMLElement}
 */
export function caution(title, lines) {
	return h("aside", { class: "caution", role: "note", "aria-label": inEnglish(`Caution: ${title}`) },
		h("p", { class: "caution-head" }, mark("caution"), h("strong", null, "Caution"), " ", inEnglish(title)),
		h("ul", null, lines.map((line) => h("li", null, inEnglish(line)))));
}

/** What every caution defers to. */
export const deferral = "The car’s own manual, the rules where you live and licensed practice come before anything said here.";

/**
 * trouble shows a problem: what, the limit, what to do.
 * @param {Problem} problem
 * @param {...Node} actions
 * @returns {HTMLElement}
 */
export function trouble(problem, ...actions) {
	return h("div", { class: "trouble", role: "alert" },
		h("p", null, mark("fail"), " ", h("strong", null, inEnglish(problem.title))),
		problem.detail && problem.detail !== problem.title ? h("p", null, inEnglish(problem.detail)) : null,
		problem.limit ? h("p", null, `Limit: ${problem.limit}.`) : null,
		problem.do ? h("p", null, inEnglish(problem.do)) : null,
		actions);
}
