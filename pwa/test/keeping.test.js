import assert from "node:assert/strict";
import { test } from "node:test";
import { sideBySide } from "../app/js/card/card-differences.js";
import { documentRows } from "../app/js/sharing/document-rows.js";
import { bareCode, codeProblem, deviceProblem } from "../app/js/sharing/pairing.js";
import { daysAlone } from "../app/js/kept/second-place.js";

const day = 24 * 3600 * 1000;
const now = Date.parse("2024-06-20T12:00:00Z");
const ago = (/** @type {number} */ days) => new Date(now - days * day).toISOString();

test("after a week without a second place it is said how long; before that, and after an export, nothing", () => {
	assert.equal(daysAlone({ now, changedAt: [] }), null);
	assert.equal(daysAlone({ now, changedAt: [ago(6)] }), null);
	assert.equal(daysAlone({ now, changedAt: [ago(9), ago(1)] }), 9);
	assert.equal(
		daysAlone({ now, changedAt: [ago(9)], exportedAt: ago(8) }),
		null,
		"nothing has changed since the export",
	);
	assert.equal(
		daysAlone({ now, changedAt: [ago(30), ago(2)], syncedAt: ago(12) }),
		null,
		"what is new is two days old",
	);
	assert.equal(daysAlone({ now, changedAt: [ago(30), ago(8)], syncedAt: ago(12) }), 8);
	assert.equal(daysAlone({ now, changedAt: [ago(30)], laterAt: ago(3) }), null, "it was put off");
	assert.equal(daysAlone({ now, changedAt: [ago(30)], laterAt: ago(8) }), 30);
	assert.equal(daysAlone({ now, changedAt: [ago(-400)] }), null, "a clock that was wrong once reminds of nothing");
});

test("a code is read as people type it, and what is wrong with it is said", () => {
	assert.equal(bareCode(" rxym - m8b9 "), "RXYMM8B9");
	assert.equal(codeProblem("rxym-m8b9"), null);
	assert.match(codeProblem("")?.problem ?? "", /no code/);
	assert.match(codeProblem("rxym")?.problem ?? "", /4 of 8/);
	assert.match(codeProblem("rxym-m8b9x")?.do ?? "", /too much/);
	assert.match(codeProblem("rxym?m8b")?.problem ?? "", /sign in it/);
	assert.match(deviceProblem(" ")?.problem ?? "", /no name/);
	assert.match(deviceProblem("<b>")?.problem ?? "", /< or >/);
	assert.equal(deviceProblem("Ann’s phone"), null);
});

/** @type {(name: string, facts?: any) => any} */
const car = (name, facts = {}) => ({ name, owner: "", distributorId: "d", facts, demo: false });
/** @type {(value: string, unit?: string) => any} */
const fact = (value, unit = "") => ({ value, unit, source: "measured", note: "" });

test("two versions of a car differ in words of the trade, and what only one has is not lost from sight", () => {
	const rows = sideBySide(
		documentRows("car", car("Linnet", { idleSpeed: fact("850", "engine rpm") })),
		documentRows(
			"car",
			car("Linnet of Ben", {
				idleSpeed: fact("850", "engine rpm"),
				plugGap: fact("0.025", "in"),
				cardSetBy: fact("Ben"),
			}),
		),
	);
	const by = Object.fromEntries(rows.map((row) => [row.label, row]));
	assert.deepEqual([by.Name.mine, by.Name.theirs, by.Name.state], ["Linnet", "Linnet of Ben", "differs"]);
	assert.equal(by["Idle speed"].state, "same");
	assert.deepEqual([by["Plug gap"].theirs, by["Plug gap"].state], ["0.025 in (measured)", "theirs only"]);
	assert.equal(by["Set by"].group, "Written on the setup card");
	assert.doesNotMatch(JSON.stringify(rows), /distributorId|"facts"/);
});

test("two versions of a visit are compared reading by reading, also one that was taken out", () => {
	/** @type {(...readings: any[]) => any} */
	const visit = (...readings) => ({
		carId: "c",
		distributorId: "d",
		date: "2024-05-18",
		title: "",
		notes: "",
		sets: [
			{
				id: "s",
				place: "car",
				angleUnit: "crank",
				speedUnit: "engine",
				base: "included",
				vacuum: "off",
				readingErrorCrankDeg: "",
				staticCrankDeg: "4",
				staticSide: "after",
				readings,
			},
		],
	});
	const reading = (/** @type {string} */ id, /** @type {string} */ deg, more = {}) => ({
		id,
		rpm: "800",
		deg,
		side: "before",
		direction: "rising",
		at: "",
		...more,
	});
	const rows = sideBySide(
		documentRows("visit", visit(reading("a", "8"), reading("b", "9"))),
		documentRows("visit", visit(reading("a", "8,5"), reading("b", "9", { removed: true }))),
	);
	const apart = rows.filter(({ state }) => state !== "same");
	assert.deepEqual(
		apart.map(({ mine, theirs }) => [mine, theirs]),
		[
			["8° before", "8,5° before"],
			["9° before", "9° before, taken out"],
		],
	);
	assert.ok(rows.some(({ label, mine }) => /Static timing/i.test(label) && mine === "4 after TDC"));
});

test("two versions of a book's table are compared line by line", () => {
	/** @type {(rows: any[]) => any} */
	const unit = (rows) => ({
		name: "Unit",
		typeNumber: "",
		facts: {},
		sheetSource: "",
		sheet: {
			angleUnit: "crank",
			speedUnit: "engine",
			base: "included",
			baseCrankDeg: "8",
			baseSide: "before",
			baseToleranceCrankDeg: "",
			noAdvanceBelow: "",
			driveRatio: "",
			listedWhile: "either",
			limitDistDeg: "",
			rows,
		},
	});
	const rows = sideBySide(
		documentRows(
			"distributor",
			unit([
				{ rpm: "1000", min: "8", max: "12" },
				{ rpm: "2000", min: "20", max: "24" },
			]),
		),
		documentRows(
			"distributor",
			unit([
				{ rpm: "1000", min: "8", max: "12" },
				{ rpm: "2000", min: "20", max: "26" },
				{ rpm: "3000", min: "", max: "30" },
			]),
		),
	);
	assert.deepEqual(
		rows.filter(({ state }) => state !== "same").map(({ label, mine, theirs }) => [label, mine, theirs]),
		[
			["At 2000 rpm", "20 to 24", "20 to 26"],
			["At 3000 rpm", "", "at most 30"],
		],
	);
});

test("a removed document has nothing to lay beside the copy", () => {
	assert.deepEqual(documentRows("car", null), []);
});
