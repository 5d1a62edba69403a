// What the size of the condenser does: to the spark, drawn; to the points, in
// words, with the contact that is said to build up metal; and as a table.

import { h } from "../kit/dom.js";
import { num, short } from "../kit/format.js";
import { inEnglish, t } from "../kit/words.js";
import { xyPlate } from "../kit/plate/xy-plate.js";

/** @typedef {CondenserJudgement["sizes"]} Sizes */

/** Passes from 0.18 to 0.25 µF: owners’ forum. */
const usual = { low: 0.18, high: 0.25 };

/** @param {Sizes} sizes @param {number | null} mine µF */
export function condenserPlate(sizes, mine) {
	const most = 1.15 * Math.max(...sizes.map(({ peakSecondaryKV }) => peakSecondaryKV));
	const isShown = mine !== null && mine >= sizes[0].microF && mine <= sizes[sizes.length - 1].microF;
	const line = sizes.map(({ microF, peakSecondaryKV }) => ({ x: microF, y: peakSecondaryKV }));
	return xyPlate({
		number: 1,
		title: "What the coil can give at best, by the condenser’s size. Shaded: the usual size. To the left the points burn. To the right the spark is weak.",
		lineWords: "Line: kilovolts at best, worked out.",
		x: { label: "condenser, µF", lo: 0, hi: 0.5 },
		y: { label: "kilovolts", lo: 0, hi: Math.ceil(most / 5) * 5 },
		line,
		band: [usual.low, usual.high].map((x) => ({ x, lo: 0, hi: Math.ceil(most / 5) * 5 })),
		marks: isShown
			? [
					{
						x: mine,
						y: between(line, mine),
						words: `this one: ${short(mine)} µF, ${num(between(line, mine), 0)} kilovolts at best`,
					},
				]
			: [],
	});
}

/** @param {{x: number, y: number}[]} line @param {number} x */
function between(line, x) {
	const at = Math.max(
		1,
		line.findIndex((point) => point.x >= x),
	);
	const [a, b] = [line[at - 1], line[at]];
	return a.y + ((x - a.x) / (b.x - a.x)) * (b.y - a.y);
}

const contacts = {
	fixed: "the fixed contact, on the plate",
	arm: "the arm’s contact",
	unknown: "not told while the earth is unknown",
};

/** @param {CondenserJudgement["effects"]} effects */
export function condenserEffects(effects) {
	const contact = (/** @type {keyof typeof contacts} */ which) => contacts[which].replace("earth", t("earth"));
	return h(
		"div",
		{ class: "condenser-effects" },
		effects.map((effect) =>
			h(
				"section",
				null,
				h("h3", null, effect.size === "small" ? "Too small" : "Too large"),
				h("p", null, inEnglish(effect.text)),
				h(
					"dl",
					{ class: "finding-facts" },
					h("div", null, h("dt", null, "A pit in"), h("dd", null, contact(effect.loses))),
					h("div", null, h("dt", null, "A mound on"), h("dd", null, contact(effect.gains))),
				),
			),
		),
		h(
			"p",
			{ class: "note" },
			"A weak sign only: ",
			effects[0].source,
			inEnglish(". Even grey wear is right; while points last, leave the condenser alone."),
		),
	);
}

/** @param {Sizes} sizes @param {number | null} mine */
export function condenserTable(sizes, mine) {
	const nearest =
		mine === null
			? null
			: sizes.reduce((best, one) => (Math.abs(one.microF - mine) < Math.abs(best.microF - mine) ? one : best));
	const name = "Fig. 1 as a table, with the rise at the points";
	return h(
		"details",
		{ class: "plate-words-table" },
		h("summary", null, name),
		h(
			"div",
			{ class: "table-room", tabindex: "0", role: "region", "aria-label": name },
			h(
				"table",
				{ class: "ruled" },
				h("caption", { class: "vh" }, "What each size makes of this coil"),
				h(
					"thead",
					null,
					h(
						"tr",
						null,
						["µF", "kV at best", "V at the points", "after µs", "rise V/µs"].map((words) =>
							h("th", { scope: "col" }, words),
						),
					),
				),
				h(
					"tbody",
					null,
					sizes.map((one) =>
						h(
							"tr",
							{ class: one === nearest ? "is-chosen" : null },
							h("th", { scope: "row", class: "figure" }, short(one.microF)),
							[
								num(one.peakSecondaryKV, 0),
								num(one.peakPrimaryV, 0),
								num(one.peakAtMicroS, 0),
								num(one.riseVPerMicroS, 0),
							].map((words) => h("td", { class: "figure" }, words)),
						),
					),
				),
			),
		),
		h("p", { class: "note" }, "The faster the volts rise as the points open, the more they arc."),
	);
}
