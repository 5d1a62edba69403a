import assert from "node:assert/strict";
import { test } from "node:test";
import { doubtsOf, fewRows } from "../app/js/book/sheet-check.js";
import {
	bothWays,
	commonReadingErrorCrankDeg,
	emptySheet,
	onlyEdge,
	toReadings,
	toSpec,
} from "../app/js/record/sheet.js";

const rows = (...list) => list.map(([rpm, min, max]) => ({ rpm, min, max }));
const sheet = (change) => ({
	...emptySheet(),
	angleUnit: "distributor",
	speedUnit: "distributor",
	base: "excluded",
	baseCrankDeg: "8",
	rows: rows(["1000", "7", "9"]),
	...change,
});

test("an empty sheet assumes no unit and asks for each in turn", () => {
	const asked = [];
	const now = { ...emptySheet(), rows: rows(["1000", "7", "9"]) };
	for (const [field, answer] of [
		["angleUnit", "crank"],
		["speedUnit", "engine"],
		["base", "included"],
	]) {
		asked.push(toSpec(now).problem.field);
		now[field] = answer;
	}
	assert.deepEqual(asked, ["angleUnit", "speedUnit", "base"]);
	assert.equal(toSpec(now).problem, null);
});

test("rows typed in any order come out by rising speed, each knowing its row", () => {
	const { spec, rowOf } = toSpec(
		sheet({ rows: rows(["1500", "9", "11"], ["", "", ""], ["1,000", "7", "9"], ["300", "0", "1"]) }),
	);
	assert.deepEqual(
		spec.points.map(({ rpm }) => rpm),
		[300, 1000, 1500],
	);
	assert.deepEqual(rowOf, [3, 2, 0]);
});

test("what is left empty does not reach the calculation", () => {
	const { spec } = toSpec(sheet({ baseCrankDeg: "" }));
	assert.deepEqual(Object.keys(spec).sort(), ["angleUnit", "base", "points", "speedUnit"]);
});

test("a base after TDC is negative", () => {
	assert.equal(toSpec(sheet({ baseSide: "after" })).spec.baseCrankDeg, -8);
});

test("half a row, or a figure that is none, is named with its row and kept", () => {
	const half = sheet({ rows: rows(["300", "0", "1"], ["450", "", ""]) });
	assert.equal(toSpec(half).problem.field, "rows[1].max");
	assert.match(toSpec(half).problem.problem, /neither a least nor a most/);
	assert.equal(toSpec(half).spec, null);
	assert.equal(half.rows[1].rpm, "450", "what is typed stays");
	assert.equal(toSpec(sheet({ rows: rows(["", "", "11"]) })).problem.field, "rows[0].rpm");
	const typo = sheet({ rows: rows(["300", "o", "1"]) });
	assert.match(toSpec(typo).problem.problem, /“o” cannot be read/);
	assert.equal(typo.rows[0].min, "o");
	for (const key of ["problem", "limit", "do"]) assert.ok(toSpec(typo).problem[key], key);
});

test("a row may name only a least or only a most", () => {
	const { spec, problem } = toSpec(sheet({ rows: rows(["900", "", "11"], ["1800", "7", " "], ["300", "0", "0"]) }));
	assert.equal(problem, null);
	assert.deepEqual(spec.points, [
		{ rpm: 300, minDeg: 0, maxDeg: 0 },
		{ rpm: 900, maxDeg: 11 },
		{ rpm: 1800, minDeg: 7 },
	]);
	assert.deepEqual(
		[
			["", "11"],
			["7", ""],
			["7", "11"],
			["", ""],
			["o", "11"],
		].map(([min, max]) => onlyEdge({ rpm: "900", min, max })),
		["most", "least", "", "", ""],
	);
	assert.match(
		toSpec(sheet({ rows: rows(["900", "o", "11"]) })).problem.problem,
		/“o” cannot be read/,
		"a typing slip is no empty cell",
	);
});

test("of one or two rows it is said what they can tell", () => {
	assert.match(fewRows(sheet({})), /^One row: .*cannot/);
	assert.match(fewRows(sheet({ rows: rows(["300", "0", "1"], ["900", "", "11"], ["", "", ""]) })), /^Two rows: /);
	assert.equal(fewRows(sheet({ rows: rows(["300", "0", "1"], ["600", "3", "5"], ["900", "", "11"]) })), "");
	assert.equal(fewRows(emptySheet()), "");
});

