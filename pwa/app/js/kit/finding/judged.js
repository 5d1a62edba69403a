// A verdict with its one sentence, its findings, questions and working: how
// the pages of capsule and cylinders conclude.

import { h } from "../dom.js";
import { fold } from "../fold.js";
import { firstCapital, inEnglish } from "../words.js";
import { findings, questions } from "./findings.js";
import { mark, verdictWord } from "../mark.js";
import { working } from "./working.js";

/**
 * @param {string} about
 * @param {{verdict: string, summary: string, findings?: Finding[], ask?: string[], working?: string[], sources?:
 *   string[]}} answer
 */
export function judged(about, { verdict, summary, findings: found = [], ask, working: lines, sources }) {
	return h(
		"section",
		{ class: "judged", "aria-live": "polite" },
		h(
			"p",
			{ class: "judged-verdict" },
			mark(/** @type {any} */ (verdict)),
			h(
				"span",
				null,
				h("strong", null, `${firstCapital(inEnglish(about))}: ${verdictWord(verdict)}.`),
				` ${inEnglish(summary)}`,
			),
		),
		found.length
			? fold(
					`found/${about}`,
					{ title: "What is found", answer: found.map(({ title }) => inEnglish(title)).join("; ") },
					findings(found),
				)
			: null,
		questions(ask),
		working(about, lines, sources),
	);
}
