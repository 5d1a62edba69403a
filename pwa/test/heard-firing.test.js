import assert from "node:assert/strict";
import { test } from "node:test";
import { firingOf, notSaid, ways } from "../app/js/ear/heard-firing.js";

const chosen = (way, more = {}) => ({ ...notSaid, way, ...more });

test("how it fires: what is chosen becomes intervals that add up to the cycle", () => {
	assert.deepEqual(firingOf(chosen("even"), 6).firing, { cylinders: 6, intervals: Array(6).fill(120) });
	assert.deepEqual(firingOf(chosen("bank"), 8).firing, { cylinders: 4, intervals: [90, 180, 270, 180] });
	assert.deepEqual(firingOf(chosen("v6"), 6).firing, { cylinders: 6, intervals: [90, 150, 90, 150, 90, 150] });
	assert.deepEqual(firingOf(chosen("twin", { angle: "45" }), 2).firing, { cylinders: 2, intervals: [315, 405] });
	for (const cylinders of [2, 3, 4, 5, 6, 8, 12]) {
		for (const { value } of ways(cylinders)) {
			const { firing } = firingOf(chosen(value, { angle: "90", typed: "270-450" }), cylinders);
			assert.equal(
				Math.round(firing.intervals.reduce((all, each) => all + each, 0)),
				720,
				`${cylinders} ${value}`,
			);
			assert.equal(firing.intervals.length, firing.cylinders);
		}
	}
});

test("not said stays not said; what another engine was told does not carry over", () => {
	assert.deepEqual(firingOf(notSaid, 4).firing, { cylinders: 4, intervals: null });
	assert.deepEqual(firingOf(chosen("bank"), 4).firing, { cylinders: 4, intervals: null });
});

test("typed intervals are read as people write them", () => {
	for (const typed of [
		"90-180-270-180",
		"90 180 270 180",
		"90, 180, 270, 180",
		"90,180,270,180",
		"90 – 180 – 270 – 180",
	]) {
		assert.deepEqual(
			firingOf(chosen("typed", { typed }), 8).firing,
			{ cylinders: 4, intervals: [90, 180, 270, 180] },
			typed,
		);
	}
	assert.deepEqual(
		firingOf(chosen("typed", { typed: "102,9 102,9 102,9 102,9 102,9 102,9 102,9" }), 7).problem,
		null,
	);
	assert.deepEqual(firingOf(chosen("typed", { typed: "180 180" }), 2).firing, {
		cylinders: 2,
		intervals: [180, 180],
	});
});

test("what cannot be is refused with the limit and what to do", () => {
	for (const kept of [
		chosen("typed"),
		chosen("typed", { typed: "90-x-270" }),
		chosen("typed", { typed: "90-180-270" }),
		chosen("typed", { typed: "0-720" }),
		chosen("typed", { typed: "-90" }),
		chosen("typed", { typed: "100 100 100 100 100 100 120" }),
	]) {
		const { firing, problem } = firingOf(kept, 4);
		assert.equal(firing, null, kept.typed);
		assert.ok(problem.problem && problem.limit && problem.do);
		assert.ok(problem.problem.length < 50);
	}
	for (const angle of ["", "x", "0", "200"]) assert.equal(firingOf(chosen("twin", { angle }), 2).firing, null, angle);
});
