// The setup card as one sheet: what it is, from whom, what to mind, how it was
// set, the book, the readings. What is unknown says so. Everything on it is
// text that somebody typed, set apart in its own writing direction.

import { bookOf, lineOf, ratioOf } from "../record/curve-lines.js";
import { cardGroups, cardRows, isBenchSheet } from "./card-rows.js";
import { workLine } from "./card-work.js";
import { cardVerdicts } from "./card-verdict.js";
import { dayName } from "../record/visits.js";
import { num, rpm } from "../kit/format.js";
import { deferral } from "../kit/caution.js";
import { fill, h } from "../kit/dom.js";
import { fold, folded } from "../kit/fold.js";
import { curvePlate } from "../kit/plate/curve-plate.js";
import { figureRows } from "../kit/plate/rows.js";
import { mark, verdictWord } from "../kit/mark.js";
import { told } from "../kit/told.js";
import { inEnglish } from "../kit/words.js";

/** An unknown is a word, never a gap. */
const unknown = () => h("span", { class: "card-unknown" }, "unknown");

/**
 * setupCard draws the sheet.
 * @param {SetupCard} card @param {HTMLElement | null} [code] a code that leads to the card, for paper only
 */
export function setupCard(card, code = null) {
	const rows = cardRows(card);
	const figures =
		(card.spec?.points.length ?? 0) +
		(card.curves ?? []).reduce((sum, set) => sum + new Set(set.points.map((point) => point.rpm)).size, 0);
	return h(
		"article",
		{
			class: "setup-card",
			"aria-label": `Setup card of ${card.car.name}`,
			"data-dense": rows.length > 44 || figures > 36,
		},
		h("h2", { class: "vh" }, "The card"),
		whoLine(card),
		warnings(card),
		verdictRoom(card),
		h("div", { class: "card-groups" }, groups(rows), workRoom(card)),
		h(
			"div",
			{ class: "card-tables" },
			folded("card/book", bookTable(card)),
			(card.curves ?? []).map((set) => folded("card/read", curveTable(set))),
		),
		h(
			"div",
			{ class: "card-foot" },
			pictureRoom(card),
			h(
				"div",
				{ class: "card-ends" },
				card.leftUndone?.length ? linesOf("Still to do", card.leftUndone) : null,
				ends(card),
				h("p", { class: "note on-paper" }, deferral),
				code ? h("div", { class: "card-code" }, code) : null,
			),
		),
	);
}

/**
 * whoLine says from whom and when.
 * @param {SetupCard} card
 */
export function whoLine(card) {
	return h(
		"dl",
		{ class: "card-who" },
		pair("Set by", card.setBy ? told(card.setBy) : unknown()),
		pair(
			"Checked by",
			card.checkedBy ? told(card.checkedBy) : h("span", { class: "card-unknown" }, "nobody named"),
		),
		pair("Date", card.date ? told(dayName(card.date)) : unknown()),
	);
}

/** @param {string} name @param {Node} value */
const pair = (name, value) => h("div", null, h("dt", null, name), h("dd", null, value));

/** @param {SetupCard} card */
function warnings(card) {
	if (!card.warnings?.length) return null;
	return h(
		"div",
		{ class: "caution card-warnings", role: "note", "aria-label": "Warnings on this card" },
		h("p", { class: "caution-head" }, mark("caution"), h("strong", null, "Read first")),
		h(
			"ul",
			null,
			card.warnings.map((line) => h("li", null, told(line))),
		),
	);
}

/** What the figures come to, once it is worked out. @param {SetupCard} card */
function verdictRoom(card) {
	const { state } = card;
	const whole = isBenchSheet(card) ? "Unit: " : "Car: ";
	const stands = state ? judgedLine(state.verdict, state.summary, whole, state.next) : null;
	const room = h("div", { class: "card-verdict", "aria-live": "polite" }, stands);
	cardVerdicts(card).then(
		(found) =>
			fill(
				room,
				stands,
				found
					.filter(({ text }) => !state || !text.endsWith(state.summary)) // said already
					.map(({ verdict, text }) => judgedLine(verdict, text)),
			),
		() => {},
	);
	return room;
}

