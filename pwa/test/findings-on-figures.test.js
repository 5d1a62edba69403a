import assert from "node:assert/strict";
import { test } from "node:test";
import { linesOf } from "../app/js/curve/governor-figures.js";
import { baseUnderFit, figuresOf, mendFigure, raised } from "../app/js/curve/from-judgement.js";
import { spec, bench, strobe } from "./read-car.js";

/** @returns {Judgement} */
const judgement = () => ({
	points: [
		{
			set: 0,
			engineRPM: 900,
			direction: "rising",
			base: "excluded",
			measuredCrankDeg: 15,
			minCrankDeg: 1,
			maxCrankDeg: 5,
			deviationCrankDeg: 10,
			verdict: "fail",
		},
		{
			set: 0,
			engineRPM: 900,
			direction: "falling",
			base: "excluded",
			measuredCrankDeg: 17,
			minCrankDeg: 1,
			maxCrankDeg: 5,
			deviationCrankDeg: 12,
			verdict: "fail",
		},
		{
			set: 1,
			engineRPM: 800,
			direction: "rising",
			base: "included",
			measuredCrankDeg: 8,
			minCrankDeg: 8.7,
			maxCrankDeg: 12,
			deviationCrankDeg: -0.7,
			verdict: "watch",
		},
	],
	bands: [],
	counts: { asRead: { inside: 0, withinError: 1, outside: 2 }, baseOffCrankDeg: null, baseOff: null },
	baseOffsetCrankDeg: -12.3,
	baseCrankDeg: -4.3,
	shape: "early",
	hysteresisDistDeg: 1,
	suspicion: "none",
	verdict: "fail",
	summary: "",
	findings: [
		{ code: "curve-early", title: "Too early", text: "", sureness: "sure" },
		{ code: "base-hidden", title: "Base hidden", text: "", sureness: "sure" },
	],
});

const known = () => ({
	spec,
	sets: [bench, strobe],
	judgement: judgement(),
	total: [{ engineRPM: 600, minCrankDeg: 8, maxCrankDeg: 10 }],
	advance: [{ engineRPM: 600, minCrankDeg: 0, maxCrankDeg: 2 }],
});

/** @type {Fit} */
const fit = {
	model: {
		startDistRPM: 200,
		primaryRate: 0.025,
		secondaryRate: 0.4,
		kneeDistDeg: 10,
		limitDistDeg: 13,
		frictionDistDeg: 0.4,
		weightGrowth: 0,
	},
	kneeDistRPM: 540,
	limitDistRPM: 1180,
	rmsDistDeg: 0.2,
	intervals: { limitDistDeg: [12.8, 13.4] },
	curve: [
		{ distRPM: 0, distDeg: 0 },
		{ distRPM: 2500, distDeg: 13 },
	],
	undecided: [{ name: "startDistRPM", why: "no reading below it", take: "readings below 300" }],
};

test("bench and car readings stand on figures of their own, each finding where it shows", () => {
	const figures = figuresOf(known(), fit);
	assert.deepEqual(
		figures.map((f) => [f.number, f.axis.quantity]),
		[
			[1, "advance"],
			[2, "total"],
		],
	);
	assert.deepEqual(
		figures[0].callouts?.map((c) => c.number),
		[1],
		"the curve on the distributor's own figure",
	);
	assert.deepEqual(
		figures[1].callouts?.map((c) => c.number),
		[2],
		"the base on the engine's",
	);
	assert.deepEqual(
		figures[0].callouts?.[0] && [figures[0].callouts[0].engineRPM, figures[0].callouts[0].crankDeg],
		[900, 17],
		"at the reading farthest out",
	);
	assert.equal(figures[0].curves[0].points[1].crankDeg, 26);
	assert.equal(figures[1].curves[0].points[1].crankDeg, 26 - 4.3);
});

