// Figures in and out: what is stored of a table that was read, what goes out of
// the garage, and the library of curves.

import "fake-indexeddb/auto";
import assert from "node:assert/strict";
import { test } from "node:test";
Object.assign(globalThis, { BroadcastChannel: undefined });
const { intoSheet, lacksPlace, setsFrom } = await import("../app/js/figures/put-in.js");
const { readingsOut, specOut } = await import("../app/js/figures/out.js");
const library = await import("../app/js/figures/library.js");
const { emptyDistributor, emptySheet } = await import("../app/js/record/sheet.js");
const { makeCarFile, readBackup } = await import("../app/js/kept/backup.js");
const { garage } = await import("../app/js/kept/garage.js");

await garage.open();

const head = { angleUnit: "crank", speedUnit: "engine", base: "included" };
const table = (/** @type {any[]} */ rows, more = {}) => ({
	what: "spec",
	...head,
	columns: [],
	rows,
	rowCount: rows.length,
	asks: [],
	leftOut: [],
	notes: [],
	...more,
});
const row = (/** @type {string} */ rpm, /** @type {string} */ min, /** @type {string} */ max) => ({ rpm, min, max });

test("a table goes into the sheet with its head, and what belongs to other rows goes", () => {
	const sheet = { ...emptySheet(), baseCrankDeg: "8", confirmedTotal: "50", rows: [row("1", "2", "3")] };
	const read = table(
		[
			{ rpm: 800, minDeg: -1.5, maxDeg: 2 },
			{ rpm: 2500, maxDeg: 14 },
		],
		{ noAdvanceBelowRPM: 300 },
	);
	const { sheet: next } = intoSheet(sheet, read, "replace");
	assert.deepEqual(next?.rows, [row("800", "-1.5", "2"), row("2500", "", "14")]);
	assert.deepEqual(
		[next?.angleUnit, next?.noAdvanceBelow, next?.baseCrankDeg, next?.confirmedTotal],
		["crank", "300", "8", undefined],
	);
	assert.equal(sheet.rows.length, 1, "what was there is not changed in place");
});

test("adding leaves out what is there already, and asks for one head", () => {
	const sheet = { ...emptySheet(), ...head, rows: [row("800", "1", "2"), row("", "", "")] };
	const read = table([
		{ rpm: 800, minDeg: 1, maxDeg: 2 },
		{ rpm: 900, minDeg: 1, maxDeg: 2 },
	]);
	assert.deepEqual(intoSheet(sheet, read, "add").sheet?.rows, [row("800", "1", "2"), row("900", "1", "2")]);
	const other = intoSheet({ ...sheet, base: "excluded" }, read, "add");
	assert.equal(other.sheet, null);
	assert.match(other.problem?.title ?? "", /different heads/);
	const full = {
		...emptySheet(),
		...head,
		rows: Array.from({ length: 199 }, (_, n) => row(String(n + 1), "1", "2")),
	};
	assert.match(intoSheet(full, read, "add").problem?.title ?? "", /201 rows/);
	assert.match(intoSheet(full, read, "add").problem?.limit ?? "", /200/);
});

let count = 0;
const how = { place: "", isUnit: false, newId: () => `id${++count}`, at: "2026-05-02T10:00:00Z", taken: 0 };
const point = (/** @type {number} */ deg, more = {}) => ({ line: 1, rpm: 800, deg, ...more });

test("a set for each place and state of the vacuum; after TDC is not lost", () => {
	const read = table(
		[
			point(-2, { place: "car", vacuum: "off", direction: "falling" }),
			point(3, { place: "bench" }),
			point(4, { place: "car", vacuum: "connected" }),
			point(5, { place: "car", vacuum: "off" }),
		],
		{ what: "readings" },
	);
	const { sets, problem } = setsFrom(read, how);
	assert.equal(problem, null);
	assert.deepEqual(
		sets.map(({ place, vacuum, readings }) => [place, vacuum, readings.map(({ deg, side }) => `${side} ${deg}`)]),
		[
			["car", "off", ["after 2", "before 5"]],
			["bench", "", ["before 3"]],
			["car", "connected", ["before 4"]],
		],
	);
	const ids = sets.flatMap(({ id, readings }) => [id, ...readings.map((one) => one.id)]);
	assert.equal(new Set(ids).size, ids.length);
	assert.equal(sets[0].readings[0].direction, "falling");
});

