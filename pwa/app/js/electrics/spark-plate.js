// The picture of the spark: what the coil can give against what the plug may
// ask for, over speed. Read by tapping, by keys, by a screen reader, on paper.
import { h, svg } from "../kit/dom.js";
import { num, rpm } from "../kit/format.js";
import { verdictMark } from "../kit/mark.js";
import { figurePlate } from "../kit/plate/frame.js";
import { kvDrawing, kvLayout } from "./kilovolts.js";
import { firstCapital } from "../kit/words.js";

export { redraw } from "../kit/plate/frame.js";

/**
 * @typedef {import("./kilovolts.js").SparkPlateInput} SparkPlateInput
 * @typedef {{key: string, engineRPM: number, kV: number, row: SparkRow, what: string, sentence: string}} SparkStop
 */

const words = {
	pass: "enough for the highest need with a clean plug",
	watch: "perhaps not enough for a worn or dirty plug",
	fail: "not enough for the highest need",
	unknown: "not known",
};

/**
 * sparkPlate draws the figure; redraw shows new values in it.
 * @param {SparkPlateInput} input
 * @param {{status?: HTMLElement, controls?: HTMLElement}} [extra]
 */
export function sparkPlate(input, extra) {
	return figurePlate(
		{
			layoutOf: kvLayout,
			drawing: kvDrawing,
			key: sparkKey,
			stopsOf: sparkStops,
			table: sparkTable,
			spot: (/** @type {SparkStop} */ stop, layout) => ({
				x: layout.x.at(stop.engineRPM),
				y: layout.y.at(stop.kV),
			}),
		},
		input,
		extra,
	);
}

/** sparkStops lists what can be read one by one. @param {SparkPlateInput} input @returns {SparkStop[]} */
export function sparkStops({ found, changed, stops }) {
	const of = (/** @type {readonly SparkRow[]} */ rows, /** @type {string} */ what) =>
		rows
			.filter((row) => stops.includes(row.engineRPM))
			.map((row) => ({
				key: `${what} ${row.engineRPM}`,
				engineRPM: row.engineRPM,
				kV: row.realHighKV,
				row,
				what,
				sentence: sentenceOf(row, what),
			}));
	return [...of(found, "as it is"), ...(changed ? of(changed, "with the changes") : [])].sort(
		(a, b) => a.engineRPM - b.engineRPM,
	);
}

/** @param {SparkRow} row @param {string} what */
function sentenceOf(row, what) {
	return `${rpm(row.engineRPM)} engine rpm, ${what}: the coil can give ${num(row.realLowKV)} to ${num(row.realHighKV)} kV, with a dirty plug ${num(row.dirtyLowKV)} to ${num(row.dirtyHighKV)} kV; the plug may ask ${num(row.requiredLowKV)} to ${num(row.requiredKV)} kV. ${firstCapital(row.verdict)}: ${words[row.verdict]}.`;
}

/** @param {SparkPlateInput} input @param {string} id */
function sparkKey({ changed }, id) {
	const lines = [
		{
			look: "plate-line",
			band: `${id}-hatch`,
			text: "the coil can give, losses taken off: from a dirty plug (foot) to a clean one (firm line)",
		},
		{
			look: "plate-line plate-line-need",
			band: `${id}-need`,
			text: "the plug may ask: from new and hot (foot) to worn and cold (chain line)",
		},
		...(changed ? [{ look: "plate-line plate-line-what-if", band: "", text: "the same with the changes" }] : []),
	];
	return h(
		"ul",
		{ class: "plate-key is-wide" },
		lines.map(({ look, band, text }) =>
			h(
				"li",
				null,
				svg(
					"svg",
					{
						class: "plate-sample",
						width: 34,
						height: 20,
						viewBox: "0 0 34 20",
						"aria-hidden": "true",
						focusable: "false",
					},
					band ? svg("rect", { x: 1, y: 4, width: 32, height: 14, fill: `url(#${band})` }) : null,
					svg("path", { class: look, d: band ? "M1 4H33" : "M1 10H33" }),
				),
				h("span", null, text),
			),
		),
	);
}

/** @param {SparkPlateInput} input @param {SparkStop[]} stops @param {boolean} isOpen */
function sparkTable(input, stops, isOpen) {
	const name = input.number ? `Fig. ${input.number} as a table` : "The figure as a table";
	return h(
		"details",
		{ class: "plate-words-table", open: isOpen },
		h("summary", null, name),
		h(
			"div",
			{ class: "table-room", tabindex: "0", role: "region", "aria-label": name },
			marginTable(stops, Boolean(input.changed), `${name}: ${input.title}`),
		),
	);
}

/** @param {SparkStop[]} stops @param {boolean} isCompared @param {string} title */
function marginTable(stops, isCompared, title) {
	const heads = [
		"engine rpm",
		...(isCompared ? ["which"] : []),
		"charge ms",
		"current A",
		"energy mJ",
		"can give kV",
		"dirty plug kV",
		"may ask kV",
		"margin kV",
		"stands",
	];
	return h(
		"table",
		{ class: "ruled" },
		h("caption", { class: "vh" }, title),
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
			stops.map(({ row, what }) =>
				h(
					"tr",
					null,
					h("th", { scope: "row", class: "figure" }, rpm(row.engineRPM)),
					isCompared ? h("td", null, what) : null,
					[
						num(row.chargeMs, 2),
						num(row.currentA),
						num(row.energyMilliJ, 0),
						`${num(row.realLowKV)}–${num(row.realHighKV)}`,
						`${num(row.dirtyLowKV)}–${num(row.dirtyHighKV)}`,
						`${num(row.requiredLowKV)}–${num(row.requiredKV)}`,
						`${num(row.realMarginLowKV)} to ${num(row.realMarginHighKV)}`,
					].map((text) => h("td", { class: "figure" }, text)),
					h("td", { class: "verdict-cell" }, verdictMark(row.verdict)),
				),
			),
		),
	);
}
