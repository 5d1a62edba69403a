import assert from "node:assert/strict";
import { test } from "node:test";
import { outside, rangePieces, rowAt } from "../app/js/kit/plate/band.js";
import { distance, placeCallouts } from "../app/js/kit/plate/callout.js";
import { layoutOf, rangeOf } from "../app/js/kit/plate/layout.js";
import { DEGREE_STEPS, RPM_STEPS, extent, linear, roundOut, tickStep, ticks } from "../app/js/kit/plate/scale.js";
import { clipLine, edgePath, lineAt, linePath, markPath } from "../app/js/kit/plate/trace.js";

const band = [
	{ engineRPM: 600, minCrankDeg: 8, maxCrankDeg: 10 },
	{ engineRPM: 1400, minCrankDeg: 16, maxCrankDeg: 20 },
	{ engineRPM: 5000, minCrankDeg: 32, maxCrankDeg: 36 },
];

test("a scale carries values to places and places back to values", () => {
	const scale = linear(0, 5000, 40, 340);
	assert.equal(scale.at(0), 40);
	assert.equal(scale.at(2500), 190);
	assert.equal(scale.value(190), 2500);
	assert.ok(Number.isFinite(linear(3, 3, 0, 100).at(3)), "an empty span does not divide by zero");
});

test("ticks stand at round steps, no closer than asked", () => {
	assert.equal(tickStep(5000, 280, 50, RPM_STEPS), 1000);
	assert.equal(tickStep(5000, 900, 50, RPM_STEPS), 500);
	assert.equal(tickStep(40, 300, 25, DEGREE_STEPS), 5);
	assert.equal(tickStep(1e6, 10, 50, RPM_STEPS), 5000, "the widest step when none fits");
	assert.deepEqual(ticks(0, 20, 5), [0, 5, 10, 15, 20]);
	assert.deepEqual(ticks(-7, 7, 5), [-5, 0, 5]);
	assert.ok(!Object.is(ticks(-5, 5, 5)[1], -0), "zero has no sign");
});

test("a range is rounded outward and never empty", () => {
	assert.deepEqual(roundOut(-4.3, 36, 5), [-5, 40]);
	assert.deepEqual(roundOut(0, 0, 5), [0, 5]);
	assert.deepEqual(extent([3, null, NaN, -2, undefined]), [-2, 3]);
	assert.equal(extent([null, Infinity]), null);
});

test("only at its own rows does the book say anything", () => {
	assert.equal(rowAt(band, 1400), band[1]);
	assert.equal(rowAt(band, 1000), null);
	assert.equal(rowAt([], 1000), null);
});

test("the range beside the table is drawn apart from the range between its rows", () => {
	const range = [75, 300, 600, 1000, 1400, 5000, 5500].map((engineRPM) => ({
		engineRPM,
		minCrankDeg: 8,
		maxCrankDeg: 12,
		isOutside: engineRPM < 600 || engineRPM > 5000,
	}));
	const pieces = rangePieces(range, 0, 5500);
	assert.deepEqual(
		pieces.map(({ isOutside, points }) => [isOutside, points.map(({ engineRPM }) => engineRPM)]),
		[
			[true, [75, 300, 600]],
			[false, [600, 1000, 1400, 5000]],
			[true, [5000, 5500]],
		],
	);
	assert.equal(rangePieces(range, 600, 5000).length, 1);
	assert.deepEqual(rangePieces([], 0, 5000), []);
});

test("a row with one edge has one bar and an arrow to the open side", () => {
	assert.equal(edgePath(50, 80, 40, 4).match(/M/g)?.length, 3, "two bars and a stem");
	const most = edgePath(50, null, 40, 4);
	assert.match(most, /^M46 40L54 40M50 40L50 52/, "downward on the screen");
	assert.match(edgePath(50, 80, null, 4), /M50 80L50 68/);
	assert.equal(edgePath(50, null, null, 4), "");
});

test("how far a reading stands outside its band has a sign", () => {
	assert.equal(outside({ minCrankDeg: 8, maxCrankDeg: 12 }, 15), 3);
	assert.equal(outside({ minCrankDeg: 8, maxCrankDeg: 12 }, 5), -3);
	assert.equal(outside({ minCrankDeg: 8, maxCrankDeg: 12 }, 8), 0);
	assert.equal(outside({ minCrankDeg: null, maxCrankDeg: null }, 80), 0);
});