test("what cannot be a set is said, with the limit", () => {
	const read = table([point(3)], { what: "readings" });
	assert.ok(lacksPlace(read));
	assert.match(setsFrom(read, how).problem?.title ?? "", /where it was read/);
	assert.equal(setsFrom(read, { ...how, place: "bench" }).problem, null);
	assert.match(setsFrom(read, { ...how, place: "bench", taken: 100 }).problem?.limit ?? "", /100/);
	const onCar = table([point(3, { place: "car" })], { what: "readings" });
	assert.match(setsFrom(onCar, { ...how, isUnit: true }).problem?.title ?? "", /on a car/);
	const many = table(
		Array.from({ length: 1001 }, () => point(3, { place: "bench" })),
		{ what: "readings" },
	);
	assert.match(setsFrom(many, how).problem?.limit ?? "", /1000/);
});

test("what goes out is what is there, and what is missing is said", () => {
	const sheet = { ...emptySheet(), ...head, rows: [row("2500", "", "14"), row("1,000", "7½", "9")] };
	assert.deepEqual(specOut(sheet).input, {
		what: "spec",
		...head,
		rows: [
			{ rpm: 1000, minDeg: 7.5, maxDeg: 9 },
			{ rpm: 2500, maxDeg: 14 },
		],
	});
	assert.match(specOut({ ...sheet, base: "" }).problem?.problem ?? "", /base/);
	const set = setsFrom(table([point(-2, { place: "car", vacuum: "off" })], { what: "readings" }), how).sets[0];
	const out = /** @type {any} */ (readingsOut(set).input);
	assert.deepEqual(out.rows, [{ rpm: 800, deg: -2, direction: "rising", place: "car", vacuum: "off" }]);
	assert.match(readingsOut({ ...set, angleUnit: "" }).problem?.title ?? "", /which degrees/);
});

const unit = (/** @type {any} */ more = {}) => ({
	...emptyDistributor("Somebody’s car"),
	typeNumber: "T-100",
	facts: {
		capsuleCode: { value: "5 12 8", unit: "", source: "book", note: "private" },
		gap: { value: "0.4", unit: "mm", source: "measured", note: "" },
		drive: { value: "skew gear", unit: "", source: "measured", note: "" },
	},
	owner: "Somebody",
	where: "with Ann",
	sheet: { ...emptySheet(), ...head, confirmedTotal: "50", rows: [row("800", "7,5", "9"), row("1500", "12", "14")] },
	sheetSource: "A book, page 3",
	...more,
});

test("the file has type and table; no owner, no place, no measured figure", () => {
	const { text, count: many } = library.libraryFile(
		[unit(), unit({ owner: "Ben" }), emptyDistributor("No rows")],
		"Club",
	);
	assert.equal(many, 1, "the same figures stand in it once");
	for (const no of ["Ann", "owner", "private", "measured", "confirmedTotal"]) assert.ok(!text.includes(no), no);
	const { curves } = library.readLibrary(text);
	assert.equal(curves?.[0].source, "A book, page 3");
	assert.equal(curves?.[0].givenBy, "Club");
	assert.deepEqual(Object.keys(curves?.[0].stamped ?? {}), ["capsuleCode"]);
});

test("the same figures written otherwise are the same; other figures are not", () => {
	const curve = (/** @type {any} */ more) => /** @type {any} */ (library.curveOf(unit(more)));
	const sheet = unit().sheet;
	const same = [
		{ sheetSource: "Another book", name: "Other", givenBy: "Ben" },
		{ typeNumber: "t 100" },
		{ sheet: { ...sheet, driveRatio: "2", rows: [row("1,500", "12.0", "14"), row("800", "7½", "9.0")] } },
	];
	for (const more of same) assert.equal(library.idOf(curve(more)), library.idOf(curve({})), JSON.stringify(more));
	const others = [
		{ typeNumber: "T-101" },
		{ sheet: { ...sheet, base: "excluded" } },
		{ sheet: { ...sheet, rows: [row("800", "7.5", "9")] } },
		{ sheet: { ...sheet, rows: [row("800", "7.5", ""), row("1500", "12", "14")] } },
		{ facts: {} },
	];
	const ids = [{}, ...others].map((more) => library.idOf(curve(more)));
	assert.equal(new Set(ids).size, ids.length);
	for (const id of ids) assert.match(id, /^[a-z0-9]{16,32}$/);
});

