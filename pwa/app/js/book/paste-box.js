// A whole table pasted at once, shown before it is taken.

import { readTable } from "./paste.js";
import { fill, h } from "../kit/dom.js";
import { button } from "../kit/field.js";

/**
 * pasteBox makes the folded box; open(text) shows a preview of pasted text.
 * @param {(table: {rows: Row[], noAdvanceBelow: string}) => void} onTake
 */
export function pasteBox(onTake) {
	const preview = h("div", { "aria-live": "polite" });
	const area = h("textarea", { id: "paste-table", rows: 5, spellcheck: "false", on: { input: () => draw() } });
	const element = h(
		"details",
		{ class: "paste-box" },
		h("summary", null, "Paste a whole table"),
		h(
			"label",
			{ for: "paste-table", class: "note" },
			"One speed a line, such as “1000 7-9”, “1000: 7 to 9”, “7-9 at 1000”, or columns from a table.",
		),
		area,
		preview,
	);
	const draw = () => {
		const table = readTable(area.value);
		fill(
			preview,
			area.value.trim() === ""
				? null
				: previewOf(table, () => {
						onTake(table);
						area.value = "";
						element.open = false;
						draw();
					}),
		);
	};
	return {
		element,
		/** @param {string} text */
		open(text) {
			area.value = text;
			element.open = true;
			draw();
			preview.scrollIntoView({ block: "nearest" });
		},
	};
}

/**
 * @param {{rows: Row[], noAdvanceBelow: string, unread: string[]}} table
 * @param {() => void} take
 */
function previewOf({ rows, noAdvanceBelow, unread }, take) {
	return [
		rows.length > 0
			? h(
					"table",
					{ class: "ruled-table figures" },
					h("caption", null, "Read as"),
					h(
						"thead",
						null,
						h(
							"tr",
							null,
							["Speed", "Least", "Most"].map((head) => h("th", { scope: "col" }, head)),
						),
					),
					h(
						"tbody",
						null,
						rows.map((row) =>
							h("tr", null, h("td", null, row.rpm), h("td", null, row.min), h("td", null, row.max)),
						),
					),
				)
			: h("p", null, "No line of this could be read as a speed with its degrees."),
		noAdvanceBelow ? h("p", { class: "note" }, `No advance below ${noAdvanceBelow}.`) : null,
		unread.length > 0
			? h(
					"p",
					{ class: "note" },
					`Left out, not understood: ${unread
						.slice(0, 5)
						.map((line) => `“${line.slice(0, 40)}”`)
						.join(", ")}${unread.length > 5 ? ` and ${unread.length - 5} more` : ""}.`,
				)
			: null,
		rows.length > 0 ? button(`Add ${rows.length === 1 ? "this row" : `these ${rows.length} rows`}`, take) : null,
	];
}
