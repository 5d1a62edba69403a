import assert from "node:assert/strict";
import { test } from "node:test";
import "fake-indexeddb/auto";
import { capsuleInput } from "../app/js/vacuum/capsule.js";
import { capsuleMostDoubt, capsuleVacuumDoubt, movementDoubt } from "../app/js/vacuum/capsule-doubts.js";

const fact = (value, unit) => ({ value, unit, source: "measured", note: "" });
const given = (unit = {}, car = {}) => ({
	car: { id: "c", body: { facts: car } },
	distributor: { body: { facts: unit } },
	answers: {},
});
const rows = (...pairs) =>
	Object.fromEntries(
		pairs.flatMap(([vacuum, deg, unit = "inHg"], i) => [
			[`capsule.${i + 1}.vacuum`, fact(vacuum, unit)],
			[`capsule.${i + 1}.deg`, fact(deg, "distributor degrees")],
		]),
	);

test("a slipped key is left out and named in its own unit; the rest is judged", () => {
	const { readings } = capsuleInput(given(), rows(["4.5", "0.6"], ["150", "6.5"], ["8", "3.4"], ["12", "650"]));
	assert.deepEqual(
		readings.map(({ distDeg }) => distDeg),
		[0.6, 3.4],
	);
	const doubt = capsuleVacuumDoubt("150", "inHg");
	assert.equal(doubt.problem, "150 inHg is no vacuum that can be");
	assert.equal(doubt.limit, "0 to 30 inHg");
	assert.match(doubt.do, /decimal point.*left out; the rest is judged/);
	assert.equal(capsuleVacuumDoubt("7620", "mmHg").limit, "0 to 765 mmHg");
	assert.equal(capsuleVacuumDoubt("15.0", "inHg"), null);
	assert.match(capsuleVacuumDoubt("29.5", "inHg").limit, /0 to 29 inHg/, "unusual is asked about, and judged");
	assert.equal(movementDoubt("650", "distributor degrees").limit, "-30 to 45 distributor degrees");
	assert.equal(movementDoubt("13", "crank degrees"), null);
});

test("every figure of the capsule that cannot be is left out, wherever it is typed", () => {
	const hold = {
		"capsule.hold.start": fact("160", "inHg"),
		"capsule.hold.end": fact("15", "inHg"),
		"capsule.hold.seconds": fact("20", "seconds"),
	};
	assert.equal(capsuleInput(given(), hold), null);
	const all = capsuleInput(
		given(
			{
				capsuleStart: fact("400", "inHg"),
				capsuleFull: fact("12", "inHg"),
				capsuleMost: fact("70", "distributor degrees"),
			},
			{ idleVacuum: fact("180", "inHg") },
		),
		{ ...rows(["8", "3"]), pipeAtIdle: fact("-3", "inHg") },
	);
	assert.deepEqual(Object.keys(all.capsule), ["kind", "fullKPa"]);
	assert.deepEqual([all.idleVacuumKPa, all.pipeAtIdleKPa], [undefined, undefined]);
	assert.match(capsuleMostDoubt("capsuleMost", "70", "distributor degrees").limit, /at most 30 distributor degrees/);
	assert.equal(capsuleMostDoubt("capsule.hold.seconds", "20", "seconds"), null);
});
