import assert from "node:assert/strict";
import { test } from "node:test";
import { afterComparison, afterPull, afterPush, onTopOf } from "../app/js/kept/merge.js";
import { rebase, unite } from "../app/js/kept/unite.js";

const car = (more) => ({
	kind: "car",
	id: "a".repeat(20),
	revision: "r1",
	changedAt: "2024-01-01T10:00:00.000Z",
	deleted: false,
	body: { name: "Van" },
	...more,
});

test("a document pushed and not touched since waits no longer", () => {
	const doc = car();
	assert.deepEqual(afterPush(doc, doc, { revision: "r2" }), { doc: { ...doc, revision: "r2" }, stillWaiting: false });
});

test("what the server made of a push is taken, when nothing was typed meanwhile", () => {
	const theirs = car({ revision: "r3", body: { name: "Van", owner: "Ann" } });
	assert.deepEqual(afterPush(car(), car(), { revision: "r2", document: theirs }), {
		doc: theirs,
		stillWaiting: false,
	});
});

test("one changed while it was on its way waits again, edited from what was pushed, whatever the server made of that", () => {
	const now = car({ changedAt: "2024-01-01T10:00:05.000Z", body: { name: "Blue van" } });
	const { doc, stillWaiting } = afterPush(now, car(), {
		revision: "r2",
		document: car({ revision: "r3", body: { name: "Other" } }),
	});
	assert.equal(stillWaiting, true);
	assert.equal(doc.revision, "r2");
	assert.equal(doc.body.name, "Blue van");
});

test("an answer that was settled before changes nothing", () => {
	assert.equal(afterPush(car({ revision: "r9" }), car(), { revision: "r2" }), null);
});

test("what waits here is never overwritten by what comes from the server", () => {
	assert.equal(afterPull(car({ body: { name: "Mine" } }), car({ revision: "r9" }), true), null);
});

test("a deletion from the server hides the car but keeps its body to bring back", () => {
	const { doc, stillWaiting } = afterPull(car(), car({ revision: "r2", deleted: true, body: {} }), false);
	assert.deepEqual([doc.deleted, doc.body.name, stillWaiting], [true, "Van", false]);
	assert.equal(afterPull(null, car({ revision: "r2", deleted: true, body: {} }), false).doc.body, null);
	assert.equal(
		afterPush(car(), car(), { revision: "r2", document: car({ revision: "r3", deleted: true, body: {} }) }).doc.body
			.name,
		"Van",
	);
});

test("the same revision again changes nothing", () => {
	assert.equal(afterPull(car(), car(), false), null);
});

test("another file on the server overwrites nothing: what differs or is missing there is pushed", () => {
	assert.deepEqual(afterPull(car(), car({ revision: "r0", body: { name: "Old" } }), false, "other"), {
		doc: car(),
		stillWaiting: true,
	});
	assert.deepEqual(afterPull(null, car(), false, "other"), { doc: car(), stillWaiting: false });
	assert.deepEqual(afterComparison(car(), false, "other"), { doc: car(), stillWaiting: true });
	const removed = car({ deleted: true });
	// a deletion is not carried into another file
	assert.equal(afterPull(removed, car({ revision: "r0" }), false, "other").doc.deleted, false);
	assert.equal(afterComparison(removed, false, "other"), null);
});

test("after deletions were forgotten, what the server does not list is removed here, what waits is not", () => {
	assert.deepEqual(afterComparison(car(), false, "forgotten"), { doc: car({ deleted: true }), stillWaiting: false });
	assert.equal(afterComparison(car(), true, "forgotten"), null);
	assert.equal(
		afterPull(car(), car({ revision: "r4", body: { name: "New" } }), false, "forgotten").doc.body.name,
		"New",
	);
});

const reading = (id, deg) => ({ id, rpm: "800", deg, side: "before", direction: "rising", at: "" });
const visit = (...readings) => ({
	carId: "c",
	distributorId: "d",
	date: "2024-01-01",
	title: "",
	notes: "",
	sets: [{ id: "s1", place: "car", readings }],
});

const ids = ({ body }) => body.sets[0].readings.map(({ id }) => id);

test("readings that only one version has are in the united visit, whichever is later, and nothing is lost", () => {
	const [one, other] = [
		visit(reading("one", "8"), reading("two", "12")),
		visit(reading("one", "8"), reading("three", "17")),
	];
	assert.deepEqual(ids(unite(one, other)), ["one", "three", "two"]);
	assert.deepEqual(ids(unite(other, one)), ["one", "two", "three"]);
	assert.equal(unite(one, other).isLost, false);
});

