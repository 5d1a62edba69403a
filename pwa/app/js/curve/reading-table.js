// Every reading with its verdict, speed by speed, rising beside falling.

import { asWritten, rpm, signed } from "../kit/format.js";
import { h } from "../kit/dom.js";
import { inBandRule } from "./in-band.js";
import { verdictMark } from "../kit/mark.js";
import { bandWords, degWords } from "../kit/plate/stops.js";

/**
 * @param {Judgement} judgement @param {readonly ReadingSet[]} sets
 * @returns {HTMLElement[]}
 */
export function readingTables(judgement, sets) {
	return sets.flatMap((set, i) => {
		const points = judgement.points.filter((p) => p.set === i);
		return points.length ? [tableOf(set, points)] : [];
	});
}

/** @param {ReadingSet} set @param {readonly JudgedPoint[]} points */
function tableOf(set, points) {
	const where = set.place === "bench" ? "On the bench" : "On the car";
	const what = set.base === "included" ? "total crank degrees before TDC" : "crank degrees of advance, without base";
	const title = `${where}: ${what}`;
	const isTwice = points.some((p) => p.baseOffVerdict && p.base === "included");
	const heads = isTwice
		? ["engine rpm", "reading", "as read", "base taken off", "allowed", "out by"]
		: ["engine rpm", "reading", "allowed", "out by", "verdict"];
	return h(
		"div",
		null,
		h("p", { class: "note" }, inBandRule(points[0].readingErrorCrankDeg)),
		h(
			"div",
			{ class: "table-room", tabindex: "0", role: "region", "aria-label": title },
			h(
				"table",
				{ class: "ruled readings-judged" },
				h("caption", null, title),
				h(
					"thead",
					null,
					h(
						"tr",
						null,
						heads.map((text) => h("th", { scope: "col" }, text)),
					),
				),
				h(
					"tbody",
					null,
					bySpeed(points).map((p) => row(p, set, isTwice)),
				),
			),
		),
	);
}

/** @param {readonly JudgedPoint[]} points */
function bySpeed(points) {
	return [...points].sort((a, b) => a.engineRPM - b.engineRPM || asWritten(b.direction, a.direction));
}

/** @param {JudgedPoint} p @param {ReadingSet} set @param {boolean} isTwice judged with the base taken off too */
function row(p, set, isTwice) {
	const quantity = set.base === "included" ? "total" : "advance";
	const value = degWords(p.measuredCrankDeg, quantity).replace(/ (of advance|before TDC)$/, "");
	const book = [
		h(
			"td",
			{ class: "figure" },
			bandWords(p.minCrankDeg, p.maxCrankDeg),
			p.silent
				? h("span", { class: "note" }, " no figure in the book: possible")
				: p.held
					? h("span", { class: "note" }, " held")
					: null,
		),
		h("td", { class: "figure" }, Math.abs(p.deviationCrankDeg) < 0.05 ? "–" : signed(p.deviationCrankDeg)),
	];
	const verdicts = [p.verdict, ...(isTwice ? [p.baseOffVerdict] : [])].map((verdict, i, { length }) =>
		h(
			"td",
			{ class: "verdict-cell" },
			verdict ? verdictMark(verdict) : "",
			p.alone && i === length - 1 ? [h("br"), h("span", { class: "note" }, "take again")] : null,
		),
	);
	return h(
		"tr",
		{ class: `is-${p.verdict}` },
		h("th", { scope: "row", class: "figure" }, rpm(p.engineRPM)),
		h(
			"td",
			{ class: "figure" },
			h("span", { class: "direction", "aria-hidden": "true" }, p.direction === "rising" ? "△ " : "▽ "),
			h("span", { class: "vh" }, `${p.direction} `),
			value,
		),
		isTwice ? [verdicts, book] : [book, verdicts],
	);
}
