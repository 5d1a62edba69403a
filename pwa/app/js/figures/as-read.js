// What was read, before anything is stored: the rows, what was mended, and the
// lines that became no row.

import { h } from "../kit/dom.js";
import { fold } from "../kit/fold.js";
import { short } from "../kit/format.js";
import { figureRows } from "../kit/plate/rows.js";
import { firstCapital, inEnglish } from "../kit/words.js";

/** @typedef {import("./put-in.js").ReadTable} ReadTable @typedef {import("./put-in.js").ReadRow} ReadRow */

const first = 8; // rows shown at once. Chosen: they leave room for the button beneath on one screen

/** @param {ReadTable} table */
export function asRead(table) {
	const { rows, rowCount, noAdvanceBelowRPM: below } = table;
	const rest = rows.slice(first);
	return [
		h("p", { class: "lead" }, inEnglish(headWords(table))),
		rowTable(table, rows.slice(0, first), "Read as"),
		below === undefined ? null : h("p", null, `No advance below ${below}.`),
		rest.length
			? fold(
					"figures/rest",
					{ title: `${rest.length} more rows`, level: "h3" },
					rowTable(table, rest, "The other rows"),
				)
			: null,
		rowCount > rows.length ? h("p", { class: "note" }, `${rowCount} rows in all; ${rows.length} are taken.`) : null,
	];
}

/** @param {ReadTable} table */
function headWords({ what, angleUnit, speedUnit, base, rows }) {
	const holds = base === "included" ? "base in it" : "base not in it";
	const kind = what === "spec" ? "The book’s table" : "Readings";
	return `${kind}, ${rows.length} row${rows.length === 1 ? "" : "s"}: ${angleUnit} degrees, ${speedUnit} rpm, ${holds}.`;
}

/** @param {ReadTable} table @param {ReadRow[]} rows @param {string} caption */
function rowTable({ what }, rows, caption) {
	const heads = what === "spec" ? ["Speed", "Least", "Most"] : ["Speed", "Degrees", "Taken"];
	return figureRows({ caption, heads, rows: rows.map((row) => cells(what, row)), class: "ruled-table figures" });
}

/** @param {string} what @param {ReadRow} row */
function cells(what, { rpm, minDeg, maxDeg, deg, direction, place, vacuum }) {
	if (what === "spec") return [String(rpm), minDeg ?? null, maxDeg ?? null].map((x) => (x === null ? "–" : exact(x)));
	const taken = [direction, place, vacuum ? `vacuum ${vacuum}` : ""].filter(Boolean).join(", ");
	return [String(rpm), exact(deg ?? 0), taken];
}

/** @param {string | number} x a figure as it is stored; thirds are shown shortened */
const exact = (x) => (typeof x === "string" || String(x).length < 8 ? String(x).replace("-", "−") : short(x));

/** What was mended, and what was left out. @param {ReadTable} table */
export function saidOf({ notes, leftOut }) {
	const lines = leftOut.filter(({ because }) => because !== "a comment");
	return [
		lines.length
			? fold(
					"figures/left-out",
					{
						title: `Left out: ${lines.length} line${lines.length === 1 ? "" : "s"}`,
						level: "h3",
						isOpen: lines.length < 4,
					},
					h(
						"ul",
						{ class: "ruled", role: "list" },
						lines.map(({ line, text, because }) =>
							h("li", null, `Line ${line}: “`, h("bdi", null, text), "”. ", inEnglish(capital(because))),
						),
					),
				)
			: null,
		notes.length
			? fold(
					"figures/notes",
					{ title: "What was taken for granted", level: "h3", answer: `${notes.length}` },
					h(
						"ul",
						{ class: "ruled", role: "list" },
						notes.map(({ text }) => h("li", null, inEnglish(text))),
					),
				)
			: null,
	];
}

/** @param {string} text */
const capital = (text) => `${firstCapital(text)}.`;
