import assert from "node:assert/strict";
import { test } from "node:test";
import { figureOf, ownLimit, phaseOf, resultsOf, standing } from "../app/js/condition/condition.js";
import { checkDoubt } from "../app/js/condition/check-doubts.js";
import { compressions } from "../app/js/record/compressions.js";
import { fact, near, spread, play, look, checks } from "./electric-facts.js";

test("compressions cylinder by cylinder become their spread", () => {
	assert.deepEqual(compressions("158-162-155-160"), [158, 162, 155, 160]);
	near(figureOf(spread, fact("158-162-155-160", "psi")), (7 / 162) * 100);
	near(figureOf(spread, fact("10,9 11,2", "bar")), (0.3 / 11.2) * 100, 1e-6);
	assert.equal(figureOf(spread, fact("8", "%")), 8);
	assert.equal(figureOf(spread, fact("158", "psi")), null);
	assert.equal(checkDoubt(spread, fact("100-150", "psi"), 33).level, "stop");
	near(figureOf(play, fact("2", "thou")), 0.002);
});

test("results for the calculation: read, seen, skipped, with the car's own limit; nothing that cannot be read", () => {
	const facts = {
		B27: fact("150-100", "psi"),
		B1: fact("2", "thou"),
		B5: fact("doubtful"),
		"B5.skipped": fact("no"),
	};
	const of = { car: {}, distributor: { "limit.B1.most": fact("0.05", "mm", "book") } };
	const [compression, side, seen] = resultsOf(checks, facts, of);
	near(compression.value, 100 / 3);
	near(side.own.passMax, 0.05 / 25.4);
	assert.match(side.own.source, /own figure: book/);
	assert.deepEqual(seen, { measure: "B5", seen: "doubtful" });
	assert.deepEqual(resultsOf(checks, { B1: fact("two"), "B1.skipped": fact("in the car") }, of), [
		{ measure: "B1", skipped: "in the car" },
	]);
	assert.deepEqual(resultsOf(checks, { B1: fact("") }, of), []);
});

test("an own limit upside down is refused and the general one stands", () => {
	const { limit, problem } = ownLimit(
		{ "limit.B1.least": fact("5", "thou"), "limit.B1.most": fact("3", "thou") },
		play,
	);
	assert.equal(limit, null);
	assert.match(problem.problem, /least is more/);
	assert.match(ownLimit({ "limit.B1.most": fact("three") }, play).problem.problem, /cannot be read/);
});

test("how a check stands, and which question it belongs to", () => {
	const judged = (verdict) => [
		{ measure: "B1", check: "B1", verdict, title: "", text: "", limitText: "", source: "", own: false },
	];
	assert.equal(standing(checks[1], judged("watch"), {}), "watch");
	assert.equal(standing(checks[1], [], {}), "due");
	assert.equal(standing(checks[1], judged("unknown"), { "B1.skipped": fact("in the car") }), "skipped");
	assert.equal(standing({ ...checks[1], measures: [play, look] }, judged("pass"), {}), "begun");
	assert.equal(phaseOf({ ...checks[0], id: "B22", group: "electrics" }), "Is the engine fit to tune?");
	assert.equal(phaseOf(checks[1]), "Is the distributor fit to set?");
});
