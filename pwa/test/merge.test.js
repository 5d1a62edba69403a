import assert from "node:assert/strict";
import { test } from "node:test";
import { afterComparison, afterPull, afterPush, unite, uniteVisit } from "../app/js/data/merge.js";

const car = (more) => ({ kind: "car", id: "a".repeat(20), revision: "r1", changedAt: "2024-01-01T10:00:00.000Z", deleted: false, body: { name: "Van" }, ...more });

test("a document pushed and not touched since waits no longer", () => {
	const doc = car();
	assert.deepEqual(afterPush(doc, doc, { revision: "r2" }), { doc: { ...doc, revision: "r2" }, stillWaiting: false });
});

test("what the server made of a push is taken, when nothing was typed meanwhile", () => {
	const theirs = car({ revision: "r3", body: { name: "Van", owner: "Ann" } });
	assert.deepEqual(afterPush(car(), car(), { revision: "r2", document: theirs }), { doc: theirs, stillWaiting: false });
});

test("one changed while it was on its way waits again, edited from what was pushed, whatever the server made of that", () => {
	const now = car({ changedAt: "2024-01-01T10:00:05.000Z", body: { name: "Blue van" } });
	const { doc, stillWaiting } = afterPush(now, car(), { revision: "r2", document: car({ revision: "r3", body: { name: "Other" } }) });
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
	assert.equal(afterPush(car(), car(), { revision: "r2", document: car({ revision: "r3", deleted: true, body: {} }) }).doc.body.name, "Van");
});

test("the same revision again changes nothing", () => {
	assert.equal(afterPull(car(), car(), false), null);
});

test("another file on the server overwrites nothing: what differs or is missing there is pushed", () => {
	assert.deepEqual(afterPull(car(), car({ revision: "r0", body: { name: "Old" } }), false, "other"), { doc: car(), stillWaiting: true });
	assert.deepEqual(afterPull(null, car(), false, "other"), { doc: car(), stillWaiting: false });
	assert.deepEqual(afterComparison(car(), false, "other"), { doc: car(), stillWaiting: true });
	const removed = car({ deleted: true });
	assert.equal(afterPull(removed, car({ revision: "r0" }), false, "other").doc.deleted, false); // a deletion is not carried into another file
	assert.equal(afterComparison(removed, false, "other"), null);
});

test("after deletions were forgotten, what the server does not list is removed here, what waits is not", () => {
	assert.deepEqual(afterComparison(car(), false, "forgotten"), { doc: car({ deleted: true }), stillWaiting: false });
	assert.equal(afterComparison(car(), true, "forgotten"), null);
	assert.equal(afterPull(car(), car({ revision: "r4", body: { name: "New" } }), false, "forgotten").doc.body.name, "New");
});

const reading = (id, deg) => ({ id, rpm: "800", deg, side: "before", direction: "rising", at: "" });
const visit = (...readings) => ({ carId: "c", distributorId: "d", date: "2024-01-01", title: "", notes: "", sets: [{ id: "s1", place: "car", readings }] });

test("readings of two phones are united, whichever is later", () => {
	const ours = { ...car({ kind: "visit", body: visit(reading("one", "8"), reading("two", "12")) }) };
	for (const changedAt of ["2023-01-01T00:00:00.000Z", "2025-01-01T00:00:00.000Z"]) {
		const theirs = { ...ours, revision: "r7", changedAt, body: visit(reading("one", "8"), reading("three", "17")) };
		const { doc, needsPush } = unite(ours, theirs);
		assert.deepEqual(doc.body.sets[0].readings.map(({ id }) => id).sort(), ["one", "three", "two"]);
		assert.equal(doc.revision, "r7");
		assert.equal(needsPush, true);
	}
});

test("a whole set that only one phone has is kept", () => {
	const other = visit(reading("nine", "1"));
	other.sets[0].id = "s2";
	assert.deepEqual(uniteVisit(visit(), other).sets.map(({ id }) => id), ["s1", "s2"]);
});

test("a reading marked as removed does not come back from the other phone", () => {
	const removed = { ...reading("one", "8"), removed: true };
	assert.equal(uniteVisit(visit(removed), visit(reading("one", "8"))).sets[0].readings[0].removed, true);
});

test("facts of a visit that only one phone has are kept; of the same fact the later stands", () => {
	const fact = (value) => ({ value, unit: "V", source: "measured", note: "" });
	const later = { ...visit(), facts: { "volts.closed.battery": fact("12.6"), "volts.closed.body": fact("0.02") } };
	const older = { ...visit(), facts: { "volts.closed.battery": fact("12.1"), "volts.closed.coilFeed": fact("12.3") } };
	assert.deepEqual(Object.entries(uniteVisit(later, older).facts).map(([key, { value }]) => [key, value]).sort(),
		[["volts.closed.battery", "12.6"], ["volts.closed.body", "0.02"], ["volts.closed.coilFeed", "12.3"]]);
	assert.equal("facts" in uniteVisit(visit(), visit()), false);
});

test("when both ended up alike there is nothing to push", () => {
	const ours = car({ body: { name: "Van", owner: "" } });
	assert.equal(unite(ours, car({ revision: "r3", body: { owner: "", name: "Van" } })).needsPush, false);
});

test("of a car the later change stands", () => {
	const ours = car({ body: { name: "Older" } });
	const theirs = car({ revision: "r3", changedAt: "2024-02-01T00:00:00.000Z", body: { name: "Newer" } });
	assert.deepEqual([unite(ours, theirs).doc.body.name, unite(ours, theirs).needsPush], ["Newer", false]);
	assert.deepEqual([unite(theirs, { ...ours, revision: "r3" }).doc.body.name, unite(theirs, { ...ours, revision: "r3" }).needsPush], ["Newer", true]);
});

test("events of both phones stand side by side", () => {
	const event = (id) => ({ id, at: "2024-05-18T09:00:00Z", undone: ["vacuum-pipe"] });
	const united = uniteVisit({ ...visit(), events: [event("a")] }, { ...visit(), events: [event("a"), event("b")] });
	assert.deepEqual(united.events.map(({ id }) => id), ["a", "b"]);
});
