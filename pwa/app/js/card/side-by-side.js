// Two versions beside each other: what differs is said by word and shape, and
// stands first; what is the same can be unfolded.

import { h } from "../kit/dom.js";
import { mark } from "../kit/mark.js";
import { told } from "../kit/told.js";

const states = { same: "same", differs: "differs", "mine only": "only here", "theirs only": "only there" };

/**
 * sideBySideTable draws the rows.
 * @param {SideRow[]} rows @param {{mine: string, theirs: string, title: string}} heads
 */
export function sideBySideTable(rows, { mine, theirs, title }) {
	const apart = rows.filter(({ state }) => state !== "same");
	const alike = rows.filter(({ state }) => state === "same");
	return h(
		"div",
		{ class: "beside" },
		apart.length
			? table(apart, mine, theirs, title)
			: h("p", null, mark("done"), " Every line says the same on both."),
		alike.length
			? h(
					"details",
					null,
					h("summary", null, `${alike.length} line${alike.length === 1 ? "" : "s"} the same`),
					table(alike, mine, theirs, `${title}: the same on both`),
				)
			: null,
	);
}

/** @param {SideRow[]} rows @param {string} mine @param {string} theirs @param {string} title */
function table(rows, mine, theirs, title) {
	const groups = [...new Set(rows.map(({ group }) => group))];
	return h(
		"table",
		{ class: "beside-table" },
		h("caption", null, title),
		h("thead", null, h("tr", null, h("th", { scope: "col" }, mine), h("th", { scope: "col" }, theirs))),
		groups.map((group) =>
			h(
				"tbody",
				null,
				h("tr", { class: "beside-group" }, h("th", { scope: "rowgroup", colspan: 2 }, group)),
				rows
					.filter((row) => row.group === group)
					.map((row) => [
						h(
							"tr",
							{ class: "beside-label" },
							h("th", { scope: "row", colspan: 2 }, row.label, " ", stateOf(row.state)),
						),
						h(
							"tr",
							{ class: "beside-values" },
							h("td", null, value(row.mine)),
							h("td", null, value(row.theirs)),
						),
					]),
			),
		),
	);
}

/** @param {string} text */
const value = (text) => (text ? told(text) : h("span", { class: "card-unknown" }, "unknown"));

/** @param {SideRow["state"]} state */
function stateOf(state) {
	if (state === "same") return null;
	return h(
		"span",
		{ class: "beside-state" },
		state === "differs" ? h("span", { "aria-hidden": "true" }, "≠") : mark("partly"),
		" ",
		states[state],
	);
}
