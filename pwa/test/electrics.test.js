import assert from "node:assert/strict";
import { test } from "node:test";
import { condenserIn } from "../app/js/data/condenser.js";
import { compressions, figureOf, ownLimit, phaseOf, resultsOf, standing } from "../app/js/data/condition.js";
import { checkDoubt, dwellDoubt, gapDoubt, signDoubt, voltsDoubt } from "../app/js/data/measure-checks.js";
import { bookOf, dwellNow, dwellOf, lastChange, leftIn, pairsOf, pointsIn } from "../app/js/data/points.js";
import { changedIn, isChanged, setAside, sparkFields, sparkFigures, speedsFor, stalledHeat, sweepIn, takenWords } from "../app/js/data/spark.js";
import { measuredFigures, placesOf, supplyIn, turnedRound } from "../app/js/data/supply.js";
import { alsoIn, convert, figureIn, rangeIn, unitsLike } from "../app/js/data/units.js";
import { factsOf, notedWords, workedOn } from "../app/js/data/visit-facts.js";

const fact = (value, unit = "", source = "measured") => ({ value, unit, source, note: "" });
const visit = (id, facts, more = {}) => ({ kind: "visit", id, revision: "", changedAt: "2024-01-01T00:00:00Z", deleted: false, body: { carId: "c", distributorId: "d", date: "2024-01-01", title: "", notes: "", sets: [], facts, ...more } });
const near = (a, b, most = 1e-9) => assert.ok(Math.abs(a - b) <= most, `${a} is not ${b}`);

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

const spread = { id: "B27", title: "spread", kind: "figure", unit: "%", accept: "", limit: { passMax: 10, watchMax: 20 } };
const play = { id: "B1", title: "play", kind: "figure", unit: "in", accept: "", limit: { passMax: 0.003, watchMax: 0.006 } };
const look = { id: "B5", title: "return", kind: "look", accept: "" };
const checks = [
	{ id: "B27", title: "Compression", group: "engine", place: "car", how: "", failText: "", measures: [spread] },
	{ id: "B1", title: "Play", group: "distributor", place: "bench", how: "", failText: "", measures: [play] },
	{ id: "B5", title: "Return", group: "distributor", place: "either", how: "", failText: "", measures: [look] },
];

test("compressions cylinder by cylinder become their spread", () => {
	assert.deepEqual(compressions("158-162-155-160"), [158, 162, 155, 160]);
	near(figureOf(spread, fact("158-162-155-160", "psi")), (7 / 162) * 100);
	near(figureOf(spread, fact("10,9 11,2", "bar")), (0.3 / 11.2) * 100, 1e-6);
	assert.equal(figureOf(spread, fact("8", "%")), 8);
	assert.equal(figureOf(spread, fact("158", "psi")), null);
	assert.equal(checkDoubt(spread, fact("100-150", "psi"), 33).level, "stop");
	near(figureOf(play, fact("2", "thou")), 0.002);
});

test("results for the calculation: read, seen, skipped, with the car's own limit; nothing that cannot be read", () => {
	const facts = { B27: fact("150-100", "psi"), B1: fact("2", "thou"), B5: fact("doubtful"), "B5.skipped": fact("no") };
	const of = { car: {}, distributor: { "limit.B1.most": fact("0.05", "mm", "book") } };
	const [compression, side, seen] = resultsOf(checks, facts, of);
	near(compression.value, 100 / 3);
	near(side.own.passMax, 0.05 / 25.4);
	assert.match(side.own.source, /own figure: book/);
	assert.deepEqual(seen, { measure: "B5", seen: "doubtful" });
	assert.deepEqual(resultsOf(checks, { B1: fact("two"), "B1.skipped": fact("in the car") }, of), [{ measure: "B1", skipped: "in the car" }]);
	assert.deepEqual(resultsOf(checks, { B1: fact("") }, of), []);
});

test("an own limit upside down is refused and the general one stands", () => {
	const { limit, problem } = ownLimit({ "limit.B1.least": fact("5", "thou"), "limit.B1.most": fact("3", "thou") }, play);
	assert.equal(limit, null);
	assert.match(problem.problem, /least is more/);
	assert.match(ownLimit({ "limit.B1.most": fact("three") }, play).problem.problem, /cannot be read/);
});

