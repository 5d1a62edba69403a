// The start on a low battery, and which way round the spark jumps.

import { keepFactOf } from "../data/electrics.js";
import { h } from "../lib/dom.js";
import { num, short } from "../lib/format.js";
import { caution } from "./caution.js";
import { choice } from "./field.js";
import { findings } from "./findings.js";
import { verdictMark } from "./marks.js";
import { inEnglish } from "../lib/words.js";

/** @param {readonly CrankingRow[]} rows @param {readonly CrankingRow[] | null} changed @param {boolean} ballasted */
export function startTable(rows, changed, ballasted) {
	const title = "The start, cranking on a low battery";
	const name = (/** @type {CrankingRow} */ row) => (row.bypass ? "past the ballast: the starting bypass works" : ballasted ? "through the ballast: no bypass, or a dead one" : "no ballast");
	return h("section", { "aria-labelledby": "start-title" }, h("h2", { id: "start-title" }, title),
		h("ul", { class: "start-rows ruled", role: "list" }, [...rows.map((row) => ({ row, what: "" })), ...(changed ?? []).map((row) => ({ row, what: "with the changes, " }))].map(({ row, what }) => h("li", null,
			h("p", null, h("strong", { class: "start-verdict" }, verdictMark(row.verdict)), " ", `${what}${name(row)}`),
			h("p", { class: "figures" }, `${short(row.batteryV)} V at ${short(row.engineRPM)} rpm: ${num(row.currentA)} A, the coil can give ${num(row.availableLowKV)} to ${num(row.availableKV)} kV; the plug may ask ${num(row.requiredLowKV)} to ${num(row.requiredKV)} kV.`)))));
}

/**
 * The questions about polarity, and the answer.
 * @param {Doc<Car>} car @param {PolarityAnswer | null} answer @param {() => void} changed
 */
export function polarityPart(car, answer, changed) {
	const facts = car.body.facts;
	const value = (/** @type {string} */ key) => facts[key]?.value ?? "";
	const ask = (/** @type {string} */ key, /** @type {string} */ label, /** @type {[string, string][]} */ options) => choice({
		label, name: key, value: value(key), isRow: true, options: [...options.map(([one, words]) => ({ value: one, label: words })), { value: "", label: "not known" }],
		onChange: async (next) => { await keepFactOf("car", car.id, key, { value: next, source: next ? "measured" : "" }); changed(); },
	}).element;
	const marks = value("coilMarks");
	const terminals = /** @type {[string, string][]} */ (marks === "plus-minus" ? [["+", "+"], ["-", "−"]] : [["SW", "SW"], ["CB", "CB"]]);
	return h("section", { "aria-labelledby": "polarity-title" }, h("h2", { id: "polarity-title" }, "Which way round the spark jumps"),
		answer ? h("p", { class: "polarity-answer" }, h("strong", null, verdictMark(answer.verdict)), " ", inEnglish(answer.summary)) : null,
		answer ? h("p", null, inEnglish(answer.wantedText)) : null,
		answer?.findings.length ? findings(answer.findings) : null,
		caution("before the coil is touched", ["Ignition off. High tension throws the hand; with a pacemaker, leave a live spark to others."]),
		ask("coilMarks", "Stamped at the coil’s two small terminals", [["plus-minus", "+ and −"], ["sw-cb", "SW and CB"], ["none", "nothing"]]),
		marks === "plus-minus" || marks === "sw-cb" ? ask("coilTerminal", "The distributor’s wire is on", terminals) : null,
		marks === "sw-cb" ? ask("coilMadeFor", "The coil was made for", [["positive", "positive earth"], ["negative", "negative earth"]]) : null,
		ask("sparkFlare", "A graphite point between lead and plug: it flares on the side of", [["plug", "the plug"], ["lead", "the lead"]]));
}
