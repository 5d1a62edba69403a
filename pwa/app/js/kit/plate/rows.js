// Figures in rows under one another.

import { h } from "../dom.js";

/**
 * figureRows draws a table, the first of each row as its head.
 * @param {object} of
 * @param {string} of.caption @param {readonly string[]} of.heads
 * @param {readonly (readonly import("../dom.js").Children[])[]} of.rows @param {string} [of.class]
 */
export const figureRows = ({ caption, heads, rows, class: named }) =>
	h(
		"table",
		{ class: named ?? null },
		h("caption", null, caption),
		h(
			"thead",
			null,
			h(
				"tr",
				null,
				heads.map((head) => h("th", { scope: "col" }, head)),
			),
		),
		h(
			"tbody",
			null,
			rows.map(([first, ...rest]) =>
				h(
					"tr",
					null,
					h("th", { scope: "row", class: "figure" }, first),
					rest.map((cell) => h("td", { class: "figure" }, cell)),
				),
			),
		),
	);
