import assert from "node:assert/strict";
import { test } from "node:test";
import { layOutPaper } from "./paper-dom.js";

layOutPaper();
const { curvePlate, redraw } = await import("../app/js/kit/plate/curve-plate.js");
const { findings } = await import("../app/js/kit/finding/findings.js");
const { breath } = await import("../app/js/kit/platform.js");
const { stepper } = await import("../app/js/kit/stepper.js");
const { working } = await import("../app/js/kit/finding/working.js");

/** @typedef {any} Paper */

/** @type {PlateInput} */
const input = {
	number: 1,
	title: "on the car",
	axis: { quantity: "total", baseCrankDeg: 8 },
	bands: [{ engineRPM: 1500, minCrankDeg: 17, maxCrankDeg: 21 }],
	points: [
		{
			engineRPM: 1500,
			crankDeg: 17.2,
			direction: "rising",
			place: "car",
			minCrankDeg: 17,
			maxCrankDeg: 21,
			verdict: "pass",
		},
		{
			engineRPM: 3000,
			crankDeg: 21.7,
			direction: "rising",
			place: "car",
			minCrankDeg: 26,
			maxCrankDeg: 30,
			verdict: "fail",
		},
	],
	curves: [],
	callouts: [{ number: 1, engineRPM: 3000, crankDeg: 21.7, text: "short" }],
};
const role = (/** @type {string} */ name) => (/** @type {Paper} */ el) => el.getAttribute("role") === name;
const tag = (/** @type {string} */ name) => (/** @type {Paper} */ el) => el.localName === name;
const nameOf = (/** @type {Paper} */ el) => (el.getAttribute("aria-label") ?? el.textContent).trim();

test("the figure is a named thing that the keyboard reaches and steps through", () => {
	const figure = /** @type {Paper} */ (curvePlate(input));
	const [picture] = figure.all(role("slider"));
	const [line] = figure.all(role("status"));
	assert.equal(picture.getAttribute("tabindex"), "0");
	assert.equal(nameOf(picture), "Points of figure 1: on the car");
	assert.equal(picture.getAttribute("aria-valuemax"), "2");
	picture.fire("keydown", { key: "ArrowRight" });
	assert.equal(picture.getAttribute("aria-valuenow"), "1");
	assert.equal(
		picture.getAttribute("aria-valuetext"),
		"1500 engine rpm, rising, on the car, measured 17.2 before TDC, allowed 17.0 to 21.0, in band",
	);
	assert.equal(line.textContent, picture.getAttribute("aria-valuetext"));
});

test("a tap anywhere reads the nearest point, and a new drawing keeps it", () => {
	const figure = /** @type {Paper} */ (curvePlate(input));
	const [picture] = figure.all(role("slider"));
	const [line] = figure.all(role("status"));
	picture.fire("click", { clientX: 340, clientY: 40 });
	assert.match(line.textContent, /^3000 engine rpm/);
	redraw(figure, { ...input, title: "again" });
	assert.match(line.textContent, /^3000 engine rpm/);
});

test("every button has a name, and says when there is nothing further", () => {
	const figure = /** @type {Paper} */ (curvePlate(input));
	const buttons = figure.all(tag("button"));
	assert.deepEqual(buttons.map(nameOf), ["Back one point, figure 1", "Next point, figure 1"]);
	assert.equal(buttons[0].disabled, true);
	buttons[1].fire("click");
	buttons[1].fire("click");
	assert.equal(buttons[1].disabled, true);
});

test("the same points stand in a table with heads and a caption", async () => {
	const plate = /** @type {Paper} */ (curvePlate(input));
	await breath(); // the rows come in a turn of their own
	const [table] = plate.all(tag("table"));
	assert.equal(table.all(tag("caption"))[0].textContent, "Fig. 1 as a table: on the car");
	assert.equal(
		table.all(tag("th")).filter((/** @type {Paper} */ th) => th.getAttribute("scope") === "col").length,
		5,
	);
	assert.equal(table.all(tag("tr")).length, 3);
	assert.match(table.textContent, /4\.3 below the band/);
});

test("no lettering in the figure is under 14 px", () => {
	const texts = /** @type {Paper} */ (curvePlate(input)).all(tag("text"));
	assert.ok(texts.length > 20);
	for (const text of texts) assert.ok(Number(text.getAttribute("font-size")) >= 14, text.textContent);
});

test("a stepper can be used without dragging and says what is done", () => {
	/** @type {number[]} */
	const told = [];
	const { element } = stepper({
		name: "Primary spring",
		min: 0.4,
		max: 3,
		step: 0.05,
		value: 1,
		rest: 1,
		less: "softer",
		more: "stiffer",
		words: (v) => `at ${v}`,
		onChange: (v) => told.push(v),
	});
	const paper = /** @type {Paper} */ (element);
	const [minus, plus] = paper.all(tag("button"));
	assert.deepEqual([nameOf(minus), nameOf(plus)], ["Primary spring: softer", "Primary spring: stiffer"]);
	plus.fire("click");
	plus.fire("click");
	minus.fire("click");
	assert.deepEqual(told, [1.05, 1.1, 1.05]);
	const [slider] = paper.all(tag("input"));
	assert.equal(slider.getAttribute("aria-valuetext"), "at 1.05");
	assert.equal(nameOf(slider), "Primary spring");
});

test("a mend's exact figure is kept until someone presses", () => {
	const { element } = stepper({
		name: "Primary spring",
		min: 0.4,
		max: 5,
		step: 0.05,
		value: 4.8377,
		rest: 1,
		less: "softer",
		more: "stiffer",
		words: (v) => `at ${v}`,
		onChange() {},
	});
	assert.match(/** @type {Paper} */ (element).textContent, /at 4\.8377/);
});

test("findings say part, direction, sureness and what would disprove them", () => {
	const [first] = /** @type {Paper} */ (
		findings(
			[
				{
					code: "x",
					title: "Too early <b>",
					text: "Because.",
					part: "primary spring",
					direction: "too early",
					sureness: "likely",
					disprovedBy: "a second run",
					working: ["1 + 1 = 2"],
					sources: ["arithmetic"],
				},
			],
			new Set([1]),
		)
	).all(tag("li"));
	for (const said of [
		"Too early <b>",
		"primary spring",
		"too early",
		"Likely",
		"a second run",
		"1 + 1 = 2",
		"arithmetic",
		"called out on the figure",
	])
		assert.ok(first.textContent.includes(said), said);
	assert.equal(first.all(tag("b")).length, 0, "text stays text");
});

test("sure does not say that nothing else explains it", () => {
	const said = ["sure", "likely", "possible"].map(
		(sureness) =>
			/** @type {Paper} */ (
				findings([{ code: "x", title: "T", text: "t", sureness, disprovedBy: "a second run" }])
			).textContent,
	);
	for (const text of said) assert.doesNotMatch(text, /nothing else/i);
	assert.match(said[0], /Sure: the figures alone show this/);
	assert.match(said[1], /Likely: .*something else could fit/);
	assert.match(said[2], /Possible: .*do not show it/);
	const shared = /** @type {Paper} */ (
		findings([{ code: "x", title: "T", text: "t", sureness: "sure", share: 0.981 }])
	).textContent;
	assert.match(shared, /Sure, 98 in 100: the figures alone/);
});

test("working is absent where there is none, and names what it is the working of", () => {
	assert.equal(working("x", [], []), null);
	assert.equal(working("x", null, undefined), null, "an answer without them breaks no page");
	assert.match(
		/** @type {Paper} */ (working("the base", ["a"], ["b"])).textContent,
		/Show the working of the base.*Source: b\./,
	);
});
