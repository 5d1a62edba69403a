import assert from "node:assert/strict";
import { test } from "node:test";
import { keyOf } from "../app/js/kit/plate/key.js";
import { bandWords, degWords, keyStep, nearest, standing, stopsOf } from "../app/js/kit/plate/stops.js";

/** @type {PlateInput} */
const car = {
	number: 1,
	title: "on the car",
	axis: { quantity: "total", baseCrankDeg: -4.3 },
	bands: [
		{ engineRPM: 1500, minCrankDeg: 17, maxCrankDeg: 21 },
		{ engineRPM: 3000, minCrankDeg: 26, maxCrankDeg: 30 },
	],
	points: [
		{
			engineRPM: 3000,
			crankDeg: 21.7,
			direction: "falling",
			place: "car",
			minCrankDeg: 26,
			maxCrankDeg: 30,
			verdict: "fail",
		},
		{
			engineRPM: 1500,
			crankDeg: 17.2,
			direction: "rising",
			place: "car",
			minCrankDeg: 17,
			maxCrankDeg: 21,
			verdict: "pass",
		},
	],
	curves: [
		{
			kind: "fitted",
			name: "fitted curve",
			points: [
				{ engineRPM: 0, crankDeg: -4.3 },
				{ engineRPM: 3000, crankDeg: 21.7 },
			],
		},
	],
};

test("every reading is a whole sentence, low speed first", () => {
	const stops = stopsOf({ ...car, curves: [] });
	assert.equal(
		stops[0].sentence,
		"1500 engine rpm, rising, on the car, measured 17.2 before TDC, allowed 17.0 to 21.0, in band",
	);
	assert.equal(
		stops[1].sentence,
		"3000 engine rpm, falling, on the car, measured 21.7 before TDC, allowed 26.0 to 30.0, 4.3 below the band",
	);
});

test("a reading below the book's first speed is said to be possible, not in band", () => {
	/** @type {PlatePoint} */
	const idle = {
		engineRPM: 650,
		crankDeg: 6,
		direction: "rising",
		place: "car",
		minCrankDeg: 6,
		maxCrankDeg: 12,
		verdict: "pass",
		isSilent: true,
	};
	const [stop] = stopsOf({ ...car, points: [idle], curves: [] });
	assert.equal(
		stop.sentence,
		"650 engine rpm, rising, on the car, measured 6.0 before TDC, 6.0 to 12.0 possible, no figure in the book",
	);
	assert.equal(stop.isSilent, true);
	assert.equal(standing(2, idle, "fail", true), "4.0 below what is possible");
});

test("a drawn line can be read at the book's speeds", () => {
	const stops = stopsOf(car);
	const line = stops.filter((s) => s.what === "fitted curve");
	assert.deepEqual(
		line.map((s) => s.engineRPM),
		[1500, 3000],
	);
	assert.equal(
		line[0].sentence,
		"1500 engine rpm, fitted curve, 8.7 before TDC, book 17.0 to 21.0, 8.3 below the band",
	);
});

test("with nothing but the book the book itself is read", () => {
	const stops = stopsOf({ ...car, points: [], curves: [] });
	assert.equal(stops[0].sentence, "1500 engine rpm, book 17.0 to 21.0");
	const open = stopsOf({
		...car,
		points: [],
		curves: [],
		bands: [{ engineRPM: 1500, minCrankDeg: null, maxCrankDeg: 21 }],
	});
	assert.deepEqual([open[0].sentence, open[0].crankDeg], ["1500 engine rpm, book at most 21.0", 21]);
});

test("after TDC is spelled out and no sign is left to read", () => {
	assert.equal(degWords(-4.3, "total"), "4.3 after TDC");
	assert.equal(degWords(8, "total"), "8.0 before TDC");
	assert.equal(degWords(0.04, "total"), "at TDC");
	assert.equal(degWords(26, "advance"), "26.0 of advance");
	assert.equal(bandWords(null, 4), "at most 4.0");
});

test("the judge's word on reading error is said", () => {
	const b = { minCrankDeg: 8, maxCrankDeg: 12 };
	assert.equal(standing(12.6, b, "pass"), "0.6 above the band, within the reading error");
	assert.equal(standing(14, b, "fail"), "2.0 above the band");
	assert.equal(standing(12.02, b, "pass"), "in band");
	assert.equal(standing(5, {}), "no book figure");
});

test("the nearest point answers a tap anywhere on the figure", () => {
	const spots = [
		{ x: 10, y: 10 },
		{ x: 100, y: 100 },
	];
	assert.equal(nearest(spots, 300, 300), 1);
	assert.equal(nearest(spots, 40, 40), 0);
	assert.equal(nearest([], 1, 1), -1);
});

test("arrow keys step and stop at the ends; other keys are left alone", () => {
	assert.equal(keyStep("ArrowRight", -1, 5), 0);
	assert.equal(keyStep("ArrowRight", 4, 5), 4);
	assert.equal(keyStep("ArrowLeft", 0, 5), 0);
	assert.equal(keyStep("End", 0, 5), 4);
	assert.equal(keyStep("Tab", 2, 5), null);
	assert.equal(keyStep("ArrowRight", -1, 0), null);
});

test("the key names what the figure shows and nothing else", () => {
	const words = keyOf(car).map((k) => k.words);
	assert.ok(words.includes("rising, on the car") && words.includes("falling, on the car"));
	assert.ok(!words.some((w) => w.includes("bench")));
	assert.ok(words.includes("fitted curve"));
	assert.deepEqual(keyOf({ ...car, bands: [], points: [], curves: [] }), []);
	assert.ok(
		words.includes("the book’s rows") && !words.some((w) => /sound distributor|alone/.test(w)),
		"rows, and no range where none is drawn",
	);
	const range = [
		{ engineRPM: 700, minCrankDeg: 6, maxCrankDeg: 21, isOutside: true },
		{ engineRPM: 1500, minCrankDeg: 17, maxCrankDeg: 21, isOutside: false },
		{ engineRPM: 3000, minCrankDeg: 26, maxCrankDeg: 30, isOutside: false },
	];
	const drawn = keyOf({
		...car,
		range,
		bands: [{ engineRPM: 1500, minCrankDeg: null, maxCrankDeg: 21 }, car.bands[1]],
	}).map((k) => k.words);
	assert.ok(drawn.some((w) => /what a sound distributor/.test(w)) && drawn.some((w) => /a most alone/.test(w)));
});
