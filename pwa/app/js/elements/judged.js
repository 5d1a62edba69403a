// A verdict with its one sentence, its findings, questions and working: how
// the pages of capsule and cylinders conclude.

import { h } from "../lib/dom.js";
import { findings, questions } from "./findings.js";
import { mark, verdictWord } from "./marks.js";
import { working } from "./working.js";

/** @param {string} about @param {{verdict: string, summary: string, findings?: Finding[], ask?: string[], working?: string[], sources?: string[]}} answer */
export function judged(about, { verdict, summary, findings: found = [], ask, working: lines, sources }) {
	return h("section", { class: "judged", "aria-live": "polite" },
		h("p", { class: "judged-verdict" }, mark(/** @type {any} */ (verdict)), h("span", null, h("strong", null, verdictWord(verdict)), ` ${summary}`)),
		found.length ? [h("h2", null, "What is found"), findings(found)] : null, questions(ask), working(about, lines, sources));
}
