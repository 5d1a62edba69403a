// The distributor seen from the cap end: cam, heel and points, rotor arm and
// posts. What the answer leaves out is not drawn.

import { svg } from "../kit/dom.js";
import { star } from "./cylinder-view.js";
import { camOf, camPath, heelLift, ratioOf, touching } from "./geometry.js";
import { sparkAt, valueAt } from "./moment.js";

/** @typedef {import("./moment.js").Turn} Turn */

const centre = { x: 257, y: 106 };
const posts = 84; // radius of the posts
const tip = 58; // of the rotor arm
const pivot = 38; // from the heel down to the pivot, and up to the contacts

/**
 * distributorView draws it, or gives null where no spark is known.
 * @param {Turn} turn @param {1 | -1} way clockwise, or not
 */
export function distributorView(turn, way) {
	if (!turn.timing) return null;
	const cam = camOf(turn);
	const shape = cam ? svg("path", { d: camPath(cam, way), class: "why-cam" }) : null;
	const arm = cam ? movingPoint() : null;
	const rotor = rotorArm();
	const fired = turn.events.filter(({ name }) => name.endsWith("spark"));
	const angleOf = postAngles(turn, fired, way);
	const sparks = fired.map((event) => {
		const at = polar(tip + 7, angleOf(event.place));
		return { event, element: svg("path", { d: star(at.x, at.y), class: "why-spark" }) };
	});
	const element = svg(
		"g",
		{ transform: `translate(${centre.x} ${centre.y})` },
		svg("circle", { r: 72, class: "why-fine" }),
		cam ? plateOf(cam.plate, way, arm) : null,
		shape,
		svg("circle", { r: 5, class: "why-hole" }),
		rotor,
		postMarks(fired, angleOf),
		sparks.map(({ element }) => element),
	);
	/** @param {number} deg */
	function move(deg) {
		const rotated = way * Number(valueAt(turn.series.crankDeg, turn.series.rotorDistDeg, deg));
		shape?.setAttribute("transform", `rotate(${rotated.toFixed(3)})`);
		rotor.setAttribute("transform", `rotate(${rotated.toFixed(3)})`);
		if (cam && arm) {
			const lean = (Math.atan(heelLift(turn, cam, deg) / pivot) * 180) / Math.PI;
			arm.setAttribute("transform", `rotate(${lean.toFixed(3)} ${touching + 8} ${pivot})`);
		}
		const spark = sparkAt(turn, deg);
		for (const one of sparks) one.element.toggleAttribute("hidden", one.event !== spark);
	}
	return { element, move };
}

/**
 * Each place of the firing order has its post, No. 1 drawn at the top.
 * @param {Turn} turn @param {any[]} fired @param {1 | -1} way
 */
function postAngles(turn, fired, way) {
	const each = 720 / Math.max(1, fired.length) / ratioOf(turn);
	return (/** @type {number} */ place) => -90 + way * each * (place - 1);
}

/** @param {number} radius @param {number} deg */
const polar = (radius, deg) => ({
	x: radius * Math.cos((deg * Math.PI) / 180),
	y: radius * Math.sin((deg * Math.PI) / 180),
});

/** @param {import("./moment.js").TurnEvent[]} fired @param {(place: number) => number} angleOf */
function postMarks(fired, angleOf) {
	const places = new Map(fired.map(({ place, cylinder }) => [place, cylinder]));
	return [...places].map(([place, cylinder]) => {
		const at = polar(posts, angleOf(place));
		return svg(
			"g",
			null,
			svg("circle", { cx: at.x, cy: at.y, r: 12, class: "why-post" }),
			cylinder === null
				? null
				: svg("text", { x: at.x, y: at.y + 5, "text-anchor": "middle", class: "why-bold" }, String(cylinder)),
		);
	});
}

/** The arm over the cam: a hub, a blade, its tip. */
const rotorArm = () =>
	svg(
		"g",
		{ class: "why-rotor" },
		svg("path", { d: `M-7 9V-${tip - 8}L-4 -${tip}H4L7 -${tip - 8}V9A11 11 0 0 1 -7 9Z` }),
		svg("path", { d: `M0 -14V-${tip}`, class: "why-line" }),
	);

/** @param {number} plate @param {1 | -1} way @param {SVGElement | null} arm */
const plateOf = (plate, way, arm) =>
	svg(
		"g",
		{ transform: `rotate(${-way * plate})` },
		svg("path", { d: `M${touching - 3} -${pivot + 12}v9h7v-9z`, class: "why-solid" }),
		svg("path", { d: `M${touching + 4} -${pivot + 8}h2v-7`, class: "why-line" }),
		arm,
		svg("circle", { cx: touching + 8, cy: pivot, r: 4.5, class: "why-hole" }),
	);

/** Heel, arm and moving contact, about the pivot; it lies on the cam where the points only just touch. */
const movingPoint = () =>
	svg(
		"g",
		null,
		svg("path", { d: `M${touching + 8} ${pivot}V-${pivot + 12}`, class: "why-arm" }),
		svg("path", { d: `M${touching} 0l8 -7v14z`, class: "why-solid" }),
		svg("path", { d: `M${touching + 4} -${pivot + 11}h4v7h-4z`, class: "why-solid" }),
	);
