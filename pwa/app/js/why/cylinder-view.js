// Cylinder No. 1 in section: piston, rod and crank by the travel that the
// answer gives; what is burnt hatched; the spark at the plug a still mark.

import { svg } from "../kit/dom.js";
import { partsAt, sliderOf } from "./geometry.js";
import { eventOf, sparkAt, valueAt } from "./moment.js";

/** @typedef {import("./moment.js").Turn} Turn */

const middle = 76; // of the bore, on the plate
const deck = 28; // the crown's top
const height = 176; // from there to the lowest point of the crank
const boreOfStroke = 0.95; // the bore is not drawn to scale
const crownOfStroke = 0.42;
const skirtOfStroke = 0.66;
const webOfStroke = 0.12;
const roof = 13; // top of the chamber

/** cylinderView draws it, or gives null where stroke and so the piston are left out. @param {Turn} turn */
export function cylinderView(turn) {
	const slider = sliderOf(turn);
	if (!slider) return null;
	const scale = height / (slider.stroke * (crownOfStroke + 1 + webOfStroke) + slider.rod);
	const s = slider.stroke * scale;
	const half = (boreOfStroke * s) / 2;
	const axis = deck + partsAt(turn, slider, 0, crownOfStroke * slider.stroke).axis * scale;
	const piston = pistonOf(s, half);
	const [rod, web, pin] = [
		svg("path", { class: "why-rod" }),
		svg("path", { class: "why-web" }),
		svg("circle", { r: 4, class: "why-hole" }),
	];
	const burnt = svg("rect", { x: middle - half, y: roof, width: 2 * half, class: "why-burnt" });
	const spark = svg("path", { d: star(middle, roof + 6), class: "why-spark" });
	const element = svg(
		"g",
		null,
		burnt,
		walls(half, deck + 1.5 * s),
		plug(),
		svg("circle", { cx: middle, cy: axis, r: s / 2, class: "why-fine is-dashed" }),
		web,
		rod,
		piston,
		pin,
		svg("circle", { cx: middle, cy: axis, r: 5, class: "why-hole" }),
		svg("path", { d: `M${middle} ${axis - s / 2 - 5}v-5`, class: "why-fine" }),
		spark,
	);
	/** @param {number} deg */
	function move(deg) {
		const at = partsAt(turn, /** @type {any} */ (slider), deg, crownOfStroke * Number(slider?.stroke));
		const [crown, small] = [deck + at.crown * scale, deck + at.pin * scale];
		const big = { x: middle + at.crank.x * scale, y: deck + at.crank.y * scale };
		piston.setAttribute("transform", `translate(${middle} ${crown.toFixed(2)})`);
		rod.setAttribute("d", `M${middle} ${small.toFixed(2)}L${big.x.toFixed(2)} ${big.y.toFixed(2)}`);
		web.setAttribute("d", `M${middle} ${axis.toFixed(2)}L${big.x.toFixed(2)} ${big.y.toFixed(2)}`);
		pin.setAttribute("cx", big.x.toFixed(2));
		pin.setAttribute("cy", big.y.toFixed(2));
		burnt.setAttribute("height", burntHeight(turn, deg, crown - roof).toFixed(2));
		spark.toggleAttribute("hidden", sparkAt(turn, deg)?.place !== 1);
	}
	return { element, move };
}

/** How much of the room above the piston is hatched. @param {Turn} turn @param {number} deg @param {number} room */
function burntHeight(turn, deg, room) {
	const burnt = valueAt(turn.series.crankDeg, turn.series.burnt, deg) ?? 0;
	return room * (eventOf(turn, "spark") === null ? 0 : Math.max(0, Math.min(1, burnt)));
}

/** The piston about its crown. @param {number} s @param {number} half */
function pistonOf(s, half) {
	const [w, skirt] = [half - 1.5, skirtOfStroke * s];
	const ring = (/** @type {number} */ y) => `M${-w} ${y}H${w}`;
	return svg(
		"g",
		null,
		svg("rect", { x: -w, y: 0, width: 2 * w, height: skirt, class: "why-body" }),
		svg("path", { d: ring(5) + ring(9) + ring(13), class: "why-fine" }),
		svg("circle", { cx: 0, cy: crownOfStroke * s, r: 4, class: "why-hole" }),
	);
}

/** @param {number} half @param {number} foot */
const walls = (half, foot) => {
	const side = (/** @type {number} */ x) =>
		svg("rect", { x, y: deck - 8, width: 6, height: foot - deck + 8, class: "why-wall" });
	return [
		side(middle - half - 6),
		side(middle + half),
		svg("path", {
			d: `M${middle - half - 6} ${deck - 8}L${middle - half + 4} ${roof}H${middle + half - 4}L${middle + half + 6} ${deck - 8}`,
			class: "why-line",
		}),
	];
};

const plug = () =>
	svg(
		"g",
		null,
		svg("rect", { x: middle - 4, y: 2, width: 8, height: roof - 2, class: "why-body" }),
		svg("path", { d: `M${middle} ${roof}v3M${middle + 4} ${roof}v8h-5`, class: "why-line" }),
	);

/** A spark as an engraver draws it. @param {number} x @param {number} y */
export const star = (x, y) =>
	[0, 45, 90, 135]
		.map((deg) => {
			const [dx, dy] = [6 * Math.cos((deg * Math.PI) / 180), 6 * Math.sin((deg * Math.PI) / 180)];
			return `M${(x - dx).toFixed(1)} ${(y - dy).toFixed(1)}L${(x + dx).toFixed(1)} ${(y + dy).toFixed(1)}`;
		})
		.join("");
