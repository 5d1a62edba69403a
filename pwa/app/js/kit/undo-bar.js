// "Removed. Undo": stays until it is dismissed, the next removal, or the page
// is left, because nobody in gloves can beat a timer.

import { fill, h } from "./dom.js";
import { mark } from "./mark.js";

const bar = h("div", { class: "bar undo-bar", role: "status", "aria-live": "polite" });

/**
 * offerUndo shows the bar.
 * @param {string} text what was removed
 * @param {() => void | Promise<void>} undo brings it back
 */
export function offerUndo(text, undo) {
	fill(
		bar,
		h("p", null, text),
		h(
			"button",
			{
				type: "button",
				on: {
					click: async () => {
						dismiss();
						await undo();
					},
				},
			},
			"Undo",
		),
		h(
			"button",
			{ type: "button", class: "bar-close", "aria-label": "Leave it removed", on: { click: dismiss } },
			mark("remove"),
		),
	);
	document.getElementById("notices")?.append(bar);
	addEventListener("hashchange", dismiss, { once: true });
}

function dismiss() {
	bar.remove();
}