test("with the car's readings alone every finding is on the one figure", () => {
	const all = known();
	all.judgement.points = all.judgement.points.filter((p) => p.base === "included");
	assert.equal(figuresOf(all, null).length, 1);
});

test("a fitted line stands on the base its readings were taken from", () => {
	assert.equal(baseUnderFit({ baseCrankDeg: null }, -4.3), -4.3, "readings without base: the base as judged");
	assert.equal(
		baseUnderFit({ baseCrankDeg: 10 }, -4.3),
		10,
		"a car's own fit: the base that was taken off its readings",
	);
	assert.equal(baseUnderFit({ baseCrankDeg: null }, null), null);
	assert.equal(baseUnderFit(null, 3), null);
	assert.deepEqual(raised([{ distRPM: 500, distDeg: 4 }], 2, 8), [{ engineRPM: 1000, crankDeg: 16 }]);
});

test("the reading that stands alone is called out where it is, not at the one farthest out", () => {
	const all = known();
	all.judgement.findings = [{ code: "wild-reading", title: "Alone", text: "", sureness: "likely" }];
	all.judgement.points = [
		{
			set: 1,
			engineRPM: 700,
			direction: "rising",
			base: "included",
			measuredCrankDeg: 10,
			minCrankDeg: 9,
			maxCrankDeg: 13,
			deviationCrankDeg: 0,
			verdict: "pass",
			baseOffVerdict: "fail",
			alone: true,
		},
		{
			set: 1,
			engineRPM: 3200,
			direction: "falling",
			base: "included",
			measuredCrankDeg: 35,
			minCrankDeg: 28,
			maxCrankDeg: 33,
			deviationCrankDeg: 2,
			verdict: "fail",
			baseOffVerdict: "pass",
		},
	];
	for (const code of ["wild-reading", "one-speed-out"]) {
		all.judgement.findings[0].code = code;
		const [callout] = figuresOf(all, null)[0].callouts ?? [];
		assert.deepEqual([callout?.engineRPM, callout?.crankDeg], [700, 10], code);
	}
});

test("a mend is drawn as found, after its first change and at the end, on the base each stands on", () => {
	const rows = [{ engineRPM: 600, minCrankDeg: 8, maxCrankDeg: 10 }];
	const book = { rows, range: [] };
	/** @type {any} */
	const fit = { curve: [{ distRPM: 300, distDeg: 2 }] };
	/** @type {any} */
	const option = {
		change: { slackDistDeg: -3, baseCrankDeg: 8 },
		curve: [{ distRPM: 300, distDeg: 0 }],
		stages: [
			{ step: "a", change: { slackDistDeg: -3 }, curve: [{ distRPM: 300, distDeg: 1 }] },
			{ step: "b", change: {}, curve: [] },
		],
	};
	const figure = mendFigure({ spec, total: book, advance: { rows: [], range: [] } }, fit, -4, option);
	assert.deepEqual(
		figure.curves.map(({ name, points }) => [name, points[0].crankDeg]),
		[
			["as found", 0],
			["after the first change", -2],
			["at the end", 8],
		],
	);
	assert.equal(figure.bands, rows);
	const alone = mendFigure({ spec, total: { rows: [], range: [] }, advance: book }, fit, null, {
		...option,
		stages: [],
	});
	assert.deepEqual([alone.axis.quantity, ...alone.curves.map(({ points }) => points[0].crankDeg)], ["advance", 4, 0]);
});

test("the governor is told in trade words, without what the readings cannot decide", () => {
	const lines = linesOf(fit, 2);
	assert.ok(!lines.some((line) => line.key === "startDistRPM"));
	const limit = lines.find((line) => line.key === "limitDistDeg");
	assert.equal(limit?.value, "13.0° distributor");
	assert.equal(limit?.range, "12.8 to 13.4° distributor");
	assert.match(lines.find((line) => line.key === "primaryRate")?.value ?? "", /1° for every 34 distributor rpm/);
});
