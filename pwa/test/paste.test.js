import assert from "node:assert/strict";
import { test } from "node:test";
import { looksLikeTable, readTable } from "../app/js/book/paste.js";

const rowsOf = (text) => readTable(text).rows.map(({ rpm, min, max }) => [rpm, min, max]);

test("a table is read in every way people write one", () => {
	for (const line of [
		"1000 7-9",
		"1000: 7 to 9",
		"1000\t7\t9",
		"1000 7 – 9",
		"1000 rpm  7-9°",
		"1000 = 7..9",
		"1000;7;9",
		"7-9 at 1000",
		"7 to 9 @ 1000 rpm",
		"1000 | 7 | 9",
		"1000: 7° to 9°",
		"1000 7 9",
	]) {
		assert.deepEqual(rowsOf(line), [["1000", "7", "9"]], line);
	}
});

test("decimals, commas, fractions and thousands are kept as written", () => {
	assert.deepEqual(rowsOf("450 0,5-2,5"), [["450", "0,5", "2,5"]]);
	assert.deepEqual(rowsOf("450: 1/2 to 2½"), [["450", "1/2", "2½"]]);
	assert.deepEqual(rowsOf("1,500 9-11"), [["1,500", "9", "11"]]);
	assert.deepEqual(rowsOf("300 -1 to 1"), [["300", "-1", "1"]]);
});

test("one printed figure goes in both columns", () => {
	assert.deepEqual(rowsOf("2000 8"), [["2000", "8", "8"]]);
	assert.deepEqual(rowsOf("1000\t\t7\t9"), [["1000", "7", "9"]], "tabs that only align");
});

test("a least or a most alone stays alone", () => {
	for (const line of [
		"max 14 at 2500",
		"2500 max 14",
		"2500: at most 14°",
		"14 max. at 2500 rpm",
		"2500\t\t14",
		"2500; ;14",
		"2500 | – | 14",
	])
		assert.deepEqual(rowsOf(line), [["2500", "", "14"]], line);
	for (const line of ["min 7 at 1000", "1000 at least 7", "1000\t7\t", "1000; 7; -"])
		assert.deepEqual(rowsOf(line), [["1000", "7", ""]], line);
	assert.deepEqual(rowsOf("max 12 to 14 at 2500"), [["2500", "12", "14"]], "two figures stay two");
});

test("no advance below is a limit, not a row", () => {
	assert.deepEqual(readTable("No advance below 300\n450 0.5-2.5"), {
		rows: [{ rpm: "450", min: "0.5", max: "2.5" }],
		noAdvanceBelow: "300",
		unread: [],
	});
});

test("lines that are not understood are given back, never dropped", () => {
	const table = readTable("RPM   degrees\n1000 7-9\n\nsee page 12");
	assert.equal(table.rows.length, 1);
	assert.deepEqual(table.unread, ["RPM degrees", "see page 12"]);
});

test("a single number pasted in a cell is left to the cell", () => {
	assert.equal(looksLikeTable("1000"), false);
	assert.equal(looksLikeTable("7½"), false);
	assert.equal(looksLikeTable("1000 7-9"), true);
	assert.equal(looksLikeTable("300\t0\t1"), true);
});

test("a paste of a megabyte is over in a moment", () => {
	const begun = performance.now();
	readTable("7 7 7 7 7 7 7-".repeat(80_000));
	readTable("1 ".repeat(500_000));
	assert.ok(performance.now() - begun < 1000);
});
