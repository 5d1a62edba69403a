import assert from "node:assert/strict";
import { test } from "node:test";
import { fitness } from "../app/js/condition/fitness.js";
import { short } from "../app/js/record/events.js";

const fact = (value) => ({ value, unit: "", source: "measured", note: "" });
const check = (id, group, ...measures) => ({ id, group, measures: measures.map((name) => ({ id: name })) });
const checks = [
	check("B22", "electrics", "B22.standing", "B22.cranking"),
	check("B27", "engine", "B27"),
	check("B28", "engine", "B28"),
	check("B1", "distributor", "B1"),
	check("B24", "electrics", "B24"),
];
const judged = (...pairs) => pairs.map(([measure, verdict]) => ({ measure, check: measure.split(".")[0], verdict }));
const battery = judged(["B22.standing", "pass"], ["B22.cranking", "pass"]);

test("an engine with one check of three looked at is begun, not fit", () => {
	assert.deepEqual(fitness(checks, battery, {}), [
		{ step: "fit", verdict: "pass", what: "1 of 3 checks looked at", partly: true },
	]);
	assert.deepEqual(fitness(checks, [], {}), []);
});

test("half a check is no check", () => {
	const found = fitness(checks, judged(["B22.standing", "pass"]), {});
	assert.deepEqual([found[0].what, found[0].partly], ["0 of 3 checks looked at", true]);
});

test("it is whole when every check was looked at or skipped with a reason", () => {
	const facts = { "B28.skipped": fact("self-adjusting") };
	const all = [...battery, ...judged(["B27", "watch"], ["B28", "unknown"])];
	assert.deepEqual(fitness(checks, all, facts), [
		{ step: "fit", verdict: "watch", what: "2 of 3 checks looked at, 1 skipped" },
	]);
	assert.equal(fitness(checks, all, {})[0].partly, true, "what could not be judged is open");
	assert.deepEqual(fitness(checks, judged(["B1", "fail"]), {}), [
		{ step: "wear", verdict: "fail", what: "1 of 1 checks looked at" },
	]);
});

test("what an event says is cut at a word, with a sign, within what is taken", () => {
	assert.equal(short("The curve is in the band."), "The curve is in the band.");
	const long = short("word ".repeat(60).trim());
	assert.ok(long.length <= 200);
	assert.match(long, /word…$/);
});
