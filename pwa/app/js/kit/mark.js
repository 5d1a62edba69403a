// Small drawn marks. Each goes with a word: a shape alone says nothing, and
// neither does a colour.

import { svg } from "./dom.js";

const paths = {
	next: "M3 12h15M12 5l7 7-7 7",
	back: "M15 4l-8 8 8 8",
	done: "M4 13l5 6L20 5",
	partly: "M4 12h16",
	empty: "M12 4a8 8 0 1 0 .01 0z",
	remove: "M5 5l14 14M19 5L5 19",
	caution: "M12 3L22 21H2zM12 9.5v6M12 18v.4",
	rub: "M9 5h12v14H9l-7-7zM12.5 9l6 6M18.5 9l-6 6",
	pass: "M12 3a9 9 0 1 0 .01 0zM7.5 12.5l3.2 3.4L16.5 8.5",
	watch: "M12 3l9 9-9 9-9-9zM12 8v5M12 16v.4",
	fail: "M4 4h16v16H4zM8.5 8.5l7 7M15.5 8.5l-7 7",
	unknown: "M12 3a9 9 0 1 0 .01 0zM9.3 9.5a2.7 2.7 0 1 1 3.8 2.5c-.8.4-1.1.9-1.1 1.8M12 16.8v.4",
	rising: "M5 19L18 6M9 6h9v9",
	falling: "M5 5l13 13M18 9v9H9",
};

/**
 * mark draws one of the marks; it is hidden from screen readers because the
 * word beside it says the same.
 * @param {keyof typeof paths} name
 */
export function mark(name) {
	return svg(
		"svg",
		{ class: `mark mark-${name}`, viewBox: "0 0 24 24", "aria-hidden": "true", focusable: "false" },
		svg("path", { d: paths[name] }),
	);
}

const verdictWords = { pass: "Pass", watch: "Watch", fail: "Fail", unknown: "Unknown" };

/**
 * verdictMark gives a verdict as shape and word.
 * @param {string} verdict pass, watch, fail or unknown
 * @returns {Node[]}
 */
export function verdictMark(verdict) {
	const known = /** @type {keyof typeof verdictWords} */ (verdict in verdictWords ? verdict : "unknown");
	return [mark(known), document.createTextNode(" " + verdictWords[known])];
}

/** verdictWord is the word alone. @param {string} verdict */
export function verdictWord(verdict) {
	return verdictWords[/** @type {keyof typeof verdictWords} */ (verdict)] ?? verdictWords.unknown;
}