test("new, same and differing are told apart, and a second time nothing is new", () => {
	const curves = [
		unit(),
		unit({ sheet: { ...unit().sheet, base: "excluded" } }),
		unit({ typeNumber: "U" }),
		unit(),
	].map((body) => /** @type {any} */ (library.curveOf(body)));
	const counts = (/** @type {any} */ found) => [found.fresh, found.same, found.differ].map(({ length }) => length);
	assert.deepEqual(counts(library.compare(curves, [])), [2, 1, 1]);
	assert.deepEqual(counts(library.compare(curves, curves)), [0, 4, 0]);
	const kept = curves.map((one) => /** @type {any} */ (library.curveOf(library.bodyOf(one))));
	assert.deepEqual(kept.map(library.contentOf), curves.map(library.contentOf), "kept and read again it is the same");
	assert.ok(library.sought(curves[0], "t-100 book") && !library.sought(curves[0], "t-100 other"));
});

test("a hundred thousand curves have ids of their own", () => {
	const ids = new Set();
	const base = /** @type {any} */ (library.curveOf(unit()));
	for (let n = 0; n < 100_000; n++) ids.add(library.idOf({ ...base, typeNumber: `T${n}` }));
	assert.equal(ids.size, 100_000);
});

test("a file that is none, or not whole, is refused with limit and what to do", () => {
	const good = JSON.parse(library.libraryFile([unit()], "").text);
	const [curve] = good.curves;
	for (const bad of [
		"",
		"{",
		"[]",
		JSON.stringify({ ...good, format: "another" }),
		...[
			null,
			{},
			{ ...curve, name: "<b>" },
			{ ...curve, sheet: { ...curve.sheet, rows: [] } },
			{ ...curve, sheet: { ...curve.sheet, rows: [{ rpm: 800 }] } },
			{ ...curve, sheet: { ...curve.sheet, colour: "red" } },
			{ ...curve, typeNumber: "", name: "" },
			{ ...curve, source: "s".repeat(401) },
		].map((one) => JSON.stringify({ ...good, curves: [one] })),
	]) {
		const { curves, problem } = library.readLibrary(bad);
		assert.equal(curves, null, bad.slice(0, 200));
		assert.ok(problem?.title && problem.limit && problem.do);
	}
});

test("the file of a car holds it, what is in it and its visits, and nothing of another", async () => {
	const visit = { carId: "car1", distributorId: "unit1", date: "2026-05-02", title: "", notes: "", sets: [] };
	await garage.put("car", "car1car1car1car1", {
		name: "One",
		owner: "",
		distributorId: "unit1unit1unit1u",
		facts: {},
		demo: false,
	});
	await garage.put("car", "car2car2car2car2", { name: "Two", owner: "", distributorId: "", facts: {}, demo: false });
	await garage.put("distributor", "unit1unit1unit1u", emptyDistributor("In one"));
	await garage.put("distributor", "unit2unit2unit2u", emptyDistributor("On the bench"));
	const put = (/** @type {string} */ id, /** @type {any} */ more) => garage.put("visit", id, { ...visit, ...more });
	await put("visitofone000000", { carId: "car1car1car1car1", distributorId: "unit1unit1unit1u" });
	await put("visitofunit00000", { carId: "", distributorId: "unit1unit1unit1u" });
	await put("visitelsewhere00", { carId: "car2car2car2car2", distributorId: "unit1unit1unit1u" });
	await put("visitoftwo000000", { carId: "car2car2car2car2", distributorId: "" });
	const idsOf = (/** @type {string} */ id) => {
		const { documents, problem } = readBackup(makeCarFile(id));
		assert.equal(problem, null);
		return documents.map((doc) => doc.id).sort();
	};
	assert.deepEqual(idsOf("car1car1car1car1"), [
		"car1car1car1car1",
		"unit1unit1unit1u",
		"visitofone000000",
		"visitofunit00000",
	]);
	assert.deepEqual(idsOf("unit1unit1unit1u"), [
		"unit1unit1unit1u",
		"visitelsewhere00",
		"visitofone000000",
		"visitofunit00000",
	]);
});
