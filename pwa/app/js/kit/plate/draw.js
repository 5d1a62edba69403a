// Draws one figure: rules, band, lines, readings, limits. No text is smaller
// than the layout's font size, and nothing is told by colour alone.
import { svg } from "../dom.js";
import { outside, rangePieces } from "./band.js";
import { axes } from "./axes.js";
import { calloutMarks, calloutsOf } from "./notes.js";
import { clipLine, closedPath, edgePath, linePath, markPath } from "./trace.js";

/**
 * @typedef {import("./layout.js").Layout} Layout
 */

/**
 * Everything inside the <svg>, in drawing order.
 * @param {PlateInput} input @param {Layout} layout @param {string} id unique on the page
 * @returns {SVGElement[]}
 */
export function drawing(input, layout, id) {
	const { field } = layout;
	const inside = { "clip-path": `url(#${id}-field)` };
	return [
		svg("defs", {}, hatch(`${id}-hatch`), clip(`${id}-field`, field)),
		svg("rect", { class: "plate-paper", x: 0, y: 0, width: layout.width, height: layout.height }),
		ruling(layout),
		svg("g", inside, ...range(input, layout, `${id}-hatch`)),
		svg("g", inside, ...limits(input, layout)),
		...axes(input, layout),
		svg("g", {}, ...input.bands.map((row) => svg("path", { class: "plate-row", d: rowPath(row, layout) }))),
		svg("g", inside, ...input.curves.map((curve) => trace(curve, layout))),
		svg("g", inside, ...input.points.map((point) => stem(point, layout)).filter((s) => s !== null)),
		svg("g", {}, ...input.points.map((point) => mark(point, layout))),
		...limitWords(input, layout),
		...calloutMarks(calloutsOf(input, layout), layout),
	];
}

/**
 * The band's tint: fine parallel lines, as an engraver shades.
 * @param {string} id
 * @param {number} [turn] degrees; another turn for another band
 */
export function hatch(id, turn = 45) {
	return svg(
		"pattern",
		{ id, width: 5, height: 5, patternUnits: "userSpaceOnUse", patternTransform: `rotate(${turn})` },
		svg("rect", { class: "plate-tint", width: 5, height: 5 }),
		svg("line", { class: "plate-hatch", x1: 2.5, y1: 0, x2: 2.5, y2: 5 }),
	);
}

/** @param {string} id @param {Layout["field"]} field */
export function clip(id, field) {
	return svg("clipPath", { id }, svg("rect", { x: field.x, y: field.y, width: field.width, height: field.height }));
}

/** The fine ruling of the paper. @param {Pick<Layout, "field" | "x" | "y" | "rpmTicks" | "degTicks">} layout */
export function ruling({ field, x, y, rpmTicks, degTicks }) {
	const down = rpmTicks.map((rpm) => `M${x.at(rpm)} ${field.y}V${field.y + field.height}`);
	const across = degTicks.map((deg) => `M${field.x} ${y.at(deg)}H${field.x + field.width}`);
	return svg("path", { class: "plate-ruling", d: [...down, ...across].join("") });
}

/**
 * What a sound distributor can show: hatched between the book's rows, beside them its edges alone.
 * @param {PlateInput} input
 * @param {Layout} layout
 * @param {string} hatchId
 */
function range(input, { x, y }, hatchId) {
	return rangePieces(input.range ?? [], x.lo, x.hi).flatMap(({ isOutside, points }) => {
		const top = points.map((p) => ({ x: x.at(p.engineRPM), y: y.at(p.maxCrankDeg) }));
		const foot = points.map((p) => ({ x: x.at(p.engineRPM), y: y.at(p.minCrankDeg) }));
		const edge = isOutside ? "plate-edge plate-edge-held" : "plate-edge";
		return [
			...(isOutside
				? []
				: [
						svg("path", {
							class: "plate-band",
							d: closedPath([...top, ...foot.toReversed()]),
							fill: `url(#${hatchId})`,
						}),
					]),
			svg("path", { class: edge, d: linePath(top) }),
			svg("path", { class: edge, d: linePath(foot) }),
		];
	});
}

/** A row of the book. @param {import("./band.js").BandPoint} row @param {Layout} layout */
function rowPath({ engineRPM, minCrankDeg, maxCrankDeg }, { x, y, font }) {
	return edgePath(
		x.at(engineRPM),
		minCrankDeg === null ? null : y.at(minCrankDeg),
		maxCrankDeg === null ? null : y.at(maxCrankDeg),
		font * 0.42,
	);
}

/** @param {PlateInput} input @param {Layout} layout */
function limits(input, { field, y }) {
	return (input.limits ?? []).map((limit) =>
		svg("path", { class: "plate-limit", d: `M${field.x} ${y.at(limit.crankDeg)}H${field.x + field.width}` }),
	);
}

/** @param {PlateInput} input @param {Layout} layout */
function limitWords(input, { field, y, font }) {
	return (input.limits ?? []).map((limit) =>
		svg(
			"text",
			{ class: "plate-words plate-halo", x: field.x + 6, y: y.at(limit.crankDeg) - 5, "font-size": font },
			limit.text,
		),
	);
}

/** @param {PlateCurve} curve @param {Layout} layout */
function trace(curve, { x, y }) {
	const spots = clipLine(curve.points, x.lo, x.hi).map((p) => ({ x: x.at(p.engineRPM), y: y.at(p.crankDeg) }));
	return svg("path", { class: `plate-line plate-line-${curve.kind}`, d: linePath(spots) });
}

/**
 * The distance out of band, drawn from the reading to the band's edge.
 * @param {PlatePoint} point @param {Layout} layout
 */
function stem(point, { x, y }) {
	const off = outside(point, point.crankDeg);
	if (Math.abs(off) < 0.05) return null;
	const at = x.at(point.engineRPM);
	const kind = point.verdict === "fail" ? "plate-stem" : "plate-stem plate-stem-watch";
	return svg("path", { class: kind, d: `M${at} ${y.at(point.crankDeg)}V${y.at(point.crankDeg - off)}` });
}

/** @param {PlatePoint} point @param {Layout} layout */
function mark(point, { x, y, font }) {
	const place = point.place === "car" || point.direction === "static" ? "plate-mark-car" : "plate-mark-bench";
	return svg("path", {
		class: `plate-mark ${place}`,
		d: markPath(point.direction, x.at(point.engineRPM), y.at(point.crankDeg), font * 0.46),
	});
}
