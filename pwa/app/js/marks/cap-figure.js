// The cap of this car from above: posts where they stand, each with its
// cylinder, the rotor at No. 1, the way it turns.

import { h, svg } from "../kit/dom.js";
import { inEnglish } from "../kit/words.js";

/** @typedef {{clock: number, cylinder: number, flash: number, angleDeg: number, say: string}} Post */

/** A place on the clock face. @param {number} angleDeg clockwise from 12 @param {number} radius */
export function onFace(angleDeg, radius) {
	const turn = ((angleDeg - 90) * Math.PI) / 180;
	return { x: Math.round(radius * Math.cos(turn) * 10) / 10, y: Math.round(radius * Math.sin(turn) * 10) / 10 };
}

/**
 * capFigure draws the plan.
 * @param {{posts: Post[]}} plan @param {"clockwise" | "anticlockwise"} rotation @param {string} words
 */
export function capFigure(plan, rotation, words) {
	const [first] = plan.posts;
	const tip = onFace(first.angleDeg, 68);
	return h(
		"figure",
		{ class: "plate-figure distributor-figure cap-figure" },
		svg(
			"svg",
			{
				viewBox: "-130 -130 260 260",
				role: "img",
				"aria-label": `Cap from above: ${words}. ${plan.posts.map(({ cylinder, say }) => `No. ${cylinder} at ${say}`).join(", ")}.`,
			},
			svg("circle", { r: 84, class: "fine" }),
			svg("circle", { r: 74, class: "fine" }),
			[12, 3, 6, 9]
				.filter((hour) => Math.abs(((hour * 30 - first.angleDeg + 540) % 360) - 180) > 20)
				.map((hour) => {
					const at = onFace(hour * 30, 60);
					return svg(
						"text",
						{ class: "cap-hour", x: at.x, y: at.y + 4, "text-anchor": "middle" },
						String(hour),
					);
				}),
			svg("path", { class: "arm", d: `M0 0L${tip.x} ${tip.y}` }),
			svg("circle", { r: 9, class: "pivot" }),
			svg(
				"g",
				{ transform: rotation === "clockwise" ? "" : "scale(-1 1)", class: "turns" },
				svg("path", { d: "M-24 -38A45 45 0 0 1 24 -38" }),
				svg("path", { d: "M12 -47L25 -37.500L11 -29" }),
			),
			plan.posts.map(({ angleDeg, cylinder }) => {
				const at = onFace(angleDeg, 105);
				return svg(
					"g",
					{ class: cylinder === first.cylinder ? "cap-first" : null },
					svg("circle", { cx: at.x, cy: at.y, r: 17 }),
					svg("text", { x: at.x, y: at.y + 7, "text-anchor": "middle" }, String(cylinder)),
				);
			}),
		),
		h(
			"figcaption",
			{ class: "note" },
			h("strong", null, "Cap from above, 12 towards the front of the car. "),
			`${words}. The arm points to No. ${first.cylinder}.`,
		),
	);
}

/**
 * ringFigure draws the bench ring: where each flash should stand, degrees of
 * the distributor from No. 1, to be written on.
 * @param {number[]} order @param {"clockwise" | "anticlockwise"} rotation
 */
export function ringFigure(order, rotation) {
	const pitch = 360 / order.length;
	const way = rotation === "clockwise" ? 1 : -1;
	const degree = (/** @type {number} */ at, /** @type {number} */ length) => {
		const [a, b] = [onFace(way * at, 118 - length), onFace(way * at, 118)];
		return `M${a.x} ${a.y}L${b.x} ${b.y}`;
	};
	return h(
		"figure",
		{ class: "plate-figure distributor-figure ring-figure" },
		svg(
			"svg",
			{
				viewBox: "-135 -135 270 270",
				role: "img",
				"aria-label": `Bench ring for ${order.length} cylinders, a flash every ${pitch} distributor degrees: ${order.map((cylinder, i) => `No. ${cylinder} at ${Math.round(i * pitch * 100) / 100}`).join(", ")}.`,
			},
			svg("circle", { r: 118, class: "fine" }),
			svg("circle", { r: 70, class: "fine" }),
			svg("path", {
				class: "fine",
				d: Array.from({ length: 180 }, (_, i) => degree(i * 2, i % 5 === 0 ? 7 : 4)).join(""),
			}),
			order.map((cylinder, i) => {
				const [spoke, name, figure] = [
					onFace(way * i * pitch, 70),
					onFace(way * i * pitch, 84),
					onFace(way * i * pitch, 50),
				];
				const end = onFace(way * i * pitch, 118);
				return svg(
					"g",
					null,
					svg("path", { d: `M${spoke.x} ${spoke.y}L${end.x} ${end.y}` }),
					svg("circle", { class: "pivot", cx: name.x, cy: name.y, r: 12 }),
					svg("text", { x: name.x, y: name.y + 6, "text-anchor": "middle" }, String(cylinder)),
					svg(
						"text",
						{ class: "cap-hour", x: figure.x, y: figure.y + 4, "text-anchor": "middle" },
						`${Math.round(i * pitch * 10) / 10}°`,
					),
				);
			}),
		),
		h(
			"figcaption",
			{ class: "note" },
			h("strong", null, "Bench ring. "),
			inEnglish(
				`A flash every ${Math.round(pitch * 100) / 100} distributor degrees, in firing order, the rotor turning ${rotation}.`,
			),
		),
	);
}
