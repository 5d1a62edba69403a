// The key under a figure: each shape and line in use, drawn and named.
import { h, svg } from "../dom.js";
import { inEnglish } from "../words.js";
import { edgePath, markPath } from "./trace.js";

const MARKS = [
	{ direction: "rising", place: "bench", words: "rising, on the bench" },
	{ direction: "falling", place: "bench", words: "falling, on the bench" },
	{ direction: "rising", place: "car", words: "rising, on the car" },
	{ direction: "falling", place: "car", words: "falling, on the car" },
	{ direction: "static", place: "car", words: "static, engine stopped" },
];

/**
 * What the key names, in order. Only what the figure really shows.
 * @param {PlateInput} input
 * @returns {{kind: string, words: string}[]}
 */
export function keyOf(input) {
	const marks = MARKS.filter((m) =>
		input.points.some((p) => p.direction === m.direction && (m.direction === "static" || p.place === m.place)),
	);
	return [
		...(input.bands.length ? [{ kind: "row", words: "the book’s rows" }] : []),
		...(input.bands.some(isOpen)
			? [{ kind: "open", words: "a row with a most alone (arrow up: a least alone)" }]
			: []),
		...(input.range?.length ? rangeKey : []),
		...marks.map((m) => ({ kind: `${m.direction} ${m.place}`, words: m.words })),
		...(input.points.some((p) => p.verdict === "fail")
			? [{ kind: "stem", words: "out of band by this much" }]
			: []),
		...input.curves.map((c) => ({ kind: c.kind, words: c.name })),
		...(input.callouts ?? []).map((c) => ({ kind: `callout ${c.number}`, words: c.text })),
	];
}

/** @param {import("./band.js").BandPoint} row */
const isOpen = ({ minCrankDeg, maxCrankDeg }) => minCrankDeg === null || maxCrankDeg === null;

const rangeKey = [
	{ kind: "band", words: "what a sound distributor through them can show: readings are judged by it" },
	{ kind: "held", words: "the same beside the table, where the book gives no figure" },
];

/** @param {PlateInput} input @param {string} id */
export function key(input, id) {
	return h(
		"ul",
		{ class: "plate-key" },
		...keyOf(input).map(({ kind, words }) =>
			h("li", {}, kind.startsWith("callout") ? number(kind) : sample(kind, id), h("span", {}, inEnglish(words))),
		),
	);
}

/** @param {string} kind "callout 2" */
function number(kind) {
	return h("span", { class: "plate-key-number" }, h("span", {}, kind.slice(8)));
}

/** @param {string} kind @param {string} id */
function sample(kind, id) {
	return svg(
		"svg",
		{
			class: "plate-sample",
			width: 34,
			height: 20,
			viewBox: "0 0 34 20",
			"aria-hidden": "true",
			focusable: "false",
		},
		...sampleParts(kind, id),
	);
}

/** @param {string} kind @param {string} id @returns {SVGElement[]} */
function sampleParts(kind, id) {
	if (kind === "band") {
		return [
			svg("rect", { x: 1, y: 3, width: 32, height: 14, fill: `url(#${id}-hatch)` }),
			svg("path", { class: "plate-edge", d: "M1 3H33M1 17H33" }),
		];
	}
	if (kind === "held") return [svg("path", { class: "plate-edge plate-edge-held", d: "M1 3H33M1 17H33" })];
	if (kind === "row") return [svg("path", { class: "plate-row", d: edgePath(17, 18, 2, 6) })];
	if (kind === "open") return [svg("path", { class: "plate-row", d: edgePath(17, null, 2, 5) })];
	if (kind === "stem") return [svg("path", { class: "plate-stem", d: "M17 2V18" })];
	const [direction, place] = kind.split(" ");
	if (place) {
		const d = markPath(/** @type {"rising" | "falling" | "static"} */ (direction), 17, 10, 7);
		return [svg("path", { class: `plate-mark plate-mark-${place}`, d })];
	}
	return [svg("path", { class: `plate-line plate-line-${kind}`, d: "M1 10H33" })];
}
