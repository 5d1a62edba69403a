// How large a figure is drawn and which values its rules carry.
import { DEGREE_STEPS, RPM_STEPS, extent, linear, roundOut, tickStep, ticks } from "./scale.js";
import { clipLine } from "./trace.js";

/**
 * @typedef {import("./scale.js").Scale} Scale
 *
 * @typedef {object} Layout
 * @property {number} width @property {number} height whole drawing, px
 * @property {number} font size of the lettering, px
 * @property {{x: number, y: number, width: number, height: number}} field the plot's inside
 * @property {Scale} x engine rpm
 * @property {Scale} y crank degrees
 * @property {number[]} rpmTicks labelled @property {number[]} rpmMinor
 * @property {number[]} degTicks labelled @property {number[]} degMinor
 * @property {{crankDeg: number, distDeg: number}[]} distTicks second scale, labelled
 */

const GLYPH = 0.58; // width of a figure as a share of the font size, measured on common system fonts

/**
 * Values the figure must show, rounded out to whole steps. Always from 0 rpm and
 * always with 0 degrees, so that TDC (or no advance) is on the page.
 * @param {PlateInput} input
 */
export function rangeOf(input) {
	const speeds = extent([
		...input.bands.map((b) => b.engineRPM),
		...input.points.map((p) => p.engineRPM),
		input.axis.maxRPM,
	]);
	const top = speeds ? speeds[1] : 4000;
	const rpm = roundOut(0, top * 1.02, 500);
	const degrees = extent([
		0,
		...input.bands.flatMap((b) => [b.minCrankDeg, b.maxCrankDeg]),
		...(input.range ?? []).filter((p) => p.engineRPM <= rpm[1]).flatMap((p) => [p.minCrankDeg, p.maxCrankDeg]),
		...input.points.map((p) => p.crankDeg),
		...input.curves.flatMap((c) => clipLine(c.points, rpm[0], rpm[1]).map((p) => p.crankDeg)),
		...(input.limits ?? []).map((l) => l.crankDeg),
	]);
	const [lo, hi] = degrees ?? [0, 30];
	const air = Math.max(1.5, (hi - lo) * 0.05);
	return { rpm, deg: roundOut(lo < 0 ? lo - air / 4 : 0, hi + air, hi - lo > 24 ? 5 : 2) };
}

/**
 * @param {PlateInput} input
 * @param {{width: number, font: number, maxHeight: number}} room
 * @returns {Layout}
 */
export function layoutOf(input, room) {
	const { width, font } = room;
	const range = rangeOf(input);
	const line = font * 1.25;
	const left = Math.ceil(font * GLYPH * 2 + 16);
	const right = left;
	const top = Math.ceil(line * 2 + 8);
	const bottom = Math.ceil(line * 3 + font + 24);
	const plot = Math.max(font * 8, width - left - right);
	const height = Math.round(
		Math.min(Math.max(plot * 0.92, font * 12), Math.max(font * 9, room.maxHeight - top - bottom), 520),
	);
	const field = { x: left, y: top, width: plot, height };
	const x = linear(range.rpm[0], range.rpm[1], field.x, field.x + field.width);
	const y = linear(range.deg[0], range.deg[1], field.y + field.height, field.y);
	return { width, height: top + height + bottom, font, field, x, y, ...rules(input, range, field, font) };
}

/**
 * @param {PlateInput} input @param {{rpm: [number, number], deg: [number, number]}} range
 * @param {{width: number, height: number}} field @param {number} font
 */
function rules(input, range, field, font) {
	const rpmStep = tickStep(range.rpm[1] - range.rpm[0], field.width, font * GLYPH * 4 + 10, RPM_STEPS);
	const degStep = tickStep(range.deg[1] - range.deg[0], field.height, font * 1.7, DEGREE_STEPS);
	return {
		rpmTicks: ticks(...range.rpm, rpmStep),
		rpmMinor: ticks(...range.rpm, rpmStep >= 1000 ? 250 : 100),
		degTicks: ticks(...range.deg, degStep),
		degMinor: ticks(...range.deg, degStep > 5 ? 2 : 1),
		distTicks: distTicks(input, range.deg, field.height, font),
	};
}

/**
 * The second scale: distributor degrees of advance, counted from the base.
 * crank = base + ratio × distributor.
 * @param {PlateInput} input @param {[number, number]} deg @param {number} height @param {number} font
 */
function distTicks(input, deg, height, font) {
	const ratio = input.axis.driveRatio ?? 2;
	const base = input.axis.quantity === "advance" ? 0 : input.axis.baseCrankDeg;
	if (base == null) return [];
	const lo = (deg[0] - base) / ratio;
	const hi = (deg[1] - base) / ratio;
	const step = tickStep(hi - lo, height, font * 1.7, DEGREE_STEPS);
	return ticks(Math.max(0, lo), hi, step).map((distDeg) => ({ distDeg, crankDeg: base + ratio * distDeg }));
}
