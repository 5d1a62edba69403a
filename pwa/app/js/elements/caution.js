// Boxes that must be read: cautions before a step, and troubles.

import { h } from "../lib/dom.js";
import { mark } from "./marks.js";

/**
 * caution is a boxed warning that stands before the step it is about.
 * @param {string} title
 * @param {string[]} lines
 * @returns {HTMLElement}
 */
export function caution(title, lines) {
	return h("aside", { class: "caution", role: "note", "aria-label": `Caution: ${title}` },
		h("p", { class: "caution-head" }, mark("caution"), h("strong", null, "Caution"), " ", title),
		h("ul", null, lines.map((line) => h("li", null, line))));
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
		h("p", null, mark("fail"), " ", h("strong", null, problem.title)),
		problem.detail && problem.detail !== problem.title ? h("p", null, problem.detail) : null,
		problem.limit ? h("p", null, `Limit: ${problem.limit}.`) : null,
		problem.do ? h("p", null, problem.do) : null,
		actions);
}
