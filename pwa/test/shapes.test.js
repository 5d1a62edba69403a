// The shape of documents, as it comes from the server's own check: filling in,
// the gate for files, and the limits of figures.

import "fake-indexeddb/auto";
import assert from "node:assert/strict";
import { test } from "node:test";
import { figures, inputs, shapes } from "../app/made/shapes.js";

Object.assign(globalThis, { BroadcastChannel: undefined });
const { eitherSide, inWords, isIn } = await import("../app/js/record/figure-limits.js");
const { draftProblem } = await import("../app/js/readings/reading-draft.js");
const { complete, toReadingSet } = await import("../app/js/record/sheet.js");
const { sparkFields } = await import("../app/js/electrics/spark.js");
const { fits, shapeTrouble, whole } = await import("../app/js/kept/whole.js");
const { nameProblem } = await import("../app/js/kept/car-name.js");
const { addDemo, demos } = await import("../app/js/garage/demo.js");
const { garage } = await import("../app/js/kept/garage.js");

const draft = (/** @type {any} */ more) => ({
	rpm: "1500",
	deg: "12",
	side: "before",
	direction: "rising",
	field: "deg",
	suggested: false,
	editing: "",
	...more,
});

test("a reading that the calculation takes can be typed, and what it refuses cannot", () => {
	for (const [deg, side] of [
		["60", "before"],
		["61", "before"],
		["120", "before"],
		["60", "after"],
		["0", "before"],
		["-60", "before"],
	])
		assert.equal(draftProblem(draft({ deg, side })), null, `${deg} ${side}`);
	for (const [deg, side] of [
		["120.5", "before"],
		["61", "after"],
		["-61", "before"],
	]) {
		const found = draftProblem(draft({ deg, side }));
		assert.equal(found?.field, "deg", `${deg} ${side}`);
		assert.equal(found.limit, "up to 120° before TDC, 60° after");
		assert.ok(found.do);
	}
	assert.equal(draftProblem(draft({ rpm: "12000" })), null);
	for (const rpm of ["0", "12001"])
		assert.match(draftProblem(draft({ rpm }))?.limit ?? "", /^more than 0, up to 12\u202f000$/);
});

test("a limit is said as it is held", () => {
	assert.deepEqual(
		[
			isIn(0, { over: 0, max: 2 }),
			isIn(2, { over: 0, max: 2 }),
			isIn(100, { over: 0, under: 100 }),
			isIn(-40, { min: -40, max: 60 }),
		],
		[false, true, false, true],
	);
	assert.equal(inWords({ min: 0.5, max: 4 }), "0.5 to 4");
	assert.equal(inWords({ over: 0, max: 12_000 }), "more than 0, up to 12\u202f000");
	assert.equal(inWords({ over: 0, under: 100 }), "more than 0, less than 100");
	assert.equal(eitherSide(figures["sheet.baseCrankDeg"]), "up to 40° before TDC, 30° after");
});

test("every figure of the spark has a limit of the calculation it goes to", () => {
	for (const { path } of sparkFields()) assert.ok(inputs["coil.sweep"][path], path);
});

test("a body is filled with what its kind holds; what may be absent stays away, what is not known stays", () => {
	const visit = /** @type {any} */ (
		whole("visit", {
			sets: [{ id: "s", readings: [{ id: "r", later: 1 }] }],
			events: [{ id: "e" }],
			later: { a: 1 },
		})
	);
	assert.deepEqual([visit.notes, visit.later, "facts" in visit], ["", { a: 1 }, false]);
	assert.deepEqual(visit.sets[0].readings[0], {
		id: "r",
		later: 1,
		rpm: "",
		deg: "",
		side: "",
		direction: "",
		at: "",
	});
	assert.deepEqual([visit.events[0].undone, "removed" in visit.events[0]], [[], false]);
	assert.deepEqual(/** @type {any} */ (whole("car", { name: "A", facts: { gap: { value: "1" } } })).facts.gap, {
		value: "1",
		unit: "",
		source: "",
		note: "",
	});
	for (const kind of /** @type {Kind[]} */ (Object.keys(shapes)))
		assert.equal(shapeTrouble(kind, whole(kind, {})), "", kind);
});

test("a file's body of another shape is refused by field and limit; length alone and a newer version's fields are not", () => {
	const in1 = (/** @type {any} */ set) => shapeTrouble("visit", { sets: [{ id: "s", ...set }] });
	assert.match(in1({ staticSide: "left" }), /^sets\[0\]\.staticSide is “left”, not before or after or left empty$/);
	assert.match(in1({ removed: "yes" }), /sets\[0\]\.removed is not yes or no/);
	assert.match(in1({ readings: [{ id: "a" }, { id: "a" }] }), /readings\[1\] has no id of its own/);
	assert.match(shapeTrouble("distributor", { sheet: { confirmedTotal: 48 } }), /sheet\.confirmedTotal is not text/);
	assert.equal(shapeTrouble("visit", { notes: "n".repeat(20_001), later: [1] }), "");
	assert.equal(fits("visit", { notes: "n".repeat(20_001) }), false);
	assert.equal(fits("visit", { notes: "ñ".repeat(20_000), later: [1] }), true);
	assert.equal(
		fits("car", { facts: Object.fromEntries(Array.from({ length: 201 }, (_, n) => [`f${n}`, {}])) }),
		false,
	);
});

test("a reading of which the direction was not said is judged as rising, as the calculation has it", () => {
	const set = /** @type {any} */ (
		whole("visit", { sets: [{ id: "s", place: "car", readings: [{ id: "r", rpm: "900", deg: "8" }] }] })
	).sets[0];
	assert.equal(complete(set)[0].direction, "rising");
	assert.deepEqual(toReadingSet(set).points, [{ rpm: 900, deg: 8, direction: "rising" }]);
});

test("a name the server refuses is refused here", () => {
	for (const bad of ["", " ", "n".repeat(81), "<i>", "a\u0007b", "a\u0085b"])
		assert.ok(nameProblem(bad), JSON.stringify(bad));
	assert.equal(nameProblem("n".repeat(80)), null);
});

test("every demo is whole and passes the gate", async () => {
	await garage.open();
	for (const demo of demos) await addDemo(demo);
	const all = garage.everything();
	assert.ok(all.length >= 3 * demos.length);
	for (const { kind, body } of all) {
		assert.equal(shapeTrouble(kind, body), "", kind);
		assert.ok(fits(kind, body), kind);
		assert.deepEqual(whole(kind, whole(kind, body)), whole(kind, body));
	}
});
