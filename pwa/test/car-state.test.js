// The state of a car: the worst of all that is known, with its page.

import "fake-indexeddb/auto";
import assert from "node:assert/strict";
import test from "node:test";
import { whatToDo, worstOf } from "../app/js/state/car-state.js";

const one = (/** @type {string} */ verdict, summary = `it is ${verdict}.`) => ({ verdict, summary });
const parts = ["condition", "volts", "points", "polarity", "spark", "scatter", "vacuum", "verdict"];
const car = /** @type {any} */ ({ id: "carcarcarcar" });

test("nothing known has no state", () => {
	assert.equal(worstOf({ verdict: null, volts: undefined }), null);
	assert.equal(whatToDo(car, null), null);
});

test("one thing that fails is the state, whichever it is, and what to do leads to its page", () => {
	for (const part of parts) {
		const all = Object.fromEntries(parts.map((each) => [each, one(each === part ? "fail" : "pass")]));
		const state = worstOf(all);
		assert.equal(state?.verdict, "fail");
		assert.equal(state?.part, part);
		const page = part === "polarity" ? "spark" : part; // the coil's page is the spark's
		assert.match(whatToDo(car, state)?.href ?? "", new RegExp(`/${page}$`));
	}
});

test("the worst stands: a fail before a watch before a pass", () => {
	assert.equal(worstOf({ points: one("watch"), verdict: one("pass") })?.part, "points");
	assert.equal(worstOf({ points: one("watch"), volts: one("fail"), verdict: one("watch") })?.part, "volts");
});

test("what passed elsewhere passes no car before its curve is judged", () => {
	const state = worstOf({ points: one("pass"), polarity: one("pass") });
	assert.deepEqual([state?.verdict, state?.part], ["unknown", "verdict"]);
	assert.match(state?.summary ?? "", /not judged yet/);
});

test("a pass is told by the curve", () => {
	assert.deepEqual(worstOf({ points: one("pass"), verdict: one("pass", "in the book.") }), {
		verdict: "pass",
		part: "verdict",
		summary: "In the book.",
	});
});

test("what is unknown on one page does not hide what another says", () => {
	assert.equal(worstOf({ vacuum: one("unknown"), verdict: one("pass") })?.verdict, "pass");
	assert.equal(worstOf({ vacuum: one("unknown") })?.verdict, "unknown");
});

test("a curve that is not known is not hidden by points that pass", () => {
	const state = worstOf({ points: one("pass"), volts: one("pass"), verdict: one("unknown") });
	assert.deepEqual([state?.verdict, state?.part], ["unknown", "verdict"]);
	assert.equal(worstOf({ points: one("watch"), verdict: one("unknown") })?.part, "points");
});

test("only a fail goes before the order of work", () => {
	for (const verdict of ["watch", "pass", "unknown"])
		assert.equal(whatToDo(car, worstOf({ verdict: one(verdict) })), null);
});

test("whose verdict it is stands before the reason", () => {
	assert.match(worstOf({ volts: one("fail", "the switch loses 1.2 V.") })?.summary ?? "", /^Feed: the switch/);
});

test("an open fault hunt is no pass; a cause that was found closes it", async () => {
	const { openHunt, worstOf: worst } = await import("../app/js/state/car-state.js");
	const visit = (/** @type {{[key: string]: string}} */ facts) => [
		{
			id: "huntvisit0000000",
			body: {
				facts: Object.fromEntries(
					Object.entries({ begun: "2026-01-01T08:00:00.000Z", ...facts }).map(([key, value]) => [
						`hunt.${key}`,
						{ value, unit: "", source: "measured", note: "" },
					]),
				),
			},
		},
	];
	assert.equal(openHunt([]), null);
	assert.equal(openHunt(visit({ symptoms: "S01" })), null, "not told to the end");
	const open = openHunt(visit({ symptoms: "S01", told: "yes", trail: "T01 T02" }));
	assert.match(open?.summary ?? "", /cause is not found. 2 tests done/);
	assert.equal(openHunt(visit({ told: "yes", found: "IG01" })), null);
	const pass = { verdict: "pass", summary: "right" };
	assert.deepEqual(worst({ hunt: open, verdict: pass })?.verdict, "watch");
	assert.match(worst({ hunt: open, verdict: pass })?.summary ?? "", /^Fault hunt: it runs badly/);
	assert.equal(worst({ hunt: open, verdict: { verdict: "fail", summary: "late" } })?.part, "verdict");
	assert.equal(worst({ hunt: null, verdict: pass })?.verdict, "pass");
});
