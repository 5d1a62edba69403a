import assert from "node:assert/strict";
import { test } from "node:test";
import { corners } from "../app/js/record/book-band.js";
import { forCalculation, fromAddress, knobs, toAddress, words } from "../app/js/curve/change.js";
import { everyFiveHundred, shownSpeeds, withSpeed } from "../app/js/curve/strobe-speeds.js";
import { compare, countIn } from "../app/js/curve/compare-table.js";
import { readingsInBand, standingOf } from "../app/js/curve/in-band.js";
import { changeWords } from "../app/js/curve/mends.js";
import { inWords } from "../app/js/readings/quick-verdict.js";
import { nextStep } from "../app/js/kit/stepper.js";
import { idleAdvance, idleSentence, rangeWords, strobeTable } from "../app/js/curve/strobe-table.js";
import { place } from "../app/js/curve/cannot-judge.js";
import { spec } from "./read-car.js";

test("the band's corners are engine speeds, ascending, with the start of advance", () => {
	assert.deepEqual(corners(spec), [600, 5000]);
	assert.deepEqual(corners({ ...spec, noAdvanceBelowRPM: 250, driveRatio: 2 }), [500, 600, 5000]);
	assert.deepEqual(corners({ ...spec, speedUnit: "engine" }), [300, 2500]);
});

test("a change survives its trip through an address, and nothing strange gets in", () => {
	const change = { primarySpring: 4.8377, slackDistDeg: -3.8, baseCrankDeg: 8 };
	assert.deepEqual(fromAddress(toAddress(change)), change);
	assert.equal(fromAddress(undefined), null);
	assert.equal(fromAddress("nonsense=3,primarySpring=,weights=many"), null);
	assert.deepEqual(fromAddress("primarySpring=99"), { primarySpring: 10 }, "kept inside what the calculation takes");
});

test("what changes nothing is not sent, and the base is no part of the governor", () => {
	assert.deepEqual(
		forCalculation({ primarySpring: 1, slackDistDeg: 0, weights: 1.1, baseCrankDeg: 8, limitDistDeg: 12 }),
		{ weights: 1.1, limitDistDeg: 12 },
	);
});

test("every change is said in plain words", () => {
	assert.equal(words("primarySpring", 1.2, null), "Primary spring 20 % stiffer");
	assert.equal(words("primarySpring", 0.7, null), "Primary spring 30 % softer");
	assert.equal(words("primarySpring", 2.1, null), "Primary spring 2.1 times as stiff");
	assert.equal(words("slackDistDeg", -1.5, null), "Bend secondary post out: 1.5 distributor degrees less slack");
	assert.equal(words("primaryPreload", 1.3, null), "Bend primary spring post out: 30 % more preload");
	assert.equal(words("limitDistDeg", 11, 13.2), "Stop at 11 distributor degrees, 2.2 less");
	assert.equal(words("baseCrankDeg", -4.3, -4.3), "Base 4.3° after TDC, as it is");
	for (const knob of knobs)
		assert.ok(words(knob.key, knob.rest ?? 10, 10).includes("as "), `${knob.key} at rest says so`);
	assert.equal(
		changeWords({ replace: ["primary"], slackDistDeg: -3.1 }),
		"New primary spring, as the book names it; bend secondary post out: 3.1 distributor degrees less slack",
	);
	assert.equal(
		changeWords({ primarySpring: 2, baseCrankDeg: 8 }),
		"Primary spring 2 times as stiff; base 8° before TDC",
	);
});

test("a press goes to the next whole step and never over the value as found", () => {
	assert.equal(nextStep(1, 1, 0.05, 1), 1.05);
	assert.equal(nextStep(-4.3, 1, 0.5, -4.3), -4);
	assert.equal(nextStep(-4.5, 1, 0.5, -4.3), -4.3);
	assert.equal(nextStep(-4, -1, 0.5, -4.3), -4.3);
	assert.equal(nextStep(0.3, -1, 0.1, 1), 0.2, "no binary dust");
});

test("speeds are added, refused with a reason, and shown with idle first", () => {
	assert.deepEqual(withSpeed([1000, 2000], "1,500"), { speeds: [1000, 1500, 2000], problem: "" });
	assert.match(withSpeed([1000], "fast").problem, /not a speed/);
	assert.match(withSpeed([1000], "12000").problem, /outside 200 to 9000/);
	assert.match(withSpeed([1000], "1000").problem, /already/);
	assert.deepEqual(withSpeed([1000], "fast").speeds, [1000], "a refusal changes nothing");
	assert.deepEqual(everyFiveHundred(800, 3000), [1000, 1500, 2000, 2500, 3000]);
	assert.deepEqual(everyFiveHundred(null, 1200), [1000, 1500]);
	assert.deepEqual(shownSpeeds(800, [1000, 800]), [800, 1000]);
});