/** @param {Verdict} verdict @param {string} text @param {string} [of] whose word it is @param {string} [next] */
const judgedLine = (verdict, text, of = "", next = "") =>
	h(
		"p",
		{ class: "step-judged" },
		mark(verdict),
		h(
			"span",
			null,
			h("strong", null, of + verdictWord(verdict)),
			" ",
			told(inEnglish(text)),
			next ? [h("strong", null, " To do: "), told(inEnglish(next))] : null,
		),
	);

/** @param {CardRow[]} rows */
function groups(rows) {
	return cardGroups.map((group) => {
		const lines = rows.filter((row) => row.group === group);
		if (!lines.length) return null;
		const isFirst = group === cardGroups[0];
		const known = lines.filter(({ text }) => text).length;
		return fold(
			`card/${group}`,
			{
				title: group,
				level: "h3",
				class: isFirst ? "card-set" : "",
				answer: known < lines.length ? `${lines.length - known} of ${lines.length} unknown` : null,
				isOpen: isFirst,
			},
			h(
				"dl",
				{ class: "card-lines" },
				lines.map(({ label, text, note }) =>
					h(
						"div",
						null,
						h("dt", null, inEnglish(label)),
						h(
							"dd",
							null,
							text ? told(text) : unknown(),
							note ? h("span", { class: "note" }, " ", told(note)) : null,
						),
					),
				),
			),
		);
	});
}

/** What was done last. @param {SetupCard} card */
function workRoom({ work = [] }) {
	if (!work.length) return null;
	return fold(
		"card/work",
		{
			title: "Work done",
			level: "h3",
			answer: `${work.length} change${work.length === 1 ? "" : "s"}`,
		},
		h(
			"ul",
			{ class: "card-work" },
			work.map((one) =>
				h(
					"li",
					null,
					told(workLine(one, inEnglish)),
					one.date ? h("span", { class: "note" }, ` ${dayName(one.date)}`) : null,
				),
			),
		),
	);
}

/** A row may name only a least or only a most. @param {number | undefined} deg */
const edge = (deg) => (deg === undefined ? "not named" : num(deg));

/** @param {SetupCard} card */
function bookTable({ car, spec, specSource }) {
	const by = car.facts?.chosenCurve ? "By the curve chosen for this engine" : "By the book";
	if (!spec)
		return h("section", null, h("h3", null, "By the book"), h("p", null, "The book’s table is ", unknown(), "."));
	const base = spec.baseCrankDeg;
	const title = [
		spec.base === "included" ? "base in the figures" : "base apart",
		base === undefined
			? "base unknown"
			: `base ${num(Math.abs(base), Number.isInteger(base) ? 0 : 1)} crank degrees ${base < 0 ? "after" : "before"} TDC`,
		spec.baseToleranceCrankDeg ? `± ${num(spec.baseToleranceCrankDeg)}` : "",
		spec.limitDistDeg ? `stop ${spec.limitDistDeg} distributor degrees` : "",
	]
		.filter(Boolean)
		.join(", ");
	return h(
		"section",
		null,
		h("h3", null, by),
		specSource ? h("p", { class: "note" }, told(specSource)) : null,
		table(
			title,
			[`${spec.speedUnit} rpm`, `least, ${spec.angleUnit} degrees`, `most, ${spec.angleUnit} degrees`],
			spec.points.map((point) => [rpm(point.rpm), edge(point.minDeg), edge(point.maxDeg)]),
		),
	);
}

