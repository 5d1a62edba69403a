// Reading a figure point by point: tap anywhere, arrow keys, the two buttons,
// a screen reader. One line of text always says the chosen point in full.
import { h, svg, fill } from "../dom.js";
import { keyStep, nearest } from "./stops.js";
import { inEnglish } from "../words.js";

/**
 * @typedef {import("./layout.js").Layout} Layout
 * @typedef {import("./stops.js").Stop} Stop
 *
 * @typedef {object} Reader
 * @property {HTMLElement} panel the text line and the two buttons
 * @property {(stops: Stop[], layout: Layout) => void} show after each drawing
 */

/**
 * @param {SVGSVGElement} drawing the figure, which takes taps and keys
 * @param {string} label what the figure is called
 * @param {(stop: any, layout: any) => {x: number, y: number}} [spot] where a stop lies, px
 * @returns {Reader}
 */
export function reader(drawing, label, spot = spotOf) {
	const line = h("p", { class: "plate-reading", role: "status" });
	const back = h(
		"button",
		{ type: "button", class: "plate-step", "aria-label": `Back one point, ${label}` },
		arrow(-1),
		h("span", {}, "back"),
	);
	const next = h(
		"button",
		{ type: "button", class: "plate-step", "aria-label": `Next point, ${label}` },
		h("span", {}, "next"),
		arrow(1),
	);
	const parts = {
		drawing,
		spot,
		line,
		back,
		next,
		chosen: svg("g", { class: "plate-chosen", "aria-hidden": "true" }),
	};
	/** @type {{key: string, index: number, stops: Stop[], layout: Layout | null}} */
	const at = { key: "", index: -1, stops: [], layout: null };
	listen(parts, {
		count: () => at.stops.length,
		index: () => at.index,
		pick: (x, y) =>
			nearest(
				at.stops.map((stop) => spot(stop, /** @type {Layout} */ (at.layout))),
				x,
				y,
			),
		width: () => at.layout?.width ?? 1,
		choose(index) {
			at.index = index;
			at.key = at.stops[index]?.key ?? "";
			say(parts, at);
		},
	});
	return {
		panel: h("div", { class: "plate-reader" }, line, back, next),
		show(stops, layout) {
			Object.assign(at, { stops, layout, index: stops.findIndex((stop) => stop.key === at.key) });
			drawing.append(parts.chosen);
			say(parts, at);
		},
	};
}

/**
 * Tells the chosen stop in the line, on the figure and to a screen reader.
 * @param {{drawing: SVGSVGElement, spot: (stop: any, layout: any) => {x: number, y: number}, line: HTMLElement, back:
 *   HTMLButtonElement, next: HTMLButtonElement, chosen: SVGElement}} parts
 * @param {{index: number, stops: Stop[], layout: Layout | null}} at
 */
function say({ drawing, spot, line, back, next, chosen }, { index, stops, layout }) {
	const stop = stops[index];
	line.textContent = stop ? inEnglish(stop.sentence) : invitation(stops.length);
	back.disabled = index <= 0;
	next.disabled = index >= stops.length - 1;
	drawing.setAttribute("aria-valuemin", "0");
	drawing.setAttribute("aria-valuemax", String(stops.length));
	drawing.setAttribute("aria-valuenow", String(index + 1));
	drawing.setAttribute("aria-valuetext", line.textContent);
	fill(chosen, stop && layout ? cross(spot(stop, layout), layout) : []);
}

/** @param {number} count */
function invitation(count) {
	if (!count) return "Nothing to read yet.";
	return count === 1 ? "One place to read: tap it." : `${count} places to read. Tap one, or step through.`;
}

/**
 * @param {{drawing: SVGSVGElement, back: HTMLButtonElement, next: HTMLButtonElement, line: HTMLElement}} parts
 * @param {{count: () => number, index: () => number, choose: (i: number) => void, pick: (x: number, y: number) =>
 *   number, width: () => number}} state
 */
function listen({ drawing, back, next, line }, state) {
	back.addEventListener("click", () => state.choose(Math.max(0, state.index() - 1)));
	next.addEventListener("click", () => state.choose(Math.min(state.count() - 1, state.index() + 1)));
	drawing.addEventListener("click", (event) => {
		const box = drawing.getBoundingClientRect();
		const scale = state.width() / box.width;
		const index = state.pick((event.clientX - box.left) * scale, (event.clientY - box.top) * scale);
		if (index >= 0) state.choose(index);
	});
	drawing.addEventListener("keydown", (event) => {
		const index = keyStep(event.key, state.index(), state.count());
		if (index === null || event.ctrlKey || event.altKey || event.metaKey) return;
		event.preventDefault();
		state.choose(index);
	});
	// With the figure focused a screen reader speaks the value itself; the line need not speak too.
	drawing.addEventListener("focus", () => line.setAttribute("aria-live", "off"));
	drawing.addEventListener("blur", () => line.setAttribute("aria-live", "polite"));
}

/** @param {Stop} stop @param {Layout} layout */
function spotOf(stop, { x, y }) {
	return { x: x.at(stop.engineRPM), y: y.at(stop.crankDeg) };
}

/**
 * Fine rules from the chosen point to the scales, and a ring round it.
 * @param {{x: number, y: number}} at
 * @param {Layout} layout
 */
function cross({ x, y }, { field, font }) {
	return [
		svg("path", {
			class: "plate-cross",
			d: `M${field.x} ${y}H${x - font * 0.75}M${x} ${field.y + field.height}V${y + font * 0.75}`,
		}),
		svg("circle", { class: "plate-chosen-ring", cx: x, cy: y, r: font * 0.75 }),
	];
}

/** @param {1 | -1} way */
function arrow(way) {
	return svg(
		"svg",
		{ class: "mark", viewBox: "0 0 24 24", "aria-hidden": "true", focusable: "false" },
		svg("path", { d: way < 0 ? "M19 12H5M11 5L4 12L11 19" : "M5 12H19M13 5L20 12L13 19" }),
	);
}
