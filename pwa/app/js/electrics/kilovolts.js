// The inside of the spark's figure: kilovolts over engine speed. One band is
// what the coil can give (dirty plug to clean, losses taken off), the other what the plug may
// ask for; where they meet the engine misfires. Dashed lines are the changes.
import { svg } from "../kit/dom.js";
import { clip, hatch, ruling } from "../kit/plate/draw.js";
import { DEGREE_STEPS, RPM_STEPS, linear, roundOut, tickStep, ticks } from "../kit/plate/scale.js";
import { closedPath, linePath } from "../kit/plate/trace.js";

/**
 * @typedef {object} SparkPlateInput
 * @property {number} [number] @property {string} title
 * @property {readonly SparkRow[]} found the spark over speed as the car is, rising speed
 * @property {readonly SparkRow[] | null} changed the same with the changes tried
 * @property {readonly number[]} stops speeds that are read one by one
 *
 * @typedef {Pick<import("../kit/plate/layout.js").Layout, "width" | "height" | "font" | "field" | "x" | "y" |
 *   "rpmTicks" | "degTicks">} KVLayout degTicks are kilovolts here
 */

const GLYPH = 0.58; // width of a figure as a share of the font size

/**
 * @param {SparkPlateInput} input @param {{width: number, font: number, maxHeight: number}} room
 * @returns {KVLayout}
 */
export function kvLayout(input, { width, font, maxHeight }) {
	const rows = [...input.found, ...(input.changed ?? [])];
	const [, topRPM] = roundOut(0, Math.max(1000, ...rows.map((row) => row.engineRPM)), 500);
	const [, topKV] = roundOut(0, 1.14 * Math.max(10, ...rows.flatMap((row) => [row.realHighKV, row.requiredKV])), 5);
	const [left, top, right, bottom] = [
		Math.ceil(font * GLYPH * 2 + 16),
		Math.ceil(font * 1.25 + 8),
		Math.ceil(font * GLYPH * 2.8),
		Math.ceil(font * 2.5 + 14),
	];
	const plot = Math.max(font * 8, width - left - right);
	const height = Math.round(
		Math.min(Math.max(plot * 0.92, font * 12), Math.max(font * 9, maxHeight - top - bottom), 520),
	);
	const field = { x: left, y: top, width: plot, height };
	return {
		width,
		height: top + height + bottom,
		font,
		field,
		x: linear(0, topRPM, field.x, field.x + plot),
		y: linear(0, topKV, field.y + height, field.y),
		rpmTicks: ticks(0, topRPM, tickStep(topRPM, plot, font * GLYPH * 4 + 10, RPM_STEPS)),
		degTicks: ticks(0, topKV, tickStep(topKV, height, font * 1.7, DEGREE_STEPS)),
	};
}

/** @param {SparkPlateInput} input @param {KVLayout} layout @param {string} id @returns {SVGElement[]} */
export function kvDrawing(input, layout, id) {
	const inside = { "clip-path": `url(#${id}-field)` };
	const { found, changed } = input;
	const lines = [
		...band(found, layout, "requiredLowKV", "requiredKV", "plate-edge plate-edge-need", `url(#${id}-need)`),
		...band(found, layout, "dirtyLowKV", "realHighKV", "plate-edge", `url(#${id}-hatch)`),
		svg("path", { class: "plate-line", d: line(found, layout, "realHighKV") }),
		svg("path", { class: "plate-line plate-line-need", d: line(found, layout, "requiredKV") }),
		...(changed
			? [line(changed, layout, "realHighKV"), line(changed, layout, "dirtyLowKV")].map((d) =>
					svg("path", { class: "plate-line plate-line-what-if", d }),
				)
			: []),
		...(changed && changed[0].requiredKV !== found[0].requiredKV
			? [
					svg("path", {
						class: "plate-line plate-line-need plate-line-need-changed",
						d: line(changed, layout, "requiredKV"),
					}),
				]
			: []),
	];
	return [
		svg("defs", {}, hatch(`${id}-hatch`), needHatch(`${id}-need`), clip(`${id}-field`, layout.field)),
		svg("rect", { class: "plate-paper", x: 0, y: 0, width: layout.width, height: layout.height }),
		ruling(layout),
		svg("g", inside, ...lines),
		...scales(layout),
		...names(input, layout),
	];
}

