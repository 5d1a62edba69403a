// What is concluded: findings in order, and the questions only the person can
// answer.

import { h } from "../dom.js";
import { inEnglish } from "../words.js";
import { caution } from "../caution.js";
import { verdictMark } from "../mark.js";
import { inHundred } from "./share.js";
import { working } from "./working.js";

/** How sure of the conclusion; which of several causes has made it is another question. The same in every room. */
const surenessWords = {
	sure: ["Sure", "the figures alone show this. Where several causes are named, look which it is."],
	likely: ["Likely", "it fits the figures best, and something else could fit them too."],
	possible: ["Possible", "the figures allow it and do not show it."],
};

/** "Sure, 98 in 100: …" where the share of belief is known. @param {Finding} finding */
function howSure({ sureness, share }) {
	const [word, rest] = surenessWords[sureness] ?? [sureness, ""];
	return [share === undefined ? word : `${word}, ${inHundred(share)}`, rest].filter(Boolean).join(": ");
}

/**
 * @param {readonly Finding[]} list in the order of weight
 * @param {ReadonlySet<number>} [numbered] which are called out on a figure (counted from 1)
 * @returns {HTMLElement}
 */
export function findings(list, numbered = new Set()) {
	return h(
		"ol",
		{ class: "findings", role: "list" },
		list.map((finding, i) =>
			h(
				"li",
				{ class: "finding" },
				h("h3", null, ring(i + 1, numbered.has(i + 1)), h("span", null, inEnglish(finding.title))),
				finding.verdict ? h("p", { class: "finding-verdict" }, verdictMark(finding.verdict)) : null,
				finding.caution ? caution("before touching anything", [finding.caution]) : null,
				h("p", { class: "finding-text" }, inEnglish(finding.text)),
				facts(finding),
				working(finding.title, finding.working, finding.sources),
			),
		),
	);
}

/** The number a figure calls the finding by. @param {number} n @param {boolean} isOnFigure */
function ring(n, isOnFigure) {
	return h(
		"span",
		{ class: "ring figures" },
		String(n),
		isOnFigure ? h("span", { class: "vh" }, ", called out on the figure") : null,
	);
}

/** @param {Finding} finding */
function facts(finding) {
	const rows = [
		["Part", finding.part],
		["Which way", finding.direction],
		["How sure", howSure(finding)],
		["What would show this wrong", finding.disprovedBy],
	];
	return h(
		"dl",
		{ class: "finding-facts" },
		rows
			.filter(([, text]) => text)
			.map(([name, text]) => h("div", null, h("dt", null, name), h("dd", null, inEnglish(text)))),
	);
}

/**
 * @param {readonly string[] | undefined} questions
 * @returns {HTMLElement | null}
 */
export function questions(questions = []) {
	if (!questions.length) return null;
	return h(
		"section",
		{ class: "asks", "aria-labelledby": "asks-title" },
		h("h2", { id: "asks-title" }, questions.length === 1 ? "A question first" : "Questions first"),
		h(
			"ul",
			null,
			questions.map((question) => h("li", null, inEnglish(question))),
		),
	);
}
