// One printed sheet of a timing tape at true scale, with a ruler to check the
// printer by. All lengths in mm.

import { h, svg } from "../kit/dom.js";
import { num } from "../kit/format.js";
import { sheetMm, sheetPx } from "./marks.js";

/**
 * @typedef {{crankDeg: number, xMm: number, kind: "zero" | "ten" | "five" | "one", label?: string, side: string}}
 *   TapeLine
 */
/** @typedef {{number: number, fromMm: number, toMm: number, lines: TapeLine[], glueMm: number}} TapePage */

const top = 3;
const strip = 20; // height of the tape itself
const lengths = { zero: strip, ten: 12, five: 9, one: 6 };

/**
 * tapeSheet draws one page of the tape.
 * @param {TapePage} page @param {{count: number, beforeSide: "left" | "right", words: string, rotation: string}} about
 */
export function tapeSheet(page, about) {
	const { left } = sheetMm;
	const length = page.toMm - page.fromMm;
	const foot = top + strip;
	const drawing = svg(
		"svg",
		{
			class: "tape-drawing",
			width: sheetPx.width,
			height: sheetPx.height,
			viewBox: `0 0 ${sheetMm.width} ${sheetMm.height}`,
			role: "img",
			"aria-label": `Timing tape, sheet ${page.number} of ${about.count}: ${about.words}. Before TDC lies on the ${about.beforeSide}.`,
		},
		svg("rect", { class: "tape-cut", x: left, y: top, width: length, height: strip }),
		page.glueMm ? svg("path", { class: "tape-glue", d: `M${left + page.glueMm} ${top}v${strip}` }) : null,
		page.lines.map((line) =>
			svg("path", {
				class: `tape-line tape-${line.kind}`,
				d: `M${left + line.xMm} ${foot}v${-lengths[line.kind]}`,
			}),
		),
		page.lines
			.filter(({ label }) => label)
			.map((line) =>
				svg(
					"text",
					{
						x: left + line.xMm + (line.kind === "zero" ? 1 : 0),
						y: top + (line.kind === "zero" ? 4.6 : 6.4),
						"font-size": 4.4,
						"text-anchor": line.kind === "zero" ? "start" : "middle",
					},
					String(line.label),
				),
			),
		sides(page, about.beforeSide, length),
		ruler(foot + 7),
	);
	return h(
		"figure",
		{ class: "tape-sheet" },
		drawing,
		h(
			"figcaption",
			null,
			`Sheet ${page.number} of ${about.count}. ${about.words}. `,
			page.glueMm ? `Glue its left ${num(page.glueMm, 0)} mm under the sheet before it, line on line.` : null,
		),
	);
}

/**
 * Which side is which, spelled out on the paper.
 * @param {TapePage} page
 * @param {"left" | "right"} beforeSide
 * @param {number} length
 */
function sides(page, beforeSide, length) {
	const { left } = sheetMm;
	const words = (/** @type {string} */ text, /** @type {"start" | "end"} */ anchor) =>
		svg(
			"text",
			{
				class: "tape-words",
				x: anchor === "start" ? left : left + length,
				y: top + strip + 3.6,
				"font-size": 3,
				"text-anchor": anchor,
			},
			text,
		);
	const has = (/** @type {string} */ side) => page.lines.some((line) => line.side === side);
	const [onLeft, onRight] = beforeSide === "left" ? ["before", "after"] : ["after", "before"];
	return [
		has(onLeft) ? words(`\u2190 ${onLeft} TDC`, "start") : null,
		has(onRight) ? words(`${onRight} TDC \u2192`, "end") : null,
	];
}

/** 100 mm and 4 inches, to lay a steel rule on. @param {number} y */
function ruler(y) {
	const { left } = sheetMm;
	const ticks = Array.from(
		{ length: 101 },
		(_, mm) => `M${left + mm} ${y}v${mm % 10 === 0 ? 4 : mm % 5 === 0 ? 3 : 1.8}`,
	).join("");
	const inches = Array.from(
		{ length: 33 },
		(_, i) => `M${left + (i * 25.4) / 8} ${y + 16}v${i % 8 === 0 ? -4 : i % 4 === 0 ? -3 : -1.8}`,
	).join("");
	return svg(
		"g",
		{ class: "tape-ruler" },
		svg("path", { d: `${ticks}M${left} ${y}h100${inches}M${left} ${y + 16}h101.6` }),
		Array.from({ length: 11 }, (_, i) =>
			svg("text", { x: left + i * 10, y: y + 7.2, "font-size": 2.8, "text-anchor": "middle" }, String(i * 10)),
		),
		svg("text", { x: left + 104, y: y + 3.4, "font-size": 3.2 }, "100 mm: lay a steel rule on it."),
		svg("text", { x: left + 104, y: y + 15.4, "font-size": 3.2 }, "4 inches. One is off? Do not use it."),
	);
}
