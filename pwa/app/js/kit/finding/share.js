// How much of all belief something holds: in words, and as the length of a
// ruled bar.

import { svg } from "../dom.js";

/**
 * inHundred says a share: "27 in 100". Nearly all and nearly nothing are never
 * said as all and nothing.
 * @param {number} share 0 to 1
 */
export function inHundred(share) {
	if (share > 0.99) return "more than 99 in 100";
	if (share < 0.01) return "less than 1 in 100";
	return `${Math.round(100 * share)} in 100`;
}

/** shareBar draws it; the words stand beside it. @param {number} share 0 to 1 */
export function shareBar(share) {
	const width = Math.min(100, Math.max(0, 100 * share));
	return svg(
		"svg",
		{
			class: "share-bar",
			viewBox: "0 0 100 10",
			preserveAspectRatio: "none",
			"aria-hidden": "true",
			focusable: "false",
		},
		svg("rect", { class: "share-all", x: 0, y: 0, width: 100, height: 10 }),
		svg("rect", { class: "share-held", x: 0, y: 0, width, height: 10 }),
	);
}