/**
 * @param {readonly SparkRow[]} rows
 * @param {KVLayout} layout
 * @param {"realHighKV" | "dirtyLowKV" | "requiredKV" | "requiredLowKV"} field
 */
function spots(rows, { x, y }, field) {
	return rows.map((row) => ({ x: x.at(row.engineRPM), y: y.at(row[field]) }));
}

/**
 * @param {readonly SparkRow[]} rows
 * @param {KVLayout} layout
 * @param {"realHighKV" | "dirtyLowKV" | "requiredKV" | "requiredLowKV"} field
 */
const line = (rows, layout, field) => linePath(spots(rows, layout, field));

/**
 * @param {readonly SparkRow[]} rows
 * @param {KVLayout} layout
 * @param {"dirtyLowKV" | "requiredLowKV"} low
 * @param {"realHighKV" | "requiredKV"} high
 * @param {string} look @param {string} tint
 */
function band(rows, layout, low, high, look, tint) {
	const [foot, top] = [spots(rows, layout, low), spots(rows, layout, high)];
	return [
		svg("path", { class: "plate-band", d: closedPath([...top, ...foot.toReversed()]), fill: tint }),
		svg("path", { class: look, d: linePath(foot) }),
	];
}

/** @param {KVLayout} layout */
function scales({ field, x, y, font, rpmTicks, degTicks }) {
	const foot = field.y + field.height;
	const words = (
		/** @type {string} */ text,
		/** @type {number} */ at,
		/** @type {number} */ down,
		/** @type {string} */ anchor,
		look = "plate-figure",
	) => svg("text", { class: look, x: at, y: down, "text-anchor": anchor, "font-size": font }, text);
	return [
		svg("rect", { class: "plate-frame", x: field.x, y: field.y, width: field.width, height: field.height }),
		svg("path", {
			class: "plate-tooth",
			d: [
				...degTicks.map((kV) => `M${field.x} ${y.at(kV)}h-8`),
				...rpmTicks.map((rpm) => `M${x.at(rpm)} ${foot}v8`),
			].join(""),
		}),
		...degTicks.map((kV) => words(String(kV), field.x - 11, y.at(kV) + font * 0.35, "end")),
		...rpmTicks.map((rpm) => words(String(rpm), x.at(rpm), foot + 9 + font, "middle")),
		words("kilovolts", 2, font, "start", "plate-words"),
		words("engine rpm", field.x + field.width / 2, foot + 8 + font * 2.2, "middle", "plate-words"),
	];
}

/** The need is ruled the other way and without tint: where the bands cross, so do the lines. @param {string} id */
function needHatch(id) {
	return svg(
		"pattern",
		{ id, width: 7, height: 7, patternUnits: "userSpaceOnUse", patternTransform: "rotate(-45)" },
		svg("line", { class: "plate-hatch plate-hatch-need", x1: 3.5, y1: 0, x2: 3.5, y2: 7 }),
	);
}

/**
 * The names of the two bands: one over what the coil can give, one under what the plug may ask.
 * @param {SparkPlateInput} input
 * @param {KVLayout} layout
 */
function names({ found }, { field, x, y, font }) {
	const top = Math.min(...found.slice(0, Math.ceil(found.length / 2)).map((row) => y.at(row.realHighKV)));
	const foot = Math.max(...found.slice(0, Math.ceil(found.length / 2)).map((row) => y.at(row.requiredLowKV)));
	const put = (/** @type {string} */ text, /** @type {number} */ down) =>
		svg(
			"text",
			{
				class: "plate-words plate-halo",
				x: Math.max(field.x + 8, x.at(found[0].engineRPM)),
				y: down,
				"font-size": font,
			},
			text,
		);
	return [
		put("the coil can give", Math.max(field.y + font, top - font * 0.5)),
		put("the plug may ask", Math.min(field.y + field.height - 6, foot + font * 1.2)),
	];
}