test("a row is shown both ways: distributor figures double for the crank, base is added once", () => {
	const both = bothWays(sheet({}), { rpm: "1000", min: "7", max: "9" });
	assert.equal(both.engineRPM, 2000);
	assert.equal(both.distRPM, 1000);
	assert.deepEqual(both.min, { advanceCrank: 14, advanceDist: 7, totalCrank: 22 });
	assert.deepEqual(both.max, { advanceCrank: 18, advanceDist: 9, totalCrank: 26 });
});

test("a table with base in it gives it back for the distributor and does not add it again", () => {
	const six = sheet({ angleUnit: "crank", speedUnit: "engine", base: "included", baseCrankDeg: "6" });
	const both = bothWays(six, { rpm: "1000", min: "8", max: "12" });
	assert.equal(both.distRPM, 500);
	assert.deepEqual(both.min, { advanceCrank: 2, advanceDist: 1, totalCrank: 8 });
	assert.deepEqual(both.max, { advanceCrank: 6, advanceDist: 3, totalCrank: 12 });
	assert.equal(bothWays({ ...six, baseCrankDeg: "" }, { rpm: "1000", min: "8", max: "12" }).min.advanceDist, null);
});

test("a drive ratio other than two is used for angle and speed alike", () => {
	const both = bothWays(sheet({ driveRatio: "1" }), { rpm: "1000", min: "7", max: "9" });
	assert.equal(both.engineRPM, 1000);
	assert.equal(both.max.advanceCrank, 9);
});

const reading = (rpm, deg, more) => ({
	id: `r${rpm}${deg}`,
	rpm,
	deg,
	side: "before",
	direction: "rising",
	at: "",
	...more,
});
const set = (readings, more) => ({
	id: "s",
	place: "car",
	angleUnit: "crank",
	speedUnit: "engine",
	base: "included",
	vacuum: "",
	readingErrorCrankDeg: "",
	staticCrankDeg: "",
	staticSide: "before",
	readings,
	...more,
});

test("only complete readings that are not removed reach the calculation, after TDC as negative", () => {
	const [out] = toReadings({
		sets: [
			set([
				reading("800", "8"),
				reading("1000", ""),
				reading("", "12"),
				reading("900", "4.3", { side: "after" }),
				reading("1500", "20", { removed: true }),
			]),
		],
	});
	assert.deepEqual(out.points, [
		{ rpm: 800, deg: 8, direction: "rising" },
		{ rpm: 900, deg: -4.3, direction: "rising" },
	]);
});

test("an unanswered vacuum question stays unanswered and an empty reading error is the one shown", () => {
	const [out] = toReadings({ sets: [set([reading("800", "8")])] });
	assert.ok(!("vacuum" in out));
	assert.equal(out.readingErrorCrankDeg, commonReadingErrorCrankDeg);
});

test("a set with a static figure alone counts, one with nothing does not", () => {
	const out = toReadings({ sets: [set([]), set([], { staticCrankDeg: "4", staticSide: "after" })] });
	assert.equal(out.length, 1);
	assert.equal(out[0].staticCrankDeg, -4);
});

test("a timing beyond the stop has to be confirmed, and stays confirmed up to that figure", () => {
	const late = (most, confirmedTotal) =>
		doubtsOf(sheet({ rows: rows(["1500", "18", most]), ...(confirmedTotal ? { confirmedTotal } : {}) })).map(
			({ level }) => level,
		);
	assert.deepEqual(late("20"), ["stop"]); // 8 + 2 × 20 = 48
	assert.deepEqual(late("20", "48.0"), ["ask"]);
	assert.deepEqual(late("20", "47.5"), ["stop"]);
	assert.deepEqual(late("19.5", "48.0"), ["ask"]);
});

test("a row with advance where there is to be none is asked about", () => {
	const asked = (noAdvanceBelow, most) =>
		doubtsOf(sheet({ noAdvanceBelow, rows: rows(["200", "0", most], ["1000", "7", "9"]) })).filter(({ text }) =>
			/no advance below/.test(text),
		).length;
	assert.equal(asked("250", "1"), 1);
	assert.equal(asked("250", "0"), 0);
	assert.equal(asked("200", "1"), 0);
	assert.equal(asked("", "1"), 0);
	const thousands = (noAdvanceBelow, rpm) =>
		doubtsOf(sheet({ speedUnit: "engine", noAdvanceBelow, rows: rows([rpm, "0", "1"]) })).filter(({ text }) =>
			/no advance below/.test(text),
		).length;
	assert.deepEqual(
		[thousands("600", "1,500"), thousands("1,000", "1500"), thousands("1,200", "1 000")],
		[0, 0, 1],
		"a comma or a space of thousands is none of decimals",
	);
});