test("the idle figure says how much of it is advance", () => {
	const band = { engineRPM: 800, minCrankDeg: 8.6667, maxCrankDeg: 12 };
	const advance = { engineRPM: 800, minCrankDeg: 0.6667, maxCrankDeg: 4 };
	assert.equal(idleSentence(8, band, advance), "With 8° static it should read 8.7 to 12.0° at 800 engine rpm.");
	assert.match(
		idleAdvance(8, band, advance),
		/^0\.7 to 4\.0 of it comes from the weights\. A reading of 8° at idle would mean/,
	);
	assert.ok(
		!idleAdvance(8, { ...band, minCrankDeg: 8 }, { ...advance, minCrankDeg: 0 }).includes("late"),
		"8 may be right where no advance is allowed",
	);
	const none = { engineRPM: 500, minCrankDeg: 0, maxCrankDeg: 0 };
	assert.equal(idleAdvance(8, { engineRPM: 500, minCrankDeg: 8, maxCrankDeg: 8 }, none), "");
	assert.match(idleSentence(8, { engineRPM: 500, minCrankDeg: 8, maxCrankDeg: 8 }, none), /weights still rest/);
	assert.match(idleSentence(undefined, band, undefined), /Your engine should read 8\.7 to 12\.0/);
});

test("the tolerance of the base is not taken for advance", () => {
	const [rest, band] = [
		{ engineRPM: 500, minCrankDeg: 6, maxCrankDeg: 10 },
		{ engineRPM: 800, minCrankDeg: 6.6667, maxCrankDeg: 14 },
	];
	assert.equal(idleAdvance(8, rest, { engineRPM: 500, minCrankDeg: 0, maxCrankDeg: 0 }), "");
	assert.match(idleSentence(8, rest, { engineRPM: 500, minCrankDeg: 0, maxCrankDeg: 0 }), /weights still rest/);
	assert.equal(
		idleAdvance(8, band, { engineRPM: 800, minCrankDeg: 0.6667, maxCrankDeg: 4 }),
		"0.7 to 4.0 of it comes from the weights.",
	);
});

test("below the book's first speed the idle is told what is possible, not what the first row says", () => {
	const band = { engineRPM: 650, minCrankDeg: 8, maxCrankDeg: 12, held: true, silent: true, leastCrankDeg: 6 };
	const advance = { engineRPM: 650, minCrankDeg: 2, maxCrankDeg: 6, held: true, silent: true, leastCrankDeg: 0 };
	assert.equal(
		idleSentence(6, band, advance),
		"There is no figure in the book at 650: its table begins higher. With your 6° static anything from 6.0 to 12.0 can be right.",
	);
	assert.ok(!/late|\d/.test(idleAdvance(6, band, advance)), "no figure and no verdict");
	assert.equal(
		idleSentence(undefined, { ...band, leastCrankDeg: undefined }, undefined),
		"There is no figure in the book at 650: its table begins higher. More than 12.0 before TDC would be too early.",
	);
});

test("a reading where the book is silent is said to be possible, not in band", () => {
	/** @type {JudgedPoint} */
	const point = {
		set: 0,
		engineRPM: 650,
		direction: "rising",
		base: "included",
		measuredCrankDeg: 6,
		minCrankDeg: 6,
		maxCrankDeg: 12,
		deviationCrankDeg: 0,
		verdict: "pass",
		held: true,
		silent: true,
	};
	assert.equal(inWords(point, 2).text, "no figure in the book at this speed; 6.0–12.0° crank is possible");
	assert.match(
		inWords({ ...point, measuredCrankDeg: 3, deviationCrankDeg: -3, verdict: "fail" }, 2).text,
		/^low by 3\.0° crank, .*; no figure in the book here, only 6\.0–12\.0° crank is possible$/,
	);
	assert.match(inWords({ ...point, silent: false }, 2).text, /^in band/);
});

test("a range after TDC is spelled out", () => {
	assert.equal(rangeWords(-4.3, -2), "2.0 to 4.3 after");
	assert.equal(rangeWords(-2, 3), "2.0 after to 3.0 before");
	assert.equal(rangeWords(0, 2), "0.0 to 2.0");
});

test("a refused field is named as the screen names it", () => {
	assert.equal(place("spec.points[1].maxDeg"), "The book’s table, line 2, cannot be used");
	assert.equal(place("readings[0].points[4].rpm"), "Reading 5 cannot be used");
	assert.equal(place(""), "");
});

