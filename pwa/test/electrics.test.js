import assert from "node:assert/strict";
import { test } from "node:test";
import { bookOf, dwellNow, dwellOf, lastChange, leftIn, pairsOf, pointsIn } from "../app/js/electrics/points.js";
import { alsoIn, convert, figureIn, rangeIn, unitsLike } from "../app/js/kit/units.js";
import { factsOf, notedWords, workedOn } from "../app/js/record/visit-facts.js";
import { dwellDoubt, gapDoubt, voltsDoubt } from "../app/js/electrics/doubts.js";
import { fact, visit, near, four } from "./electric-facts.js";

test("units: 0.015 in is 0.381 mm and 15 thou; 20 inHg is 67.7 kPa", () => {
	near(convert(0.015, "in", "mm"), 0.381);
	near(convert(15, "thou", "in"), 0.015);
	near(convert(20, "inHg", "kPa"), 67.73, 0.01);
	assert.equal(convert(1, "mm", "kPa"), null);
	assert.equal(alsoIn("15", "thou"), "0.381 mm, 0.015 in");
	assert.equal(alsoIn("fifteen", "thou"), "");
	assert.equal(alsoIn("130", "mm"), "5.118 in"); // a pulley is not named in thou
	assert.deepEqual(unitsLike("in"), ["in", "mm", "thou"]);
	near(figureIn(fact("1/64", "in"), "mm"), 25.4 / 64);
	assert.equal(figureIn(undefined, "mm"), null);
});

test("ranges are read as books print them, and a single figure says what was added", () => {
	const same = (x) => x;
	assert.deepEqual(rangeIn("0.014-0.016", same, 1, "t"), { min: 0.014, max: 0.016, taken: "" });
	assert.deepEqual(rangeIn("60 ±3", same, 1, "t"), { min: 57, max: 63, taken: "" });
	assert.deepEqual(rangeIn("60 +/- 3", same, 1, "t"), { min: 57, max: 63, taken: "" });
	assert.deepEqual(rangeIn("57 to 63", same, 1, "t"), { min: 57, max: 63, taken: "" });
	assert.deepEqual(rangeIn("63–57", same, 1, "t"), { min: 57, max: 63, taken: "" });
	assert.deepEqual(rangeIn("60", same, 2, "two either side"), { min: 58, max: 62, taken: "two either side" });
	for (const bad of ["", "about 60", "1-2-3", "60 ± x"]) assert.equal(rangeIn(bad, same, 1, "t"), null, bad);
});

test("a subject stays in the visit it was begun in last, whatever its date", () => {
	const old = visit("old", { "volts.begun": fact("2024-01-01T10:00:00Z"), "volts.closed.battery": fact("12.1") });
	const later = visit("later", { "volts.begun": fact("2024-01-02T10:00:00Z"), "points.gap": fact("15") });
	assert.equal(workedOn([old, later], "volts").id, "later");
	assert.deepEqual(factsOf([old, later], "volts"), {});
	assert.deepEqual(factsOf([old], "volts"), { "closed.battery": fact("12.1") });
	assert.equal(workedOn([old, later], "points"), null);
	assert.equal(notedWords(old.body), "volts along the feed");
});

test("a dwell in percent and in degrees is the same; one that never opens is none", () => {
	near(dwellOf(fact("66.67", "%"), 4), 60.003, 1e-6);
	assert.equal(dwellOf(fact("60", "distributor degrees"), 4), 60);
	assert.equal(dwellOf(fact("90", "distributor degrees"), 4), null);
	assert.equal(dwellOf(fact("0"), 4), null);
});

test("gap and dwell are asked about outside their bounds, and stopped where they cannot be", () => {
	assert.equal(gapDoubt("15", "thou"), null);
	assert.equal(gapDoubt("15", "mm").level, "ask");
	assert.match(gapDoubt("15", "").problem, /unit/);
	assert.equal(dwellDoubt("60", "distributor degrees", 4), null);
	assert.equal(dwellDoubt("60", "distributor degrees", 6).level, "stop");
	assert.equal(dwellDoubt("50", "distributor degrees", 6).level, "ask");
	assert.equal(dwellDoubt("80", "%", null).level, "ask");
	assert.equal(voltsDoubt("12.6", 12, false), null);
	assert.equal(voltsDoubt("12.6", 6, false).level, "ask");
	assert.match(voltsDoubt("12..6", 12, false).problem, /cannot be read/);
});

