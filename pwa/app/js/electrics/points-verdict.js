// What was concluded of the points, in words: as found and as left, which of
// gap and dwell to trust, the reasons, the shift of the timing, the slope.

import { findings } from "../kit/finding/findings.js";
import { heroWord } from "../kit/finding/hero-word.js";
import { mark, verdictWord } from "../kit/mark.js";
import { working } from "../kit/finding/working.js";
import { h } from "../kit/dom.js";
import { fold } from "../kit/fold.js";
import { num, short } from "../kit/format.js";
import { firstCapital, inEnglish } from "../kit/words.js";

/** @param {PointsJudgement} judged */
export function heroOf(judged) {
	return h(
		"section",
		{ class: `hero is-${judged.verdict}`, "aria-labelledby": "hero-word" },
		heroWord("The points", judged.verdict),
		h("p", { class: "hero-summary" }, inEnglish(judged.summary)),
		trustWords(judged),
		working("the points", judged.working, judged.sources),
	);
}

/**
 * Once it is set, what counts is how it was left; how it was found stays beside it.
 * @param {PointsJudgement} found
 * @param {PointsJudgement} left
 */
export function heroOfBoth(found, left) {
	const word = (/** @type {PointsJudgement} */ { verdict }) => verdictWord(verdict).toLowerCase();
	return h(
		"section",
		{ class: `hero is-${left.verdict}`, "aria-labelledby": "hero-word" },
		h("p", null, mark(found.verdict), h("strong", null, ` As found: ${word(found)}. `), inEnglish(found.summary)),
		heroWord("The points, as left", left.verdict),
		h("p", { class: "hero-summary" }, inEnglish(left.summary)),
		trustWords(left),
		working("the points as left", left.working, left.sources),
		working("the points as found", found.working, found.sources),
	);
}

/** @param {PointsJudgement} judged */
function trustWords({ trust, trustText }) {
	const words = {
		dwell: "Set by dwell",
		gap: "Set by gap, then confirm by dwell",
		neither: "Set by neither yet",
		unknown: "",
	};
	return trustText
		? h(
				"p",
				{ class: "trust" },
				words[trust] ? h("strong", null, `Today: ${words[trust]}. `) : null,
				inEnglish(trustText),
			)
		: null;
}

/**
 * What is still wrong as left stands open; what was found before is folded.
 * @param {PointsJudgement} found
 * @param {PointsJudgement} left
 */
export function mendedWords(found, left) {
	const before = found.findings.filter(
		({ verdict, code }) => verdict !== "pass" && !left.findings.some((one) => one.code === code),
	);
	return [
		foundWords(left),
		before.length
			? h(
					"details",
					{ class: "more-test" },
					h(
						"summary",
						null,
						inEnglish(
							`As found: ${before.map(({ title }) => title.charAt(0).toLowerCase() + title.slice(1)).join("; ")}`,
						),
					),
					findings(before),
					otherReasons(found),
				)
			: null,
	];
}

/**
 * What is wrong stands open; what is in order is folded, so that the way to the fields stays short.
 * @param {PointsJudgement} judged
 */
export function foundWords(judged) {
	const wrong = judged.findings.filter(({ verdict }) => verdict !== "pass");
	const right = judged.findings.filter(({ verdict }) => verdict === "pass");
	return [
		wrong.length ? fold("points/found", { title: "What is found" }, findings(wrong), otherReasons(judged)) : null,
		right.length
			? h(
					"details",
					{ class: "more-test" },
					h(
						"summary",
						null,
						inEnglish(
							`In order: ${right.map(({ title }) => title.charAt(0).toLowerCase() + title.slice(1)).join("; ")}`,
						),
					),
					findings(right),
				)
			: null,
	];
}

/** @param {PointsJudgement} judged */
function otherReasons({ reasons }) {
	if (reasons.length < 2) return null;
	return h(
		"details",
		{ class: "more-test" },
		h("summary", null, `All ${reasons.length} reasons for it, likeliest first`),
		h(
			"ol",
			{ class: "working-lines" },
			reasons.map(({ text: why, test }) =>
				h("li", null, inEnglish(`${firstCapital(why)}. `), h("em", null, inEnglish(`Test: ${test}.`))),
			),
		),
	);
}

/** @param {PointsShift} shift @param {number | null} k @param {number} usual crank degrees for a degree of dwell */
export function shiftWords(shift, k, usual) {
	const range =
		k === null && shift.timingShiftCrankDeg !== 0
			? `Expected ${short(usual)} for 1. A lobe steeper on one side makes it anything from ${num(Math.abs(shift.leastCrankDeg))} to ${num(Math.abs(shift.mostCrankDeg))}; only the test lamp tells.`
			: "";
	return h(
		"div",
		{ class: "boxed shift" },
		h("p", { class: "hero-summary" }, shift.text),
		range ? h("p", { class: "note" }, range) : null,
		working("the change", shift.working, shift.sources),
	);
}

/** @param {PointsSlope | null} slope */
export function slopeWords(slope) {
	if (!slope)
		return h(
			"p",
			{ class: "note" },
			"Not known yet. With gap and dwell read together it begins; with two pairs it is this distributor’s own.",
		);
	const marks = {
		learned: `Learned from this distributor’s own pairs; the interval holds in ${num(slope.statedRate * 100, 0)} of 100 such cases.`,
		"common practice": "Common practice, not this distributor’s own.",
		unknown: "Not decided.",
	};
	return h(
		"div",
		null,
		h("p", { class: "hero-summary" }, slope.text),
		h("p", { class: "note" }, marks[slope.basis]),
		slope.foretold
			.filter(({ asked }) => asked === "gap")
			.map((one) =>
				h(
					"p",
					null,
					`For the middle of the book, ${short(one.dwellDistDeg)}° of dwell, set about ${num(one.gapMm / 0.0254)} thou (${num(one.gapMm, 2)} mm); hardly outside ${num(one.low / 0.0254)} to ${num(one.high / 0.0254)} thou.${one.outside ? " That lies outside the pairs, where the line is not known." : ""}`,
				),
			),
		slope.findings.length ? findings(slope.findings) : null,
		working("the slope", slope.working, slope.sources),
	);
}