test("as found and as changed are compared at the book's speeds", () => {
	const rows = compare({
		title: "",
		axis: { quantity: "total" },
		points: [],
		bands: [{ engineRPM: 1000, minCrankDeg: 10, maxCrankDeg: 14 }],
		curves: [
			{
				kind: "found",
				name: "",
				points: [
					{ engineRPM: 0, crankDeg: 0 },
					{ engineRPM: 2000, crankDeg: 40 },
				],
			},
			{
				kind: "what-if",
				name: "",
				points: [
					{ engineRPM: 0, crankDeg: 0 },
					{ engineRPM: 2000, crankDeg: 24 },
				],
			},
		],
	});
	assert.deepEqual([rows[0].found, rows[0].changed], [20, 12]);
});

test("in the band is one thing for readings, the foot of the verdict and what-if", () => {
	const band = { minCrankDeg: 30, maxCrankDeg: 35 };
	assert.deepEqual(
		[35, 35.9, 36.2, 29.04, 30].map((value) => standingOf(value, band, 1)),
		["pass", "watch", "fail", "watch", "pass"],
	);
	const counts = {
		asRead: { inside: 3, withinError: 3, outside: 3 },
		baseOffCrankDeg: 2,
		baseOff: { inside: 8, withinError: 0, outside: 1 },
	};
	assert.equal(readingsInBand(counts), "6 of 9 as read; 8 of 9 once 2.0° of base is taken off");
	assert.equal(readingsInBand({ ...counts, baseOffCrankDeg: null, baseOff: null }), "6 of 9 as read");
	assert.match(readingsInBand({ ...counts, baseOffCrankDeg: -4.5 }), /once 4\.5° of base is put back on/);
});

test("what-if counts speeds by the same rule and gives the readings beside the fitted curve", () => {
	const rows = compare(
		{
			title: "",
			axis: { quantity: "total" },
			points: [],
			bands: [
				{ engineRPM: 4800, minCrankDeg: 30, maxCrankDeg: 35 },
				{ engineRPM: 1000, minCrankDeg: 11, maxCrankDeg: 16 },
			],
			curves: [
				{
					kind: "found",
					name: "",
					points: [
						{ engineRPM: 1000, crankDeg: 17.5 },
						{ engineRPM: 4800, crankDeg: 35.7 },
					],
				},
				{
					kind: "what-if",
					name: "",
					points: [
						{ engineRPM: 1000, crankDeg: 15 },
						{ engineRPM: 4800, crankDeg: 33 },
					],
				},
			],
		},
		{
			error: 1,
			readings: [
				{ engineRPM: 4800, crankDeg: 36, direction: "rising" },
				{ engineRPM: 1000, crankDeg: 15.5, direction: "rising" },
				{ engineRPM: 1000, crankDeg: 18, direction: "falling" },
			],
		},
	);
	assert.deepEqual(
		rows.map((row) => row.readings.map((one) => one.crankDeg)),
		[[36], [15.5, 18]],
	);
	assert.deepEqual(
		[countIn(rows, "found"), countIn(rows, "changed")],
		[
			{ count: 1, byError: 1 },
			{ count: 2, byError: 0 },
		],
	);
});

test("the strobe table says large what is judged by, and small what the book prints", async () => {
	const { layOutPaper } = await import("./paper-dom.js");
	layOutPaper();
	const bands = [
		{ engineRPM: 600, minCrankDeg: 8, maxCrankDeg: 10, leastCrankDeg: 8, mostCrankDeg: 10 },
		{ engineRPM: 2000, minCrankDeg: 16, maxCrankDeg: 20, leastCrankDeg: 14, mostCrankDeg: 23 },
		{ engineRPM: 5000, minCrankDeg: 30, maxCrankDeg: 36, leastCrankDeg: 30, mostCrankDeg: 36 },
	];
	/** @type {any} */
	const table = strobeTable(bands, null, {
		spec: {
			...spec,
			points: [
				{ rpm: 300, minDeg: 0, maxDeg: 1 },
				{ rpm: 2500, maxDeg: 14 },
			],
		},
		rows: [600, 5000],
	});
	const lines = table
		.all((/** @type {any} */ el) => el.localName === "tr")
		.map((/** @type {any} */ el) => el.textContent.replace(/\s+/g, " "));
	assert.match(lines[1], /8\.0 to 10\.0The book’s row\.$/);
	assert.match(lines[2], /14\.0 to 23\.0Straight line: 16\.0 to 20\.0\.$/);
	assert.match(
		lines[3],
		/30\.0 to 36\.0The book’s row: at most 36\.0\.$/,
		"what the book does not name is not said to be the book's",
	);
});
