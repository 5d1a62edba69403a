// The lines that say which figures were left out, each with the way to where
// it stands.

import { drafts } from "../kept/drafts.js";
import { h } from "../kit/dom.js";
import { mark } from "../kit/mark.js";

const most = 5; // lines; more say how many there are

/** @param {import("./left-out.js").LeftOut[]} list */
export function leftOutLines(list) {
	if (!list.length) return null;
	const rest = list.length - most;
	return h(
		"div",
		{ class: "left-out", role: "note", "aria-label": "Left out" },
		list.slice(0, most).map(({ text, href, set }) => [
			h("p", { class: "note" }, mark("watch"), " ", text),
			h(
				"a",
				{
					class: "button",
					href,
					on: {
						click: () => {
							if (set) drafts.put(`stage/${set}`, "start");
						},
					},
				},
				"Correct it",
			),
		]),
		rest > 0 ? h("p", { class: "note" }, `And ${rest} more.`) : null,
	);
}