test("how a check stands, and which question it belongs to", () => {
	const judged = (verdict) => [{ measure: "B1", check: "B1", verdict, title: "", text: "", limitText: "", source: "", own: false }];
	assert.equal(standing(checks[1], judged("watch"), {}), "watch");
	assert.equal(standing(checks[1], [], {}), "due");
	assert.equal(standing(checks[1], judged("unknown"), { "B1.skipped": fact("in the car") }), "skipped");
	assert.equal(standing({ ...checks[1], measures: [play, look] }, judged("pass"), {}), "begun");
	assert.equal(phaseOf({ ...checks[0], id: "B22", group: "electrics" }), "Is the engine fit to tune?");
	assert.equal(phaseOf(checks[1]), "Is the distributor fit to set?");
});

const four = { nominalV: 12, earth: "positive", ballasted: false, electronic: false, twin: false, cylinders: 4, altitudeM: null };

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
	const facts = { state: fact("used"), gap: fact("15", "thou"), dwell: fact("66.667", "%"), "idle.rpm": fact("1,500", "engine rpm"), "idle.dwell": fact("60", "distributor degrees"), "fast.rpm": fact("x"), "still.dwell": fact("60"), "drawn.vacuum": fact("20", "inHg"), "drawn.dwell": fact("58") };
	const given = pointsIn(four, facts, distributor, -100);
	near(given.gapMm, 0.381);
	near(given.gapBookMm.max, 0.4064);
	near(given.dwellDistDeg, 60.0003, 1e-6);
	assert.deepEqual(given.speeds, [{ engineRPM: 1500, dwellDistDeg: 60 }]);
	near(given.vacuum[1].vacuumKPa, 67.7278, 1e-3);
	assert.equal("twin" in given, false);
	assert.equal(pointsIn({ ...four, cylinders: null }, facts, distributor, null), null);
	assert.equal(pointsIn({ ...four, electronic: true }, facts, distributor, null).trigger, "electronic");
	const twin = pointsIn({ ...four, cylinders: 8, twin: true }, { twinFirst: fact("27"), twinSecond: fact("27"), twinPair: fact("34") }, { dwellPair: fact("32-36", "distributor degrees") }, null);
	assert.deepEqual(twin.twin, { firstDistDeg: 27, secondDistDeg: 27, pairDistDeg: 34, pair: { min: 32, max: 36 } });
});

test("as left is judged by what was read after setting; what a setting does not cure stays", () => {
	const distributor = { dwell: fact("60 ±3", "distributor degrees", "book") };
	const facts = { state: fact("used"), gap: fact("12", "thou"), dwell: fact("70", "distributor degrees"), "idle.rpm": fact("800"), "idle.dwell": fact("70", "distributor degrees"), "fast.rpm": fact("1500"), "fast.dwell": fact("66", "distributor degrees") };
	assert.equal(leftIn(four, facts, distributor, null), null, "nothing is left yet");
	const left = leftIn(four, { ...facts, dwellLeft: fact("61", "distributor degrees") }, distributor, null);
	assert.equal(left.dwellDistDeg, 61);
	assert.equal("gapMm" in left, false, "the gap as found is not the gap as left");
	assert.equal(left.speeds.length, 2, "a dwell that wanders is not cured by setting");
	assert.equal(leftIn(four, { ...facts, dwellLeft: fact("sixty") }, distributor, null), null, "what cannot be read is not judged");
	near(leftIn(four, { ...facts, gapLeft: fact("15", "thou") }, distributor, null).gapMm, 0.381);
});

test("the book's one figure gets the trade's tolerance and says so", () => {
	const { gap, dwell } = bookOf({ gap: fact("0.012", "in"), dwell: fact("30", "distributor degrees") }, 8);
	assert.match(gap.taken, /common practice/);
	assert.deepEqual([dwell.min, dwell.max], [29, 31]);
	assert.equal(bookOf({ gap: fact("0.012", "") }, 4).gap, null);
});

test("pairs to learn from: written ones, as left, as found only on new points, each once", () => {
	const used = visit("a", { "points.begun": fact("1"), "points.state": fact("used"), "points.gap": fact("15", "thou"), "points.dwell": fact("52"), "points.gapLeft": fact("16", "thou"), "points.dwellLeft": fact("59") });
	const fresh = visit("b", { "points.state": fact("new"), "points.gap": fact("14", "thou"), "points.dwell": fact("61"), "points.pair1.gap": fact("16", "thou"), "points.pair1.dwell": fact("59"), "points.pair2.gap": fact("18", "thou") });
	assert.deepEqual(pairsOf([used, fresh], 4).map(({ dwellDistDeg }) => dwellDistDeg).sort(), [59, 61]);
});