test("a whole set that only one has is kept", () => {
	const other = visit(reading("nine", "1"));
	other.sets[0].id = "s2";
	assert.deepEqual(
		unite(other, visit()).body.sets.map(({ id }) => id),
		["s1", "s2"],
	);
});

test("a reading marked as removed does not come back, and that loses nothing", () => {
	const removed = { ...reading("one", "8"), removed: true };
	for (const [older, newer] of [
		[removed, reading("one", "8")],
		[reading("one", "8"), removed],
	]) {
		const { body, isLost } = unite(visit(older), visit(newer));
		assert.deepEqual([body.sets[0].readings[0].removed, isLost], [true, false]);
	}
});

test("of one reading typed differently the later stands, and it is said that the other is lost", () => {
	const { body, isLost } = unite(visit(reading("one", "8")), visit(reading("one", "9")));
	assert.deepEqual([body.sets[0].readings[0].deg, isLost], ["9", true]);
});

test("facts that only one has are united; of the same fact the later stands, and an empty one loses nothing", () => {
	const fact = (value, unit = "V") => ({ value, unit, source: "measured", note: "" });
	const empty = { value: "", unit: "", source: "", note: "" };
	const later = { ...visit(), facts: { battery: fact("12.6"), body: fact("0.02"), coil: fact("3") } };
	const older = { ...visit(), facts: { coilFeed: fact("12.3"), coil: empty } };
	const { body, isLost } = unite(older, later);
	assert.deepEqual(
		Object.entries(body.facts)
			.map(([key, { value }]) => [key, value])
			.sort(),
		[
			["battery", "12.6"],
			["body", "0.02"],
			["coil", "3"],
			["coilFeed", "12.3"],
		],
	);
	assert.equal(isLost, false);
	assert.equal(unite({ ...visit(), facts: { battery: fact("12.1") } }, later).isLost, true);
	assert.equal("facts" in unite(visit(), visit()).body, false);
});

test("the rest of a document is one piece: the later stands, and the other is lost unless it says the same", () => {
	const [one, other] = [
		{ name: "Older", owner: "Ann", facts: {} },
		{ owner: "", facts: {}, name: "Newer" },
	];
	assert.deepEqual(unite(one, other), { body: { name: "Newer", owner: "", facts: {} }, isLost: true });
	assert.equal(unite({ owner: "", name: "Newer" }, { name: "Newer", owner: "" }).isLost, false);
});

test("events of both phones stand side by side", () => {
	const event = (id) => ({ id, at: "2024-05-18T09:00:00Z", undone: ["vacuum-pipe"] });
	const { body } = unite({ ...visit(), events: [event("a"), event("b")] }, { ...visit(), events: [event("a")] });
	assert.deepEqual(
		body.events.map(({ id }) => id),
		["a", "b"],
	);
});

test("where the server only named what a tab had typed on from, nothing is brought together", () => {
	const base = car({ mark: "a" });
	const typed = car({ mark: "b", changedAt: "2024-01-01T10:00:05.000Z", body: { name: "Blue van" } });
	assert.deepEqual(onTopOf({ ...base, revision: "r2" }, typed, base, "new"), {
		doc: { ...typed, revision: "r2" },
		isLost: false,
	});
	const theirs = car({ mark: "c", body: { name: "Van", owner: "Ann" } });
	assert.deepEqual(onTopOf(theirs, typed, base, "new"), {
		doc: { ...typed, mark: "new", body: { name: "Blue van", owner: "Ann" } },
		isLost: false,
	});
});

test("what gives way to another tab's typing is told of, what is only emptied or agreed on is not", () => {
	const isLost = (base, mine, stored) => rebase(base, mine, stored).isLost;
	const fact = (value) => ({ value, unit: "", source: "book", note: "" });
	assert.equal(isLost({ name: "a" }, { name: "b" }, { name: "c" }), true);
	assert.equal(isLost({ name: "a" }, { name: "b" }, { name: "b", owner: "Ann" }), false);
	assert.equal(isLost({ name: "a" }, { name: "b" }, { name: "" }), false);
	assert.equal(
		isLost({ facts: { gap: fact("1") } }, { facts: { gap: fact("2") } }, { facts: { gap: fact("3") } }),
		true,
	);
	assert.equal(isLost({ facts: {} }, { facts: { gap: fact("2") } }, { facts: { dwell: fact("3") } }), false);
	assert.equal(isLost(visit(reading("one", "8")), visit(reading("one", "9")), visit(reading("one", "10"))), true);
	assert.equal(isLost(visit(), visit(reading("one", "9")), visit(reading("two", "10"))), false);
});
