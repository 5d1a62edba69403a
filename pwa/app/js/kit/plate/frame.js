// The frame of every figure plate: the picture, the line that reads it, its
// caption, key and table, and how it follows the width it is given. What is
// drawn inside comes from the kind of plate.
import { h, svg, fill } from "../dom.js";
import { reader } from "./reader.js";
import { savers } from "./save.js";
import { breath } from "../platform.js";
import { inEnglish } from "../words.js";

/**
 * @typedef {{number?: number, title: string}} Captioned
 *
 * @typedef {object} View what a kind of plate draws
 * @property {(input: any, room: {width: number, font: number, maxHeight: number}) => any} layoutOf
 * @property {(input: any, layout: any, id: string) => SVGElement[]} drawing
 * @property {(input: any, id: string) => HTMLElement} key
 * @property {(input: any) => any[]} stopsOf
 * @property {(input: any, stops: any[], isOpen: boolean) => HTMLElement} table
 * @property {(stop: any, layout: any) => {x: number, y: number}} [spot] where a stop lies, px
 */

/** How a figure is drawn for paper, px: 170 mm wide, low enough to leave room for what belongs to it. */
const PAPER_WIDTH = 640;
/** What the frame of a figure takes of its width, px. */
const EDGES = 22;
const PAPER_HEIGHT = 460;

let figures = 0;

/** @type {WeakMap<HTMLElement, (input: any) => void>} */
const redraws = new WeakMap();

/**
 * figurePlate draws a figure. It follows the width it is given and is drawn
 * again by redraw, keeping the chosen point. With controls under it the
 * picture stays in sight while they are used: it is lower then, and sticks to
 * the top of the screen.
 * @param {View} view
 * @param {Captioned} input
 * @param {{status?: HTMLElement, controls?: HTMLElement}} [extra] a line kept with the picture, and what is used while
 *   looking at it
 * @returns {HTMLElement}
 */
export function figurePlate(view, input, { status, controls } = {}) {
	const id = `plate-${++figures}`;
	const name = input.number ? `figure ${input.number}` : "figure";
	const picture = svg("svg", {
		class: "plate-drawing",
		role: "slider",
		tabindex: "0",
		"aria-label": inEnglish(`Points of ${name}: ${input.title}`),
		"aria-valuenow": "0",
	});
	const eyes = reader(picture, name, view.spot);
	const keyRoom = h("div", {});
	const table = tableOf(view, () => figure);
	const caption = h("figcaption", { class: "plate-caption" });
	const sheet = h("div", { class: "plate-sheet" }, picture);
	/** @type {HTMLElement} */
	const figure = h(
		"figure",
		{ class: controls ? "plate has-controls" : "plate" },
		h("div", { class: "plate-top" }, sheet, status),
		controls,
		h("div", { class: "plate-beside" }, eyes.panel, caption, keyRoom),
		table.room,
	);
	let current = input;

	/** @param {number} [width] */
	function draw(width) {
		const room = roomOf(sheet, controls ? 0.44 : 0.86, width);
		if (!room) return;
		const layout = view.layoutOf(current, room);
		picture.setAttribute("viewBox", `0 0 ${layout.width} ${layout.height}`);
		picture.setAttribute("height", String(layout.height));
		fill(picture, view.drawing(current, layout, id));
		eyes.show(view.stopsOf(current), layout);
	}

	/** Until its width is known it has the height of one as wide as the page: nothing jumps when it is drawn. */
	function keepPlace() {
		const page = document.getElementById?.("main")?.clientWidth;
		if (!page || sheet.clientWidth) return;
		const [font, maxHeight] = [15, innerHeight * (controls ? 0.44 : 0.86)];
		picture.setAttribute("height", String(view.layoutOf(current, { width: page - EDGES, font, maxHeight }).height));
	}

	/** @param {Captioned} next */
	function show(next) {
		current = next;
		fill(caption, captionOf(next));
		fill(keyRoom, view.key(next, id));
		table.show(next);
		draw();
	}

	redraws.set(figure, show);
	show(input);
	keepPlace();
	followWidth(figure, sheet, draw);
	return figure;
}

/**
 * The figure as a table, and saved as a picture. Its rows come in a turn of their own; an open one keeps those it has.
 * @param {View} view @param {() => HTMLElement} figure
 */
function tableOf(view, figure) {
	const room = h("div", {});
	/** @type {Captioned | null} */
	let current = null;
	const isOpen = () => room.querySelector("details")?.open ?? false;
	return {
		room,
		/** @param {Captioned} input */
		async show(input) {
			current = input;
			if (!isOpen()) fill(room, view.table(input, [], false));
			await breath();
			if (current !== input) return;
			const table = view.table(input, view.stopsOf(input), isOpen());
			table.append(savers(figure()));
			fill(room, table);
		},
	};
}

/** @param {Captioned} input */
const captionOf = ({ number, title }) => [
	number ? h("span", { class: "plate-fig" }, `Fig. ${number}`) : null,
	inEnglish(title),
];

/**
 * redraw shows new values in a figure made by figurePlate.
 * @param {HTMLElement} figure @param {Captioned} input
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
	return {
		width: Math.floor(across),
		font,
		maxHeight: width ? PAPER_HEIGHT : innerHeight < 520 ? innerHeight - 84 : innerHeight * share,
	};
}

/**
 * @param {HTMLElement} figure @param {HTMLElement} sheet @param {(width?: number) => void} draw
 */
function followWidth(figure, sheet, draw) {
	let drawn = 0;
	const watcher = new ResizeObserver(async () => {
		await breath(); // drawn at once it would change sizes that are being told just now
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