test("the dwell as it stands says where it comes from, and is never a default", () => {
	assert.deepEqual(dwellNow({ dwell: fact("59"), dwellLeft: fact("61") }, {}, 4), { dwell: 61, from: "measured, as left" });
	assert.match(dwellNow({}, { dwell: fact("60 ±3", "distributor degrees") }, 4).from, /not measured/);
	assert.equal(dwellNow({}, {}, 4), null);
	assert.deepEqual(lastChange([visit("a", { "points.changed": { ...fact("2024-05-01T10:00:00Z"), note: "dwell went from 59 to 62" } })]), { at: "2024-05-01T10:00:00Z", note: "dwell went from 59 to 62" });
	assert.equal(lastChange([visit("a", { "points.changed": fact("") })]), null);
});

test("the way of this car: ballast only where there is one, and no further than the coil while cranking", () => {
	assert.deepEqual(placesOf(false, "cranking").map(({ id }) => id), ["battery", "switchIn", "switchOut", "coilFeed"]);
	assert.ok(placesOf(true, "closed").some(({ id }) => id === "ballastOut"));
	assert.equal(placesOf(false, "closed").at(-1).id, "engine");
	const facts = { "closed.battery": fact("−12,6"), "closed.coilFeed": fact("-12.4"), "closed.ballastIn": fact("12"), "cranking.battery": fact("10") };
	assert.deepEqual(supplyIn(four, "closed", facts, { coilOhm: fact("3.1") }), { nominalV: 12, earth: "positive", ballasted: false, state: "closed", readings: [{ at: "battery", volts: -12.6 }, { at: "coilFeed", volts: -12.4 }], coilOhm: 3.1 });
	assert.equal(supplyIn(four, "cranking", facts, {}), null, "the battery alone tells nothing");
	assert.equal(supplyIn({ ...four, earth: null }, "closed", facts, {}), null);
});

test("one reading of the wrong sign is named and left out, and the rest is judged", () => {
	const facts = { "closed.battery": fact("6.2"), "closed.switchIn": fact("6.1"), "closed.switchOut": fact("-5.9"), "closed.coilFeed": fact("5.8"), "closed.body": fact("-0.01") };
	const typed = (/** @type {string} */ place) => facts[`closed.${place}`]?.value ?? "";
	assert.deepEqual([...turnedRound(false, "closed", typed)], ["switchOut"], "almost nothing has no sign");
	assert.deepEqual(supplyIn(four, "closed", facts, {}).readings.map(({ at }) => at), ["battery", "switchIn", "coilFeed", "body"]);
	assert.match(signDoubt("-5.9").problem, /^-5\.9 V is the odd one out/);
	assert.match(signDoubt("-5.9").do, /left out; the rest is judged/);
	assert.deepEqual([...turnedRound(false, "closed", (place) => ({ battery: "12.6", coilFeed: "-11.9" })[place] ?? "")], ["coilFeed"], "one against one: the battery counts");
	assert.deepEqual([...turnedRound(false, "closed", (place) => (typed(place) ? `-${typed(place)}`.replace("--", "") : ""))], ["switchOut"], "positive earth, other lead");
});

test("what the spark stands on: given, taken with its reason, and out of reach said", () => {
	const car = { coilOhm: fact("3.1", "ohm"), plugGap: fact("25", "thou"), compressionRatio: fact("83"), condenser: fact("abc") };
	const { values, unread } = sparkFigures(car);
	near(values["plug.gapMm"], 0.635);
	assert.match(unread["engine.compressionRatio"], /3 to 16/);
	assert.match(unread["coil.condenserMicroF"], /cannot be read/);
	const plain = sweepIn(four, car, { dwell: 60 }, [1000], [], "right");
	assert.equal(plain.input.supplyV, 13.8);
	assert.match(plain.taken.supplyV, /common practice/);
	assert.equal(plain.input.coil.ballastOhm, 0);
	const six = sweepIn({ ...four, nominalV: 6, ballasted: null }, {}, { dwell: 50 }, [1000], [], "");
	assert.equal(six.input.supplyV, 6.9);
	assert.equal("ballastOhm" in six.input.coil, false);
	const block = sweepIn({ ...four, ballasted: true }, {}, { dwell: 60 }, [1000], [], "");
	assert.equal(block.input.coil.ballastOhm, 1.5);
	assert.match(block.taken["coil.ballastOhm"], /common practice/);
	assert.equal(block.input.coil.ballastGuessed, true, "the calculation is told that nobody measured it");
	assert.equal(six.input.coil.ballastGuessed, true, "whether there is one is not known");
	assert.match(six.taken["points.maxA"], /4\.9 A/);
	assert.equal("ballastGuessed" in plain.input.coil, false, "no ballast is a fact");
	assert.equal("ballastGuessed" in sweepIn({ ...four, ballasted: true }, { ballastOhm: fact("1.6", "ohm") }, { dwell: 60 }, [1000], [], "").input.coil, false);
	assert.equal("ballastGuessed" in changedIn(block.input, { ballastOhm: 1.7 }).coil, false, "tried on paper it is as tried");
	assert.deepEqual(takenWords(["coil.turnsRatio not given: 65 to 1 taken, common practice for a plain 12 V coil", "nonsense"]), { "coil.turnsRatio": "65 to 1 taken, common practice for a plain 12 V coil" });
});

