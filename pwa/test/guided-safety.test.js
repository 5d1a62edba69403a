import assert from "node:assert/strict";
import { test } from "node:test";
import { clockWords } from "../app/js/bay/hold-clock.js";
import { doneLabel } from "../app/js/bay/step-view.js";
import { isAnswered, needsIgnition, stepsFor, undoneBy } from "../app/js/bay/procedure-run.js";
import { temporaryOf } from "../app/js/safety/temporaries.js";
import { procedures } from "../app/js/bay/procedures/index.js";

const all = procedures();
const one = (name) => all.find((each) => each.name === name);
const ids = (name, answers) => stepsFor(one(name), answers).map(({ id }) => id);

/**
 * Every step with what stands undone as it begins: the whole procedure, each answer of a step that may undo taken as
 * one that does.
 */
const walked = all.flatMap(({ name, steps }) => {
	const stands = new Set();
	return steps.map((step) => {
		const found = { step, name: `${name}/${step.id}`, before: new Set(stands) };
		for (const id of step.restores ?? []) stands.delete(id);
		for (const id of [...undoneBy(step, {}), ...(step.mayUndo ?? []).map(({ what }) => what)]) stands.add(id);
		return found;
	});
});

test("whoever goes through a procedure is never stopped by what its own steps have undone", () => {
	for (const { step, name, before } of walked) {
		const things = [...before].map(temporaryOf);
		if (step.startsEngine)
			assert.deepEqual(
				things.filter(({ noStart }) => noStart).map(({ id }) => id),
				[],
				`${name} starts the engine`,
			);
		if (needsIgnition(step))
			assert.deepEqual(
				things.filter(({ noIgnition }) => noIgnition).map(({ id }) => id),
				[],
				`${name} needs the ignition`,
			);
		if (step.finishes) assert.deepEqual([...before], [], name);
	}
});

test("the engine is turned by hand only with the plugs out; with the ignition on the coil lead is on earth before", () => {
	const turned = walked.filter(({ step }) => step.engine === "hand");
	assert.ok(turned.length >= 10);
	for (const { step, name, before } of turned) {
		assert.ok(before.has("plugs-out"), `${name}: no step takes the plugs out`);
		const isLive = before.has("ignition-on");
		assert.equal(
			step.cautions.includes("byHand"),
			!isLive,
			`${name}: “coil feed off” must not be said with the ignition on`,
		);
		if (!isLive) assert.ok(before.has("coil-feed"), `${name}: no step takes the coil feed off`);
	}
	const live = walked.filter(
		({ step, before }) =>
			before.has("plugs-out") &&
			(before.has("ignition-on") || step.undoes?.includes("ignition-on")) &&
			step.engine !== "off",
	);
	assert.deepEqual(
		live.map(({ name }) => name),
		["ignition", "set", "tighten", "prove"].map((id) => `static/${id}`),
	);
	for (const { step, name, before } of live) {
		assert.ok(before.has("king-lead"), `${name}: the coil lead is in the cap`);
		assert.ok(step.cautions.includes("fuel"), `${name}: plug holes open, the ignition on, and no word of fuel`);
	}
	assert.ok(temporaryOf("king-lead").noStart);
	assert.doesNotMatch(JSON.stringify(one("static")), /Leave them in/);
});

test("where rotor arm or plate is handled the cap is off", () => {
	const handled = walked.filter(({ step }) =>
		/^(Twist|Press|Mark) the rotor|^Turn the body WITH|^Hold the rotor|Watch the (rotor|plate)|does the rotor/i.test(
			step.title,
		),
	);
	assert.deepEqual(handled.map(({ name }) => name).sort(), [
		"capsule/moves",
		"fit/mark",
		"fit/points-to",
		"fit/swing",
		"rotation/post",
		"rotation/rotor-turn",
		"static/set",
		"static/weights",
	]);
	for (const { name, before } of handled) assert.ok(before.has("cap-off"), name);
});

test("dwell is read with the vacuum pipe off, which is on the restore list", () => {
	const at = (id) => walked.find(({ name }) => name === `points/${id}`).before;
	assert.ok(at("dwell").has("vacuum-pipe") && at("dwell-fast").has("vacuum-pipe"));
	assert.ok(!at("start").has("plugs-out") && !at("start").has("coil-feed"));
});

test("only as the key is let go: with a ballast it is bridged, without one the volts are measured", () => {
	const known = (ballast) => ids("first-start", { how: "keyOff", ballast, "ballast.known": "yes" });
	for (const id of ["ballast", "bridge", "try", "unbridge"]) assert.ok(!known("none").includes(id), id);
	assert.deepEqual(
		known("none").slice(known("none").indexOf("how") + 1, -1),
		["king-lead", "volts", "king-back", "again"],
		"the starter turns with the coil lead on earth",
	);
	assert.ok(
		known("block").includes("bridge") &&
			known("block").includes("unbridge") &&
			!known("block").includes("volts") &&
			!known("block").includes("ballast"),
	);
	assert.ok(ids("first-start", { how: "keyOff" }).includes("ballast"), "not known: it is asked");
	assert.ok(!ids("first-start", { how: "runs", ballast: "block", "ballast.known": "yes" }).includes("bridge"));
});

test("what needs a running engine comes only if it runs", () => {
	const has = (answers) => ids("first-start", answers).filter((id) => ["again", "oil", "stop"].includes(id));
	assert.deepEqual(has({ how: "runs" }), ["oil", "stop"]);
	assert.deepEqual(
		has({ how: "misses", runs: "no" }),
		["oil", "stop"],
		"an old “no” says nothing of an engine that runs",
	);
	for (const how of ["spits", "cranks", "keyOff"]) {
		assert.deepEqual(has({ how }), ["again"], how);
		assert.deepEqual(has({ how, runs: "no" }), ["again"], how);
		assert.deepEqual(has({ how, runs: "yes" }), ["again", "oil", "stop"], how);
	}
	for (const step of one("first-start").steps.filter(({ startsEngine }) => startsEngine))
		assert.doesNotMatch(doneLabel(step), /It runs/, step.id);
});

test("a figure counts as entered only at the step that asks it", () => {
	const step = (procedure, id) => one(procedure).steps.find((each) => each.id === id);
	assert.equal(isAnswered(step("points", "dwell"), { gap: "15" }), false);
	assert.equal(isAnswered(step("points", "dwell-fast"), { gap: "15", dwell: "60" }), false);
	assert.equal(
		isAnswered(step("points", "gap"), { dwell: "60" }),
		false,
		"it may be left empty, but then there is nothing to judge",
	);
	assert.equal(isAnswered(step("points", "dwell-fast"), { fast: "59" }), true);
	assert.equal(
		isAnswered(step("strobe-idle", "again"), { rpm: "800", deg: "10", "deg.side": "before" }),
		false,
		"the reading before tightening is not the one after",
	);
	assert.equal(
		isAnswered(step("capsule", "read"), {}),
		true,
		"it asks nothing: its figures are on a page of their own",
	);
});

test("a leak is waited out, a throttle is let go in time", () => {
	const clock = (procedure, id) => clockWords(one(procedure).steps.find((each) => each.id === id));
	assert.deepEqual(clock("capsule", "hold"), {
		seconds: 30,
		note: "seconds to wait, then read",
		start: "Wait and count",
		end: "Read it now",
	});
	assert.deepEqual(
		[clock("stated-speed", "hold").note, clock("stated-speed", "hold").end],
		["seconds at most", "Let go"],
	);
	assert.equal(clock("static", "set"), null);
});
