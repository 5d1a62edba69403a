// The numbered callouts of a figure: circles with leaders to what they name.
import { svg } from "../dom.js";
import { distance, placeCallouts } from "./callout.js";
import { clipLine } from "./trace.js";

/**
 * @typedef {import("./layout.js").Layout} Layout
 * @typedef {import("./callout.js").PlacedCallout} PlacedCallout
 */

/** Radius of a callout's circle, px. @param {Layout} layout */
export const calloutRadius = (layout) => layout.font * 0.86;

/** @param {PlateInput} input @param {Layout} layout @returns {PlacedCallout[]} */
export function calloutsOf(input, layout) {
	const wanted = (input.callouts ?? []).map((c) => ({ number: c.number, anchor: spot(c, layout) }));
	return placeCallouts(wanted, busySpots(input, layout), layout.field, calloutRadius(layout));
}

/** @param {{engineRPM: number, crankDeg: number}} value @param {Layout} layout */
function spot(value, { x, y, field }) {
	const inside = (/** @type {number} */ v, /** @type {number} */ lo, /** @type {number} */ hi) =>
		Math.min(hi, Math.max(lo, v));
	return {
		x: inside(x.at(value.engineRPM), field.x, field.x + field.width),
		y: inside(y.at(value.crankDeg), field.y, field.y + field.height),
	};
}

/** @param {PlateInput} input @param {Layout} layout */
function busySpots(input, layout) {
	const { x, field } = layout;
	const samples = Array.from({ length: 24 }, (_, i) => x.value(field.x + (field.width * i) / 23));
	const lines = input.curves.flatMap((curve) =>
		samples.flatMap((rpm) =>
			clipLine(curve.points, rpm, rpm)
				.slice(0, 1)
				.map((p) => spot(p, layout)),
		),
	);
	return [...input.points.map((p) => spot(p, layout)), ...lines];
}

/** @param {readonly PlacedCallout[]} callouts @param {Layout} layout @returns {SVGElement[]} */
export function calloutMarks(callouts, layout) {
	const r = calloutRadius(layout);
	return callouts.map(({ number, anchor, at }) => {
		const gap = distance(at, anchor);
		const t = gap > r ? r / gap : 0;
		const start = { x: at.x + (anchor.x - at.x) * t, y: at.y + (anchor.y - at.y) * t };
		return svg(
			"g",
			{ class: "plate-callout" },
			svg("path", { class: "plate-leader", d: `M${start.x} ${start.y}L${anchor.x} ${anchor.y}` }),
			svg("circle", { class: "plate-leader-end", cx: anchor.x, cy: anchor.y, r: 2 }),
			svg("circle", { class: "plate-ring", cx: at.x, cy: at.y, r }),
			svg(
				"text",
				{
					class: "plate-number",
					x: at.x,
					y: at.y + layout.font * 0.36,
					"text-anchor": "middle",
					"font-size": layout.font,
				},
				String(number),
			),
		);
	});
}
