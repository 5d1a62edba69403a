// A figure plate of this car's distributor seen from the cap end: cam lobes,
// points, rotation and firing order as far as they are known, nothing guessed.

import { h, svg } from "../kit/dom.js";
import { parse } from "../kit/format.js";
import { firingOrderIn } from "../record/firing-order.js";
import { inEnglish } from "../kit/words.js";

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
	const order = firingOrderIn(car.firingOrder?.value);
	const hasOrder = order.length === cylinders && rotation !== "";
	const words = [
		`${cylinders} lobes`,
		rotation ? inEnglish(`turns ${rotation}`) : "rotation unknown",
		hasOrder ? `fires ${order.join("-")}` : "firing order not drawn",
	];
	return h(
		"figure",
		{ class: "plate-figure distributor-figure" },
		svg(
			"svg",
			{
				viewBox: "-120 -112 240 224",
				role: "img",
				"aria-label": `Distributor seen from the cap end: ${words.join(", ")}.`,
			},
			svg("circle", { r: 78, class: "fine" }),
			svg("circle", { r: 70, class: "fine" }),
			svg("path", { d: camPath(cylinders), class: "solid" }),
			svg("circle", { r: 7, class: "hole" }),
			breaker(cylinders),
			rotation ? arrow(rotation === "clockwise") : null,
			hasOrder ? posts(order, rotation === "clockwise") : null,
		),
		h(
			"figcaption",
			{ class: "note" },
			h("strong", null, "Seen from the cap end. "),
			words.join(", "),
			hasOrder ? ". Where No. 1 stands in the cap is not recorded; it is drawn at the top." : ".",
		),
	);
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

/** @param {number} lobes the heel rests on a lobe, so the points are open */
function breaker(lobes) {
	const arm = 30 + (14 - lobes) * 0.5 + 9;
	return svg(
		"g",
		{ class: "breaker" },
		svg("path", { d: `M${arm - 9} 0L${arm} -8V9L${arm - 8} 4z`, class: "solid" }),
		svg("path", { d: `M${arm} 40V-44`, class: "arm" }),
		svg("circle", { cx: arm, cy: 40, r: 6, class: "pivot" }),
		svg("path", { d: `M${arm + 2} -42h6v11h-6zM${arm + 13} -42h6v11h-6z`, class: "solid" }),
		svg("path", { d: `M${arm + 19} -54V-18` }),
	);
}

/** @param {boolean} isClockwise */
function arrow(isClockwise) {
	return svg(
		"g",
		{ transform: isClockwise ? "" : "scale(1 -1)", class: "turns" },
		svg("path", { d: "M-42 40A58 58 0 0 1 -42 -40" }),
		svg("path", { d: "M-55 -38L-41 -41L-41 -27" }),
	);
}

/** @param {number[]} order @param {boolean} isClockwise */
function posts(order, isClockwise) {
	return order.map((cylinder, index) => {
		const turn = ((isClockwise ? 1 : -1) * index * 2 * Math.PI) / order.length - Math.PI / 2;
		const [x, y] = [95 * Math.cos(turn), 95 * Math.sin(turn)];
		return svg(
			"g",
			null,
			svg("circle", { cx: x.toFixed(1), cy: y.toFixed(1), r: 13 }),
			svg("text", { x: x.toFixed(1), y: (y + 6).toFixed(1), "text-anchor": "middle" }, String(cylinder)),
		);
	});
}
