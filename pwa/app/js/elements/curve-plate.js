// A figure plate: the advance curve of this very car, drawn as in a workshop
// manual. It is read by tapping, by keys, by a screen reader, and on paper.
import { h, svg, fill } from "../lib/dom.js";
import { drawing } from "./plate/draw.js";
import { key } from "./plate/key.js";
import { layoutOf } from "./plate/layout.js";
import { reader } from "./plate/reader.js";
import { stopsOf } from "./plate/stops.js";
import { pointTable } from "./plate/table.js";

/**
 * @typedef {object} PlatePoint one reading
 * @property {number} engineRPM 0 for a static figure
 * @property {number} crankDeg as the axis counts: total before TDC, or advance alone
 * @property {"rising" | "falling" | "static"} direction
 * @property {"bench" | "car"} [place]
 * @property {number | null} [minCrankDeg] the band the reading was judged by
 * @property {number | null} [maxCrankDeg]
 * @property {string} [verdict] pass, watch, fail or unknown
 *
 * @typedef {object} PlateCurve
 * @property {"fitted" | "found" | "what-if" | "expected"} kind decides the line's style
 * @property {string} name as the key and the text line call it
 * @property {{engineRPM: number, crankDeg: number}[]} points ascending in speed
 *
 * @typedef {object} PlateAxis
 * @property {"total" | "advance"} quantity total: degrees before TDC; advance: degrees above base
 * @property {number | null} [baseCrankDeg] where the distributor scale begins on a total axis
 * @property {number} [driveRatio] crank turns per distributor turn, 2 unless said
 * @property {number} [maxRPM] the figure reaches at least this far
 *
 * @typedef {object} PlateInput
 * @property {number} [number] of the figure
 * @property {string} title
 * @property {PlateAxis} axis
 * @property {import("./plate/band.js").BandPoint[]} bands
 * @property {PlatePoint[]} points
 * @property {PlateCurve[]} curves
 * @property {{crankDeg: number, text: string}[]} [limits]
 * @property {{number: number, engineRPM: number, crankDeg: number, text: string}[]} [callouts]
 */

/** How a figure is drawn for paper, px: 170 mm wide, low enough to leave room for what belongs to it. */
const PAPER_WIDTH = 640;
const PAPER_HEIGHT = 460;

let figures = 0;

/** @type {WeakMap<HTMLElement, (input: PlateInput) => void>} */
const redraws = new WeakMap();

/**
 * curvePlate draws a figure. It follows the width it is given and is drawn
 * again by redraw, keeping the chosen point. With controls under it the
 * picture stays in sight while they are used: it is lower then, and sticks to
 * the top of the screen.
 * @param {PlateInput} input
 * @param {{status?: HTMLElement, controls?: HTMLElement}} [extra] a line kept with the picture, and what is used while looking at it
 * @returns {HTMLElement}
 */
export function curvePlate(input, { status, controls } = {}) {
	const id = `plate-${++figures}`;
	const name = input.number ? `figure ${input.number}` : "figure";
	const picture = svg("svg", { class: "plate-drawing", role: "slider", tabindex: "0", "aria-label": `Points of ${name}: ${input.title}`, "aria-valuenow": "0" });
	const eyes = reader(picture, name);
	const keyRoom = h("div", {});
	const tableRoom = h("div", {});
	const caption = h("figcaption", { class: "plate-caption" });
	const sheet = h("div", { class: "plate-sheet" }, picture);
	const figure = h("figure", { class: controls ? "plate has-controls" : "plate" },
		h("div", { class: "plate-top" }, sheet, status), controls, h("div", { class: "plate-beside" }, eyes.panel, caption, keyRoom), tableRoom);
	let current = input;

	/** @param {number} [width] */
	function draw(width) {
		const room = roomOf(sheet, controls ? 0.44 : 0.86, width);
		if (!room) return;
		const layout = layoutOf(current, room);
		picture.setAttribute("viewBox", `0 0 ${layout.width} ${layout.height}`);
		picture.setAttribute("height", String(layout.height));
		fill(picture, drawing(current, layout, id));
		eyes.show(stopsOf(current), layout);
	}

	/** @param {PlateInput} next */
	function show(next) {
		current = next;
		fill(caption, next.number ? h("span", { class: "plate-fig" }, `Fig. ${next.number}`) : null, next.title);
		fill(keyRoom, key(next, id));
		const open = tableRoom.querySelector("details")?.open ?? false;
		fill(tableRoom, pointTable(next, stopsOf(next), open));
		draw();
	}

	redraws.set(figure, show);
	show(input);
	followWidth(figure, sheet, draw);
	return figure;
}

/**
 * redraw shows new values in a figure made by curvePlate.
 * @param {HTMLElement} figure @param {PlateInput} input
 */
export function redraw(figure, input) {
	redraws.get(figure)?.(input);
}

/**
 * The room a figure has; null while it is not on the page.
 * @param {HTMLElement} sheet @param {number} share of the screen's height @param {number} [width]
 */
function roomOf(sheet, share, width) {
	const across = width ?? sheet.clientWidth;
	if (!across) return null;
	const font = Math.max(14, parseFloat(getComputedStyle(sheet).fontSize) || 15);
	return { width: Math.floor(across), font, maxHeight: width ? PAPER_HEIGHT : innerHeight < 520 ? innerHeight - 84 : innerHeight * share };
}

/**
 * @param {HTMLElement} figure @param {HTMLElement} sheet @param {(width?: number) => void} draw
 */
function followWidth(figure, sheet, draw) {
	let drawn = 0;
	const watcher = new ResizeObserver(() => {
		if (sheet.clientWidth === drawn) return;
		drawn = sheet.clientWidth;
		draw();
	});
	watcher.observe(sheet);
	const forPaper = () => (figure.isConnected ? draw(PAPER_WIDTH) : stop());
	const forScreen = () => (figure.isConnected ? draw() : stop());
	const stop = () => {
		removeEventListener("beforeprint", forPaper);
		removeEventListener("afterprint", forScreen);
	};
	addEventListener("beforeprint", forPaper);
	addEventListener("afterprint", forScreen);
}