test("the heat named on the volts page is this car's, as the calculation works it", () => {
	near(stalledHeat({ ...four, nominalV: 6, ballasted: false }, {}).watts, 6.3 ** 2 / 1.4);
	assert.equal(stalledHeat({ ...four, nominalV: 6, ballasted: false }, {}).isUsual, true);
	near(stalledHeat({ ...four, ballasted: true }, {}).watts, 12.6 ** 2 / 3.1);
	const own = stalledHeat(four, { coilOhm: fact("3.3", "ohm"), leadOhm: fact("0.2", "ohm"), stoppedVolts: fact("12.2", "V") });
	near(own.watts, 12.2 ** 2 / 3.5);
	assert.equal(own.isUsual, false);
});

test("changes tried on paper leave the car as it is", () => {
	const { input } = sweepIn(four, { coilOhm: fact("3.1") }, { dwell: 60 }, [1000], [], "");
	const tried = changedIn(input, { coil: "ballasted", ballastOhm: 1.6, dwellDistDeg: 50, gapMm: 0.9 });
	assert.deepEqual([tried.coil.primaryOhm, tried.coil.inductanceMilliH, tried.coil.ballastOhm, tried.points.dwellDistDeg, tried.plug.gapMm], [1.5, 6, 1.6, 50, 0.9]);
	assert.equal(changedIn(input, { coil: "ballasted", primaryOhm: 0.7 }).coil.primaryOhm, 0.7);
	assert.equal(input.coil.primaryOhm, 3.1);
	assert.equal(isChanged({ coil: "" }), false);
	assert.equal(isChanged({ dwellDistDeg: 55 }), true);
	const { drawn, table } = speedsFor(4500);
	assert.deepEqual(table, [500, 1000, 2000, 3000, 4000]);
	assert.ok(table.every((speed) => drawn.includes(speed)) && drawn.at(-1) === 4500 && drawn.every((speed, i) => i === 0 || speed > drawn[i - 1]));
});

const stretch = (from, to, ohm) => ({ from, to, name: "", dropV: 0, ohm, limitV: null, verdict: "pass" });
const walked = (...stretches) => ({ stretches, currentA: 4, currentBy: "as measured", findings: [], verdict: "pass" });

test("what the volts page measured feeds the spark: all connections together, and only where all were measured", () => {
	const whole = walked(stretch("battery", "coilFeed", 0.05), stretch("coilFeed", "coilPoints", 3.1), stretch("coilPoints", "body", 0.02), stretch("body", "earthPost", 0.01));
	const { figures, hints } = measuredFigures(whole, false, "18 May");
	near(figures["coil.leadOhm"].value, 0.08);
	near(figures["coil.primaryOhm"].value, 3.1);
	assert.match(figures["coil.leadOhm"].words, /0\.08 Ω.*volts page.*18 May/);
	assert.deepEqual(hints, {});
	assert.equal("coil.primaryOhm" in measuredFigures({ ...whole, currentBy: "12.4 V across the coil of 3.1 Ω: 4 A" }, false, "").figures, false, "a coil whose ohms gave the current is not measured by it");
	const block = measuredFigures(walked(stretch("battery", "ballastIn", 0.05), stretch("ballastIn", "ballastOut", 1.6), stretch("ballastOut", "coilFeed", 0), stretch("coilFeed", "coilPoints", 1.5), stretch("coilPoints", "earthPost", 0.03)), true, "");
	near(block.figures["coil.leadOhm"].value, 0.08);
	near(block.figures["coil.ballastOhm"].value, 1.6);
	const part = measuredFigures(walked(stretch("battery", "coilFeed", 0.05), stretch("coilFeed", "body", 3.1), stretch("body", "earthPost", 0.01)), false, "");
	assert.equal("coil.leadOhm" in part.figures, false, "coil and points in one stretch tell neither");
	assert.match(part.hints["coil.leadOhm"], /coil, distributor terminal/i);
	const alone = walked({ ...stretch("battery", "coilFeed", 0.05), dropV: 0.2 }, { ...stretch("coilFeed", "earthPost", 3.1), dropV: 12.2 });
	near(measuredFigures(alone, false, "18 May").figures.stoppedV.value, 12.4);
	assert.match(measuredFigures(alone, false, "18 May").figures.stoppedV.words, /12\.4 V measured on the volts page, 18 May/);
	assert.equal(sweepIn(four, {}, { dwell: 60 }, [1000], [], "", measuredFigures(alone, false, "").figures).input.stoppedV, 12.4);
	assert.equal("stoppedV" in measuredFigures({ ...alone, findings: [{ code: "battery-high" }] }, false, "").figures, false, "volts this car cannot have feed nothing");
	assert.deepEqual(measuredFigures({ ...whole, findings: [{ code: "volts-rise" }] }, false, "").figures, {}, "readings that contradict each other feed nothing");
	assert.deepEqual(measuredFigures(walked(stretch("battery", "coilFeed", null)), false, "").figures, {});
});

