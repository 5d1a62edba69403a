// The plate that moves: cylinder, distributor and traces at one angle of the
// crank. It has its height before anything is known.

import { fill, h, svg } from "../kit/dom.js";
import { inEnglish } from "../kit/words.js";
import { cylinderView } from "./cylinder-view.js";
import { distributorView } from "./distributor-view.js";
import { camOf } from "./geometry.js";
import { plateHeight, tracesView } from "./traces.js";

/** @typedef {import("./moment.js").Turn} Turn */

/**
 * whyFigure makes the plate. draw lays another turn on it, move turns the crank.
 * @returns {{element: HTMLElement, draw: (turn: Turn, rotation: string) => void, move: (deg: number) => void}}
 */
export function whyFigure() {
	const drawing = svg("svg", { viewBox: `0 0 360 ${plateHeight}`, role: "img", class: "why-drawing" });
	const caption = h("figcaption", { class: "plate-caption" }, inEnglish(captionOf("")));
	/** @type {((deg: number) => void)[]} */
	let movers = [];
	const element = h(
		"figure",
		{ class: "plate why-plate", "aria-busy": "true" },
		h("div", { class: "plate-sheet" }, drawing),
		caption,
	);
	drawing.setAttribute("aria-label", "Moving picture of one engine cycle");
	return {
		element,
		draw(turn, rotation) {
			const views = [
				cylinderView(turn),
				distributorView(turn, rotation === "anticlockwise" ? -1 : 1),
				tracesView(turn),
			].filter((one) => one !== null);
			movers = views.map(({ move }) => move);
			const marked = callouts(turn);
			fill(
				drawing,
				hatch(),
				marked.map(leader),
				views.map(({ element }) => element),
				marked.map(ring),
			);
			element.removeAttribute("aria-busy");
			drawing.setAttribute("aria-label", inEnglish(alternative(marked, rotation)));
			fill(
				caption,
				h("span", { class: "plate-fig" }, "Fig. 1."),
				inEnglish(captionOf(rotation)),
				" ",
				marked.map(({ letter, name }) => [h("b", null, `${letter} `), `${inEnglish(name)}. `]),
			);
		},
		move(deg) {
			for (const one of movers) one(deg);
		},
	};
}

/** @param {string} rotation */
const captionOf = (rotation) =>
	`Cylinder No. 1 in section; the distributor from the cap end, ${
		rotation ? `turning ${rotation}` : "rotation not known, drawn clockwise"
	}, No. 1 drawn at the top. Dashed: what the plug may ask for.`;

/** What the drawing is not. */
export const notToScale =
	"Gap and lobes are drawn large, the bore and the chamber are not to scale. Of current and kilovolts the first swing is drawn, as if no plug fired.";

/** @typedef {{letter: string, name: string, x: number, y: number, to: [x: number, y: number]}} Callout */

/** The posts have numbers already. */
const letters = "ABCDE";

/** The lettered parts, as far as they are drawn. @param {Turn} turn @returns {Callout[]} */
function callouts(turn) {
	/** @type {(Omit<Callout, "letter"> | null)[]} */
	const all = [
		turn.series.pistonMm.length ? { name: "Plug", x: 118, y: 12, to: [82, 9] } : null,
		turn.series.pistonMm.length ? { name: "Crank", x: 118, y: 206, to: [88, 190] } : null,
		turn.timing ? { name: "Rotor arm", x: 172, y: 190, to: [246, 114] } : null,
		camOf(turn) ? { name: "Points", x: 344, y: 22, to: [286, 60] } : null,
		camOf(turn) ? { name: "Heel on the cam", x: 344, y: 190, to: [288, 108] } : null,
	];
	return all.filter((one) => one !== null).map((one, i) => ({ ...one, letter: letters[i] }));
}

/** It passes beneath whatever it crosses. @param {Callout} callout */
const leader = ({ x, y, to }) => svg("path", { d: `M${x} ${y}L${to[0]} ${to[1]}`, class: "why-fine" });

/** @param {Callout} callout */
const ring = ({ letter, x, y }) =>
	svg(
		"g",
		null,
		svg("circle", { cx: x, cy: y, r: 9, class: "why-post" }),
		svg("text", { x, y: y + 5, "text-anchor": "middle", class: "why-bold" }, letter),
	);

/** The hatching, fine enough for both grounds. */
const hatch = () =>
	svg(
		"defs",
		null,
		svg(
			"pattern",
			{ id: "why-hatch", width: 4, height: 4, patternUnits: "userSpaceOnUse", patternTransform: "rotate(45)" },
			svg("path", { d: "M2 0V4", class: "why-hatch-line" }),
		),
	);

/** @param {Callout[]} marked @param {string} rotation */
const alternative = (marked, rotation) =>
	`Moving picture of one engine cycle. ${captionOf(rotation)} Drawn: ${marked.map(({ name }) => name.toLowerCase()).join(", ")}. What stands at this angle is said beneath.`;
