// A small figure plate of two scales: a band, a line, marks with their
// numbers. Drawn as the great plate is, and with the same figures in a table
// beside it for those who do not see it.

import { h, svg } from "../dom.js";
import { linear, ticks, tickStep } from "./scale.js";
import { linePath, markPath } from "./trace.js";
import { inEnglish } from "../words.js";

/**
 * @typedef {object} XYInput
 * @property {number} number of the figure @property {string} title
 * @property {{label: string, lo: number, hi: number, names?: {[at: number]: string}}} x
 * @property {{label: string, lo: number, hi: number}} y
 * @property {{x: number, lo: number, hi: number}[]} [band]
 * @property {{x: number, y: number}[]} [line] @property {string} [lineWords]
 * @property {{x: number, y: number, falling?: boolean, words: string, name?: string}[]} marks
 * @property {boolean} [stems] from zero to each mark
 */

const font = 15;
const size = { width: 358, left: 44, right: 14, top: 30, height: 220, bottom: 46 };
const steps = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500, 1000];

/** @param {XYInput} input @returns {HTMLElement} */
export function xyPlate(input) {
	const field = { x: size.left, y: size.top, width: size.width - size.left - size.right, height: size.height };
	const x = linear(input.x.lo, input.x.hi, field.x, field.x + field.width);
	const y = linear(input.y.lo, input.y.hi, field.y + field.height, field.y);
	const xTicks = input.x.names
		? Object.keys(input.x.names).map(Number)
		: ticks(input.x.lo, input.x.hi, tickStep(input.x.hi - input.x.lo, field.width, 44, steps));
	const yTicks = ticks(input.y.lo, input.y.hi, tickStep(input.y.hi - input.y.lo, field.height, 30, steps));
	const foot = field.y + field.height;
	const word = (
		/** @type {string} */ text,
		/** @type {number} */ atX,
		/** @type {number} */ atY,
		anchor = "middle",
		look = "plate-words",
	) => svg("text", { class: look, x: atX, y: atY, "text-anchor": anchor, "font-size": font }, inEnglish(text));
	return h(
		"figure",
		{ class: "plate xy-plate" },
		h(
			"div",
			{ class: "plate-sheet" },
			svg(
				"svg",
				{
					class: "plate-drawing",
					viewBox: `0 0 ${size.width} ${foot + size.bottom}`,
					role: "img",
					"aria-label": inEnglish(`Figure ${input.number}: ${input.title}. ${marksOf(input)}`),
				},
				input.band?.length
					? svg("path", {
							class: "plate-band plate-tint",
							d: bandPath(
								input.band.map((each) => ({ x: x.at(each.x), lo: y.at(each.lo), hi: y.at(each.hi) })),
							),
						})
					: null,
				svg("rect", { class: "plate-frame", x: field.x, y: field.y, width: field.width, height: field.height }),
				input.y.lo < 0
					? svg("path", { class: "plate-zero", d: `M${field.x} ${y.at(0)}h${field.width}` })
					: null,
				svg("path", {
					class: "plate-tooth",
					d:
						xTicks.map((at) => `M${x.at(at)} ${foot}v7`).join("") +
						yTicks.map((at) => `M${field.x} ${y.at(at)}h-7`).join(""),
				}),
				xTicks.map((at) =>
					word(
						input.x.names?.[at] ?? String(Number(at.toFixed(6))),
						x.at(at),
						foot + 9 + font,
						"middle",
						"plate-figure",
					),
				),
				yTicks.map((at) =>
					word(String(at).replace("-", "−"), field.x - 10, y.at(at) + 5, "end", "plate-figure"),
				),
				word(input.y.label, 2, font, "start"),
				word(input.x.label, field.x + field.width / 2, foot + size.bottom - 4),
				input.line?.length
					? svg("path", {
							class: "plate-line plate-line-found",
							d: linePath(input.line.map((spot) => ({ x: x.at(spot.x), y: y.at(spot.y) }))),
						})
					: null,
				input.stems
					? svg("path", {
							class: "plate-stem",
							d: input.marks.map((each) => `M${x.at(each.x)} ${y.at(0)}V${y.at(each.y)}`).join(""),
						})
					: null,
				input.marks.map((each) =>
					svg("path", {
						class: "plate-mark plate-mark-bench",
						d: markPath(each.falling ? "falling" : "rising", x.at(each.x), y.at(each.y), 7),
					}),
				),
			),
		),
		h(
			"figcaption",
			{ class: "plate-caption" },
			h("strong", null, `Fig. ${input.number}. `),
			inEnglish(input.title),
			input.lineWords ? ` ${inEnglish(input.lineWords)}` : "",
		),
		h(
			"ul",
			{ class: "vh" },
			input.marks.map(({ words }) => h("li", null, inEnglish(words))),
		),
	);
}

/** @param {{x: number, lo: number, hi: number}[]} corners */
function bandPath(corners) {
	const upper = corners.map((each) => `${each.x} ${each.hi}`);
	const lower = [...corners].reverse().map((each) => `${each.x} ${each.lo}`);
	return `M${[...upper, ...lower].join("L")}Z`;
}

/** @param {{marks: {words: string}[]}} input */
const marksOf = ({ marks }) => marks.map(({ words }) => words).join("; ");