test("own beats measured beats assumed; set aside, both stay kept and the assumed stands", () => {
	const measured = { "coil.leadOhm": { value: 0.25, words: "0.25 Ω" } };
	const given = (car) => sweepIn(four, car, { dwell: 60 }, [1000], [], "", measured).input.coil.leadOhm;
	assert.equal(given({}), 0.25);
	assert.equal(given({ leadOhm: fact("0.4", "ohm") }), 0.4);
	const apart = { leadOhm: fact("0.4", "ohm"), sparkAssumed: fact(setAside({}, "coil.leadOhm", true)) };
	assert.equal(given(apart), undefined);
	assert.equal(apart.leadOhm.value, "0.4");
	assert.equal(given({ ...apart, sparkAssumed: fact(setAside(apart, "coil.leadOhm", false)) }), 0.4);
	assert.equal(sweepIn(four, { ...apart, coilOhm: fact("3.3", "ohm") }, { dwell: 60 }, [1000], [], "").input.coil.primaryOhm, 3.3, "the others stand");
	assert.equal(sweepIn(four, { runningVolts: fact("14.2"), sparkAssumed: fact("supplyV") }, { dwell: 60 }, [1000], [], "").input.supplyV, 13.8);
});

test("every figure that coil.sweep assumes can be this car's own", () => {
	const paths = new Set(sparkFields().map(({ path }) => path));
	for (const path of ["supplyV", "stoppedV", "coil.primaryOhm", "coil.ballastOhm", "coil.leadOhm", "coil.inductanceMilliH", "coil.turnsRatio", "coil.condenserMicroF", "coil.secondaryPicoF", "plug.gapMm", "plug.leakMegaOhm", "points.maxA",
		"engine.compressionRatio", "engine.manifoldKPa", "engine.chargeC", "engine.sparkCrankDeg", "engine.exponent", "cranking.batteryV", "cranking.engineRPM", "cranking.crankDeg", "cranking.chargeC", "cranking.chargeKPa"]) assert.ok(paths.has(path), path);
	const { input } = sweepIn(four, { pointsMost: fact("4"), crankingAir: fact("-5"), compressionExponent: fact("1.32") }, { dwell: 60 }, [1000], [], "");
	assert.deepEqual([input.points.maxA, input.cranking.chargeC, input.engine.exponent], [4, -5, 1.32]);
	assert.match(sparkFields().find(({ key }) => key === "crankingAir").check("90", "°C", {}).limit, /-40 to 60/);
});

test("the condenser as the calculation takes it: from the condition check, with the car's coil and its own range", () => {
	const checks = { "B15.capacity": fact("0,21", "µF"), "B15.insulation": fact("x"), "B15.series": fact("2000"), "B15.pit": fact("arm"), "B15.hot": fact("") };
	const given = condenserIn(four, { coilOhm: fact("3.1", "ohm"), condenser: fact("0.5", "µF", "book"), "limit.B15.capacity.most": fact("0.3", "µF", "book") }, checks);
	assert.deepEqual(given, { supplyV: 13.8, earth: "positive", coil: { primaryOhm: 3.1, ballastOhm: 0 }, condenserMicroF: 0.21, pit: "arm", ownMaxMicroF: 0.3 });
	assert.equal(condenserIn({ ...four, ballasted: true }, {}, {}).coil.ballastOhm, 1.5);
	assert.equal(condenserIn({ ...four, nominalV: 6 }, {}, {}).supplyV, 6.9);
	assert.equal(condenserIn({ ...four, nominalV: null }, {}, {}), null);
});
