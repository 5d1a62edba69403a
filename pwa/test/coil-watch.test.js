import assert from "node:assert/strict";
import { test } from "node:test";
import { clockOf, coolsIn, heatAfter, heatsKept, limits, secondsOf, stageOf } from "../app/js/safety/coil-watch.js";
import { demos } from "../app/js/garage/demo.js";
import { electricSteps, timingUndone } from "../app/js/job/job-electrics.js";
import { jobOf } from "../app/js/job/job.js";

test("the watch counts whole seconds, never backwards, and knows its two limits", () => {
	const at = 1_700_000_000_000;
	assert.equal(secondsOf({ since: at }, at + 59_999), 59);
	assert.equal(secondsOf({ since: at }, at - 5000), 0);
	assert.deepEqual([0, limits.first - 1, limits.first, limits.last - 1, limits.last, 4000].map(stageOf), [
		"counting",
		"counting",
		"soon",
		"soon",
		"alarm",
		"alarm",
	]);
	assert.deepEqual([0, 65, 600].map(clockOf), ["0:00", "1:05", "10:00"]);
});

test("a coil that was on keeps its heat a while: the count goes on where it was, less what has cooled", () => {
	const at = 1_700_000_000_000;
	assert.equal(heatAfter({ seconds: 120, at }, at), 120);
	assert.ok(Math.abs(heatAfter({ seconds: 120, at }, at + 10_000) - 118) < 0.1, "ten seconds cool next to nothing");
	assert.ok(Math.abs(heatAfter({ seconds: 120, at }, at + 1000 * coolsIn) - 120 / Math.E) < 0.1);
	assert.equal(heatAfter({ seconds: 120, at }, at - 60_000), 120, "a clock put back cools nothing and heats nothing");
	assert.equal(heatAfter(undefined, at), 0);
	const carried = heatAfter({ seconds: 120, at }, at + 10_000);
	assert.equal(secondsOf({ since: at + 10_000, carried }, at + 13_000), 121);
	assert.equal(
		stageOf(secondsOf({ since: at + 10_000, carried }, at + 13_000)),
		"alarm",
		"on 2 min, off 10 s, on again: the alarm is near",
	);
	assert.equal(
		stageOf(
			secondsOf(
				{ since: at + 3_600_000, carried: heatAfter({ seconds: 120, at }, at + 3_600_000) },
				at + 3_600_000,
			),
		),
		"counting",
		"after an hour it starts afresh",
	);
});

test("each car keeps its own heat; what has cooled off, and what cannot be read, is dropped", () => {
	const now = 1_700_000_000_000;
	const kept = heatsKept(
		{
			Linnet: { seconds: 90, at: now - 60_000 },
			Stour: { seconds: 60, at: now - 7_200_000 },
			odd: { seconds: "x", at: now },
			none: null,
		},
		now,
	);
	assert.deepEqual(Object.keys(kept), ["Linnet"]);
	assert.deepEqual(heatsKept(undefined, now), {});
});

const bodies = (demo, kind) =>
	demo.documents
		.filter(([k]) => k === kind)
		.map(([, id, body]) => ({ kind, id, revision: "", changedAt: demo.made, deleted: false, body }));
const jobFor = (demo) => [bodies(demo, "car")[0], bodies(demo, "distributor")[0], bodies(demo, "visit")];

test("the invented cars keep to the shapes: ids, names, their own distributor, notes that are read", () => {
	for (const demo of demos) {
		const [car, distributor, visits] = jobFor(demo);
		const own = car ?? distributor; // one lies on the bench by itself
		assert.equal(own.id, demo.carId);
		assert.equal(own.body.demo, true);
		for (const [, id] of demo.documents) assert.match(id, /^[a-z0-9]{16,32}$/, id);
		const ids = visits.flatMap(({ body }) =>
			body.sets.flatMap((set) => [set.id, ...set.readings.map((reading) => reading.id)]),
		);
		assert.equal(new Set(ids).size, ids.length);
		for (const each of ids) assert.match(each, /^[a-z0-9]{16,32}$/);
		if (!car) continue;
		assert.equal(car.body.distributorId, distributor.id);
		assert.equal(electricSteps(car, distributor, visits)[3].state, "done", `${demo.name}: the spark can be drawn`);
		assert.notEqual(electricSteps(car, distributor, visits)[1].state, "empty", `${demo.name}: volts`);
	}
	const cars = demos.filter((demo) => jobFor(demo)[0]);
	assert.equal(cars.length, demos.length - 1);
	assert.deepEqual(
		[
			...new Set(
				cars.map(
					(demo) =>
						`${jobFor(demo)[0].body.facts.voltage.value} ${jobFor(demo)[0].body.facts.earth.value} ${jobFor(demo)[0].body.facts.ballast.value}`,
				),
			),
		].sort(),
		["12 negative block", "12 negative none", "12 positive none", "6 positive none"],
	);
});

test("a change of dwell after the last timing on the car makes the timing due again", () => {
	const [car, distributor, visits] = jobFor(demos[0]);
	assert.equal(timingUndone(visits), "");
	assert.equal(jobOf(car, distributor, visits).next.name, "verdict");
	const changed = {
		...visits[1],
		body: {
			...visits[1].body,
			facts: {
				...visits[1].body.facts,
				"points.changed": {
					value: "2099-01-01T00:00:00.000Z",
					unit: "",
					source: "",
					note: "dwell went from 59 to 62",
				},
			},
		},
	};
	const { steps, next } = jobOf(car, distributor, [visits[0], changed]);
	assert.equal(steps.find(({ name }) => name === "readings").state, "again");
	assert.match(next.detail, /dwell went from 59 to 62/);
	assert.equal(next.action, "Do the timing again");
});

test("wear comes before setting: a car with its book and nothing measured is looked at first", () => {
	const [car, distributor] = jobFor(demos[1]);
	assert.equal(jobOf(car, distributor, []).next.name, "condition");
	const blank = { ...car, body: { ...car.body, facts: {} } };
	assert.deepEqual(
		electricSteps(blank, { ...distributor, body: { ...distributor.body, facts: {} } }, []).map(
			({ state }) => state,
		),
		["empty", "empty", "empty", "empty"],
	);
	const electronic = {
		...car,
		body: {
			...car.body,
			facts: { ...car.body.facts, trigger: { value: "inside the cap", unit: "", source: "", note: "" } },
		},
	};
	assert.equal(electricSteps(electronic, distributor, [])[2].state, "done");
});