test("the points as the calculation takes them: units converted, unreadable left out, twin only where it is", () => {
	const distributor = { gap: fact("0.014-0.016", "in", "book"), dwell: fact("60 ±3", "distributor degrees", "book") };
	const facts = {
		state: fact("used"),
		gap: fact("15", "thou"),
		dwell: fact("66.667", "%"),
		"idle.rpm": fact("1,500", "engine rpm"),
		"idle.dwell": fact("60", "distributor degrees"),
		"fast.rpm": fact("x"),
		"still.dwell": fact("60"),
		"drawn.vacuum": fact("20", "inHg"),
		"drawn.dwell": fact("58"),
	};
	const given = pointsIn(four, facts, distributor, -100);
	near(given.gapMm, 0.381);
	near(given.gapBookMm.max, 0.4064);
	near(given.dwellDistDeg, 60.0003, 1e-6);
	assert.deepEqual(given.speeds, [{ engineRPM: 1500, dwellDistDeg: 60 }]);
	near(given.vacuum[1].vacuumKPa, 67.7278, 1e-3);
	assert.equal("twin" in given, false);
	assert.equal(pointsIn({ ...four, cylinders: null }, facts, distributor, null), null);
	assert.equal(pointsIn({ ...four, electronic: true }, facts, distributor, null).trigger, "electronic");
	const twin = pointsIn(
		{ ...four, cylinders: 8, twin: true },
		{ twinFirst: fact("27"), twinSecond: fact("27"), twinPair: fact("34") },
		{ dwellPair: fact("32-36", "distributor degrees") },
		null,
	);
	assert.deepEqual(twin.twin, { firstDistDeg: 27, secondDistDeg: 27, pairDistDeg: 34, pair: { min: 32, max: 36 } });
});

test("as left is judged by what was read after setting; what a setting does not cure stays", () => {
	const distributor = { dwell: fact("60 ±3", "distributor degrees", "book") };
	const facts = {
		state: fact("used"),
		gap: fact("12", "thou"),
		dwell: fact("70", "distributor degrees"),
		"idle.rpm": fact("800"),
		"idle.dwell": fact("70", "distributor degrees"),
		"fast.rpm": fact("1500"),
		"fast.dwell": fact("66", "distributor degrees"),
	};
	assert.equal(leftIn(four, facts, distributor, null), null, "nothing is left yet");
	const left = leftIn(four, { ...facts, dwellLeft: fact("61", "distributor degrees") }, distributor, null);
	assert.equal(left.dwellDistDeg, 61);
	assert.equal("gapMm" in left, false, "the gap as found is not the gap as left");
	assert.equal(left.speeds.length, 2, "a dwell that wanders is not cured by setting");
	assert.equal(
		leftIn(four, { ...facts, dwellLeft: fact("sixty") }, distributor, null),
		null,
		"what cannot be read is not judged",
	);
	near(leftIn(four, { ...facts, gapLeft: fact("15", "thou") }, distributor, null).gapMm, 0.381);
});

test("the book's one figure gets the trade's tolerance and says so", () => {
	const { gap, dwell } = bookOf({ gap: fact("0.012", "in"), dwell: fact("30", "distributor degrees") }, 8);
	assert.match(gap.taken, /common practice/);
	assert.deepEqual([dwell.min, dwell.max], [29, 31]);
	assert.equal(bookOf({ gap: fact("0.012", "") }, 4).gap, null);
});

test("pairs to learn from: written ones, as left, as found only on new points, each once", () => {
	const used = visit("a", {
		"points.begun": fact("1"),
		"points.state": fact("used"),
		"points.gap": fact("15", "thou"),
		"points.dwell": fact("52"),
		"points.gapLeft": fact("16", "thou"),
		"points.dwellLeft": fact("59"),
	});
	const fresh = visit("b", {
		"points.state": fact("new"),
		"points.gap": fact("14", "thou"),
		"points.dwell": fact("61"),
		"points.pair1.gap": fact("16", "thou"),
		"points.pair1.dwell": fact("59"),
		"points.pair2.gap": fact("18", "thou"),
	});
	assert.deepEqual(
		pairsOf([used, fresh], 4)
			.map(({ dwellDistDeg }) => dwellDistDeg)
			.sort(),
		[59, 61],
	);
});

test("the dwell as it stands says where it comes from, and is never a default", () => {
	assert.deepEqual(dwellNow({ dwell: fact("59"), dwellLeft: fact("61") }, {}, 4), {
		dwell: 61,
		from: "measured, as left",
	});
	assert.match(dwellNow({}, { dwell: fact("60 ±3", "distributor degrees") }, 4).from, /not measured/);
	assert.equal(dwellNow({}, {}, 4), null);
	assert.deepEqual(
		lastChange([
			visit("a", { "points.changed": { ...fact("2024-05-01T10:00:00Z"), note: "dwell went from 59 to 62" } }),
		]),
		{ at: "2024-05-01T10:00:00Z", note: "dwell went from 59 to 62" },
	);
	assert.equal(lastChange([visit("a", { "points.changed": fact("") })]), null);
});
