// "Show the working": the rule in words with this car's figures in it, and
// where the rule comes from. Closed on the screen, always open on paper.

import { h } from "../dom.js";
import { inEnglish } from "../words.js";

/**
 * @param {string} about what the working is of, for those who hear the page
 * @param {readonly string[] | null | undefined} given lines; an answer that comes from elsewhere may have none
 * @param {readonly string[] | null} [from]
 * @returns {HTMLElement | null} null when there is nothing to show
 */
export function working(about, given, from) {
	const [lines, sources] = [given ?? [], from ?? []];
	if (!lines.length && !sources.length) return null;
	return h(
		"details",
		{ class: "working" },
		h("summary", null, "Show the working", h("span", { class: "vh" }, inEnglish(` of ${about}`))),
		lines.length
			? h(
					"ol",
					{ class: "working-lines" },
					lines.map((line) => h("li", null, inEnglish(line))),
				)
			: null,
		sources.length
			? h(
					"p",
					{ class: "note" },
					h("strong", null, sources.length > 1 ? "Sources: " : "Source: "),
					sources.join("; "),
					".",
				)
			: null,
	);
}
