import assert from "node:assert/strict";
import { test } from "node:test";
import "fake-indexeddb/auto";
import { firingOf, intervalsDoubt, intervalsIn, setsOf } from "../app/js/scatter/firing.js";
import { scatterInput } from "../app/js/scatter/scatter.js";

const fact = (value, unit = "") => ({ value, unit, source: "measured", note: "" });

test("firing intervals are read as typed, once or all round, and doubted when they make no round", () => {
	assert.deepEqual(intervalsIn("90 150", 6), [90, 150, 90, 150, 90, 150]);
	assert.deepEqual(intervalsIn("90-150-90-150-90-150", 6), [90, 150, 90, 150, 90, 150]);
	assert.deepEqual(intervalsIn("180, 540", 2), [180, 540]);
	assert.equal(intervalsIn("90 140", 6), null);
	assert.match(intervalsDoubt("90 140", 6).limit, /720 crank degrees, or 360/);
	assert.equal(intervalsDoubt("", 6), null);
	assert.deepEqual(firingOf({}, 4), {}, "not said stays not said");
	assert.deepEqual(firingOf({ firing: fact("even") }, 4), { firing: { intervalsCrankDeg: [180, 180, 180, 180] } });
	assert.deepEqual(firingOf({ firing: fact("even-two-stroke") }, 3), {
		firing: { intervalsCrankDeg: [120, 120, 120] },
	});
});

test("twin among the facts does not say that each set fires every other cylinder", () => {
	assert.deepEqual(setsOf({ pointsKind: fact("twin") }), {});
	assert.deepEqual(setsOf({ pointsKind: fact("single") }), { points: "single" });
	assert.deepEqual(setsOf({ pointsKind: fact("twin"), pointsSets: fact("twin") }), { points: "twin" });
	assert.deepEqual(setsOf({ pointsSets: fact("pair") }), { points: "single" });
});

test("crank degrees are turned by the drive of this engine", () => {
	const facts = {
		"scatter.unit": fact("crank"),
		"scatter.run1.2": { ...fact("3"), note: "early" },
		"scatter.run1.3": { ...fact("3"), note: "late" },
	};
	const given = (car, sheet = {}) => ({
		car: { id: "c", body: { facts: { cylinders: fact("3"), ...car } } },
		distributor: { id: "d", body: { facts: {}, sheet: { driveRatio: "", ...sheet } } },
		answers: {},
	});
	assert.deepEqual(scatterInput(given({}), facts).errorsDistDeg, [0, 1.5, -1.5]);
	const two = scatterInput(given({ firing: fact("even-two-stroke") }), facts);
	assert.deepEqual(two.errorsDistDeg, [0, 3, -3]);
	assert.deepEqual(two.firing, { intervalsCrankDeg: [120, 120, 120] });
	assert.equal(scatterInput(given({}, { driveRatio: "1" }), facts).driveRatio, 1);
});