test("rising points up, falling points down, static is a diamond", () => {
	const top = (/** @type {string} */ d) =>
		d.match(/-?[\d.]+ -?[\d.]+/g)?.map((pair) => Number(pair.split(" ")[1])) ?? [];
	const rising = top(markPath("rising", 50, 50, 8));
	const falling = top(markPath("falling", 50, 50, 8));
	assert.equal(Math.min(...rising), 42);
	assert.equal(rising.filter((y) => y === 42).length, 1, "one corner at the top");
	assert.equal(falling.filter((y) => y === 58).length, 1, "one corner at the bottom");
	assert.equal(top(markPath("static", 50, 50, 8)).length, 4);
	assert.equal(
		linePath([
			{ x: 1, y: 2 },
			{ x: 3.456, y: 4 },
		]),
		"M1 2L3.46 4",
	);
});

test("a line is cut at the edges of the figure, on the line", () => {
	const line = [
		{ engineRPM: 500, crankDeg: 0 },
		{ engineRPM: 1500, crankDeg: 10 },
		{ engineRPM: 2500, crankDeg: 12 },
	];
	assert.equal(lineAt(line, 1000), 5);
	assert.equal(lineAt(line, 400), null);
	assert.deepEqual(clipLine(line, 1000, 2000), [
		{ engineRPM: 1000, crankDeg: 5 },
		line[1],
		{ engineRPM: 2000, crankDeg: 11 },
	]);
	assert.deepEqual(clipLine(line, 0, 9000), line, "a line inside the figure stays whole");
});

test("callouts stand inside the plot, apart from one another and off the readings", () => {
	const field = { x: 40, y: 40, width: 260, height: 240 };
	const r = 13;
	const busy = [
		{ x: 100, y: 100 },
		{ x: 120, y: 110 },
		{ x: 140, y: 118 },
	];
	const placed = placeCallouts(
		busy.map((anchor, i) => ({ number: i + 1, anchor })),
		busy,
		field,
		r,
	);
	for (const [i, one] of placed.entries()) {
		assert.ok(one.at.x - r >= field.x && one.at.x + r <= field.x + field.width, "inside across");
		assert.ok(one.at.y - r >= field.y && one.at.y + r <= field.y + field.height, "inside down");
		for (const other of placed.slice(i + 1)) assert.ok(distance(one.at, other.at) > 2 * r, "circles do not touch");
		for (const spot of busy) assert.ok(distance(one.at, spot) > r, "no reading is covered");
	}
});

test("a callout at the very corner is still inside", () => {
	const field = { x: 0, y: 0, width: 100, height: 100 };
	const [placed] = placeCallouts([{ number: 1, anchor: { x: 0, y: 0 } }], [], field, 12);
	assert.ok(placed.at.x >= 12 && placed.at.y >= 12);
});

/** @type {PlateInput} */
const input = {
	title: "test",
	axis: { quantity: "total", baseCrankDeg: 8 },
	bands: band,
	points: [
		{ engineRPM: 800, crankDeg: 8, direction: "rising", place: "car" },
		{ engineRPM: 0, crankDeg: -4.3, direction: "static" },
	],
	curves: [],
};

test("the figure shows TDC, every reading and the whole band", () => {
	const { rpm, deg } = rangeOf(input);
	assert.equal(rpm[0], 0);
	assert.ok(rpm[1] > 5000, "the held part after the last speed is seen");
	assert.ok(deg[0] < -4.3 && deg[1] >= 36);
});

test("the layout fits narrow and wide phones, and text is never under its size", () => {
	for (const width of [280, 340, 390, 800]) {
		for (const font of [14, 15, 28]) {
			const layout = layoutOf(input, { width, font, maxHeight: 700 });
			assert.ok(
				layout.field.x > font && layout.field.x + layout.field.width < width,
				`${width} px, ${font} px text`,
			);
			const gaps = layout.rpmTicks.slice(1).map((t, i) => layout.x.at(t) - layout.x.at(layout.rpmTicks[i]));
			assert.ok(Math.min(...gaps) >= font * 0.58 * 4, "speeds do not run into one another");
			assert.equal(layout.font, font);
		}
	}
});

test("the distributor scale counts from the base, half as many degrees", () => {
	const layout = layoutOf(input, { width: 390, font: 15, maxHeight: 700 });
	assert.deepEqual(layout.distTicks[0], { distDeg: 0, crankDeg: 8 });
	for (const tick of layout.distTicks) assert.equal(tick.crankDeg, 8 + 2 * tick.distDeg);
	const unknown = layoutOf(
		{ ...input, axis: { quantity: "total", baseCrankDeg: null } },
		{ width: 390, font: 15, maxHeight: 700 },
	);
	assert.deepEqual(unknown.distTicks, [], "no base, no distributor scale");
});
