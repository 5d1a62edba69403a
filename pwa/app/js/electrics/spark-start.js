// The start on a low battery, and which way round the spark jumps.

import { keepFactOf } from "../record/car-electrics.js";
import { h } from "../kit/dom.js";
import { fold } from "../kit/fold.js";
import { num, short } from "../kit/format.js";
import { caution } from "../kit/caution.js";
import { answersTo, questionOf } from "../record/choices.js";
import { choice } from "../kit/field.js";
import { findings } from "../kit/finding/findings.js";
import { verdictMark } from "../kit/mark.js";
import { working } from "../kit/finding/working.js";
import { firstCapital, inEnglish } from "../kit/words.js";

/** @param {readonly CrankingRow[]} rows @param {readonly CrankingRow[] | null} changed @param {boolean} ballasted */
export function startTable(rows, changed, ballasted) {
	const title = "The start, cranking on a low battery";
	const name = (/** @type {CrankingRow} */ row) =>
		row.measured
			? `with the ${short(row.feedV ?? 0)} V measured at the coil`
			: row.bypass
				? "past the ballast: the starting bypass works"
				: ballasted
					? "through the ballast: no bypass, or a dead one"
					: "no ballast";
	return fold(
		"spark/start",
		{ title: title, id: "start-title" },
		h(
			"ul",
			{ class: "start-rows ruled", role: "list" },
			[
				...rows.map((row) => ({ row, what: "" })),
				...(changed ?? []).map((row) => ({ row, what: "with the changes, " })),
			].map(({ row, what }) =>
				h(
					"li",
					null,
					h(
						"p",
						null,
						h("strong", { class: "start-verdict" }, verdictMark(row.verdict)),
						" ",
						`${what}${name(row)}`,
					),
					h(
						"p",
						{ class: "figures" },
						`${short(row.batteryV)} V at ${short(row.engineRPM)} rpm: ${num(row.currentA)} A, the coil can give ${num(row.realLowKV)} to ${num(row.realHighKV)} kV; the plug may ask ${num(row.requiredLowKV)} to ${num(row.requiredKV)} kV.`,
					),
				),
			),
		),
	);
}

/**
 * needTable says what the plug asks for in the states an engine goes through:
 * each range belongs to one of them.
 * @param {PlugNeed | null} need
 */
export function needTable(need) {
	if (!need || need.conditions.length === 0) return null;
	return fold(
		"spark/need",
		{ title: "What the plug may ask for, state by state", id: "need-title" },
		h(
			"p",
			{ class: "note" },
			"A good plug: new to sound, with the gap as given. Worn: rounded and cold, its gap opened by wear.",
		),
		h(
			"ul",
			{ class: "start-rows ruled", role: "list" },
			need.conditions.map(({ words, lowKV, goodHighKV, wornHighKV }) =>
				h(
					"li",
					null,
					h("p", null, inEnglish(firstCapital(words))),
					h(
						"p",
						{ class: "figures" },
						`good plug ${num(lowKV)} to ${num(goodHighKV)} kV; worn, up to ${num(wornHighKV)} kV`,
					),
				),
			),
		),
		working("what the plug asks for", need.working, need.sources),
	);
}

/**
 * The questions about polarity, and the answer.
 * @param {Doc<Car>} car @param {PolarityAnswer | null} answer @param {() => void} changed
 */
export function polarityPart(car, answer, changed) {
	const facts = car.body.facts;
	const value = (/** @type {string} */ key) => facts[key]?.value ?? "";
	const ask = (/** @type {string} */ key, /** @type {string[]} */ only = []) =>
		choice({
			label: questionOf(key),
			name: key,
			value: value(key),
			isRow: true,
			options: [
				...answersTo(key).filter((answer) => !only.length || only.includes(answer.value)),
				{ value: "", label: "not known" },
			],
			onChange: async (next) => {
				await keepFactOf("car", car.id, key, { value: next, source: next ? "measured" : "" });
				changed();
			},
		}).element;
	const marks = value("coilMarks");
	return fold(
		"spark/polarity",
		{ title: "Which way round the spark jumps", id: "polarity-title" },
		answer
			? h(
					"p",
					{ class: "polarity-answer" },
					h("strong", null, verdictMark(answer.verdict)),
					" ",
					inEnglish(answer.summary),
				)
			: null,
		answer ? h("p", null, inEnglish(answer.wantedText)) : null,
		answer?.findings.length ? findings(answer.findings) : null,
		caution("before the coil is touched", [
			"Ignition off. High tension throws the hand; with a pacemaker, leave a live spark to others.",
		]),
		ask("coilMarks"),
		marks === "plus-minus" ? ask("coilTerminal", ["+", "-"]) : null,
		marks === "sw-cb" ? [ask("coilTerminal", ["SW", "CB"]), ask("coilMadeFor")] : null,
		ask("sparkFlare"),
	);
}