/** @param {ReadingSet} set */
function curveTable(set) {
	const speeds = [...new Set(set.points.map((point) => point.rpm))].sort((a, b) => a - b);
	const isBothWays = set.points.some(({ direction }) => direction === "falling");
	/** @param {number} speed @param {boolean} falling */
	const at = (speed, falling) =>
		set.points
			.filter((point) => point.rpm === speed && (point.direction === "falling") === falling)
			.map(({ deg }) => num(deg))
			.join(", ") || "–";
	const how = [
		set.base === "included" ? "base in the figures" : "base apart",
		set.vacuum === "off"
			? "vacuum pipe off"
			: set.vacuum === "connected"
				? "vacuum connected"
				: "vacuum pipe not said",
	].join(", ");
	return h(
		"section",
		{ class: "card-read" },
		h("h3", null, "Read: ", told(set.name ?? (set.place === "bench" ? "on the bench" : "on the car"))),
		table(
			`${set.place === "bench" ? "On the bench" : "By strobe on the car"}, ${how}`,
			[
				`${set.speedUnit} rpm`,
				`${isBothWays ? "rising, " : ""}${set.angleUnit} degrees`,
				...(isBothWays ? [`falling, ${set.angleUnit} degrees`] : []),
			],
			speeds.map((speed) => [rpm(speed), at(speed, false), ...(isBothWays ? [at(speed, true)] : [])]),
		),
	);
}

/** @param {string} caption @param {string[]} heads @param {string[][]} rows */
const table = (caption, heads, rows) =>
	figureRows({ caption: inEnglish(caption), heads, rows, class: "ruled card-table" });

/** @param {SetupCard} card */
function pictureRoom(card) {
	const figure = picture(card);
	return figure ? fold("card/figure", { title: "The figure", level: "h3" }, figure) : null;
}

/** The readings on one plate with the book's band. @param {SetupCard} card */
function picture(card) {
	const sets = card.curves ?? [];
	const quantity = sets.some((set) => set.base === "excluded")
		? "advance"
		: sets.length
			? "total"
			: card.spec?.base === "excluded"
				? "advance"
				: "total";
	const shown = sets.filter((set) => (set.base === "included") === (quantity === "total"));
	const isNewest = (/** @type {ReadingSet} */ set) => shown.find(({ place }) => place === set.place) === set;
	const points = shown.filter(isNewest).flatMap((set) => pointsOf(card, set));
	const bands = bookOf(card, quantity) ?? [];
	if (!points.length && bands.length < 2) return null;
	return curvePlate({
		title:
			quantity === "advance"
				? "Advance above base, as read, against the book."
				: "Total timing before TDC, as read, against the book.",
		axis: { quantity, driveRatio: ratioOf(card), baseCrankDeg: card.spec?.baseCrankDeg ?? null },
		bands,
		points,
		curves: shown
			.filter((set) => !isNewest(set))
			.flatMap((set) => {
				const line = lineOf(card, set, quantity);
				return line
					? [{ kind: /** @type {const} */ ("found"), name: `before: ${line.name}`, points: line.points }]
					: [];
			}),
	});
}

/** @param {SetupCard} card @param {ReadingSet} set @returns {PlatePoint[]} */
function pointsOf(card, set) {
	const quantity = set.base === "included" ? "total" : "advance";
	return set.points.flatMap((point) => {
		const line = lineOf(card, { ...set, points: [point] }, quantity);
		return line
			? line.points.map((one) => ({ ...one, direction: point.direction ?? "rising", place: set.place }))
			: [];
	});
}

/** @param {string} title @param {string[]} lines */
function linesOf(title, lines) {
	return h(
		"section",
		null,
		h("h3", null, title),
		h(
			"ul",
			null,
			lines.map((line) => h("li", null, told(line))),
		),
	);
}

/** @param {SetupCard} card */
const ends = (card) =>
	h(
		"dl",
		{ class: "card-who" },
		card.leftUndone?.length ? null : pair("Still to do", h("span", null, "nothing is said")),
		pair("Next check", card.nextCheck ? told(card.nextCheck) : unknown()),
	);
