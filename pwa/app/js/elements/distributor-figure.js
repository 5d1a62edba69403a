// A figure plate of this car's distributor seen from the cap end: cam lobes,
// points, rotation and firing order as far as they are known, nothing guessed.

import { h, svg } from "../lib/dom.js";
import { parse } from "../lib/format.js";

/**
 * distributorFigure draws the plate, or gives null while the number of
 * cylinders is unknown.
 * @param {Facts} car
 * @param {Facts} distributor
 */
export function distributorFigure(car, distributor) {
	const cylinders = parse(car.cylinders?.value);
	if (cylinders === null || !Number.isInteger(cylinders) || cylinders < 2 || cylinders > 12) return null;
	const rotation = distributor.rotation?.value ?? "";
	const order = (car.firingOrder?.value ?? "").match(/\d+/g) ?? [];
	const hasOrder = order.length === cylinders && rotation !== "";
	const words = [`${cylinders} lobes`, rotation ? `turns ${rotation}` : "rotation unknown", hasOrder ? `fires ${order.join("-")}` : "firing order not drawn"];
	return h("figure", { class: "plate-figure distributor-figure" },
		svg("svg", { viewBox: "-120 -112 240 224", role: "img", "aria-label": `Distributor seen from the cap end: ${words.join(", ")}.` },
			svg("circle", { r: 78, class: "fine" }),
			svg("circle", { r: 70, class: "fine" }),
			svg("path", { d: camPath(cylinders), class: "solid" }),
			svg("circle", { r: 7, class: "hole" }),
			breaker(cylinders),
			rotation ? arrow(rotation === "clockwise") : null,
			hasOrder ? posts(order, rotation === "clockwise") : null),
		h("figcaption", { class: "note" }, h("strong", null, "Seen from the cap end. "), words.join(", "), hasOrder ? ". Where No. 1 stands in the cap is not recorded; it is drawn at the top." : "."));
}

/** @param {number} lobes a cam with rounded lobes, the first one at the heel */
export function camPath(lobes) {
	const points = [];
	for (let step = 0; step < lobes * 24; step++) {
		const turn = (step / (lobes * 24)) * 2 * Math.PI;
		const radius = 30 + (14 - lobes) * 0.5 * Math.cos(turn * lobes);
		points.push(`${(radius * Math.cos(turn)).toFixed(2)} ${(radius * Math.sin(turn)).toFixed(2)}`);
	}
	return `M${points.join("L")}Z`;
}

/** @param {number} lobes */
function breaker(lobes) {
	const reach = 30 + (14 - lobes) * 0.5; // the heel rests on a lobe: points open
	return svg("g", { class: "breaker" },
		svg("path", { d: `M${reach} 0h6v-7h-3z`, class: "solid" }),
		svg("path", { d: `M${reach + 4} 34V-36` }),
		svg("circle", { cx: reach + 4, cy: 34, r: 4 }),
		svg("path", { d: `M${reach + 6} -34h4M${reach + 13} -34h6M${reach + 19} -44v20` }));
}

/** @param {boolean} isClockwise */
function arrow(isClockwise) {
	const flip = isClockwise ? "" : "scale(-1 1)";
	return svg("g", { transform: flip, class: "turns" }, svg("path", { d: "M-46 -34A57 57 0 0 1 0 -57" }), svg("path", { d: "M-9 -64L1 -57L-8 -49" }));
}

/** @param {string[]} order @param {boolean} isClockwise */
function posts(order, isClockwise) {
	return order.map((cylinder, index) => {
		const turn = ((isClockwise ? 1 : -1) * index * 2 * Math.PI) / order.length - Math.PI / 2;
		const [x, y] = [95 * Math.cos(turn), 95 * Math.sin(turn)];
		return svg("g", null, svg("circle", { cx: x.toFixed(1), cy: y.toFixed(1), r: 13 }),
			svg("text", { x: x.toFixed(1), y: (y + 6).toFixed(1), "text-anchor": "middle" }, cylinder));
	});
}
