// What is concluded: findings in order, accounts that fit alike with the test
// that tells them apart, and the questions only the person can answer.

import { h } from "../lib/dom.js";
import { inEnglish } from "../lib/words.js";
import { caution } from "./caution.js";
import { mark, verdictMark } from "./marks.js";
import { working } from "./working.js";

/** How sure of the conclusion; which of several causes has made it is another question. The same in every room. */
const surenessWords = {
	sure: "Sure: the figures alone show this. Where several causes are named, look which it is.",
	likely: "Likely: it fits the figures best, and something else could fit them too.",
	possible: "Possible: the figures allow it and do not show it.",
};

/**
 * @param {readonly Finding[]} list in the order of weight
 * @param {ReadonlySet<number>} [numbered] which are called out on a figure (counted from 1)
 * @returns {HTMLElement}
 */
export function findings(list, numbered = new Set()) {
	return h("ol", { class: "findings", role: "list" }, list.map((finding, i) =>
		h("li", { class: "finding" },
			h("h3", null, ring(i + 1, numbered.has(i + 1)), h("span", null, inEnglish(finding.title))),
			finding.verdict ? h("p", { class: "finding-verdict" }, verdictMark(finding.verdict)) : null,
			finding.caution ? caution("before touching anything", [finding.caution]) : null,
			h("p", { class: "finding-text" }, inEnglish(finding.text)),
			facts(finding),
			working(finding.title, finding.working, finding.sources))));
}

/** The number a figure calls the finding by. @param {number} n @param {boolean} isOnFigure */
function ring(n, isOnFigure) {
	return h("span", { class: "ring figures" }, String(n), isOnFigure ? h("span", { class: "vh" }, ", called out on the figure") : null);
}

/** @param {Finding} finding */
function facts(finding) {
	const rows = [
		["Part", finding.part],
		["Which way", finding.direction],
		["How sure", surenessWords[finding.sureness] ?? finding.sureness],
		["Disproved by", finding.disprovedBy],
	];
	return h("dl", { class: "finding-facts" }, rows.filter(([, text]) => text).map(([name, text]) => h("div", null, h("dt", null, name), h("dd", null, inEnglish(text)))));
}

/**
 * explanations shows two or more accounts as an open choice with its test.
 * @param {readonly Explanation[] | undefined} list
 * @returns {HTMLElement | null}
 */
export function explanations(list = []) {
	if (list.length < 2) return null;
	const tests = [...new Set(list.map((one) => one.test).filter(Boolean))];
	const isOneTest = tests.length === 1;
	return h("section", { class: "either-or", "aria-labelledby": "either-or-title" },
		h("h2", { id: "either-or-title" }, list.length === 2 ? "Two accounts fit these readings" : `${list.length} accounts fit these readings`),
		h("p", null, isOneTest ? "The readings cannot choose between them. One test does." : "The readings cannot choose between them. These tests do."),
		h("ol", { class: "accounts", role: "list" }, list.map((one, i) =>
			h("li", { class: "account" },
				h("p", { class: "account-word" }, i === 0 ? "Either" : "or"),
				h("p", null, one.text),
				!isOneTest && one.test ? h("p", { class: "account-test" }, h("strong", null, "Test: "), one.test) : null))),
		isOneTest ? h("p", { class: "deciding-test" }, mark("next"), h("span", null, h("strong", null, "The test that tells them apart: "), tests[0])) : null);
}

/**
 * @param {readonly string[] | undefined} questions
 * @returns {HTMLElement | null}
 */
export function questions(questions = []) {
	if (!questions.length) return null;
	return h("section", { class: "asks", "aria-labelledby": "asks-title" },
		h("h2", { id: "asks-title" }, questions.length === 1 ? "A question first" : "Questions first"),
		h("ul", null, questions.map((question) => h("li", null, inEnglish(question)))));
}
