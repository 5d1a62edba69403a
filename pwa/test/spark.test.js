import assert from "node:assert/strict";
import { test } from "node:test";
import { condenserIn } from "../app/js/electrics/condenser.js";
import {
	changedIn,
	isChanged,
	setAside,
	sparkFields,
	sparkFigures,
	speedsFor,
	stalledHeat,
	sweepIn,
	takenWords,
} from "../app/js/electrics/spark.js";
import { crankingFigures, measuredFigures, placesOf, supplyIn, turnedRound } from "../app/js/electrics/supply.js";
import { signDoubt } from "../app/js/electrics/doubts.js";
import { fact, near, four, checks } from "./electric-facts.js";

test("the way of this car: ballast only where there is one, and no further than the coil while cranking", () => {
	assert.deepEqual(
		placesOf(false, "cranking").map(({ id }) => id),
		["battery", "switchIn", "switchOut", "coilFeed"],
	);
	assert.ok(placesOf(true, "closed").some(({ id }) => id === "ballastOut"));
	assert.equal(placesOf(false, "closed").at(-1).id, "engine");
	const facts = {
		"closed.battery": fact("−12,6"),
		"closed.coilFeed": fact("-12.4"),
		"closed.ballastIn": fact("12"),
		"cranking.battery": fact("10"),
	};
	assert.deepEqual(supplyIn(four, "closed", facts, { coilOhm: fact("3.1") }), {
		nominalV: 12,
		earth: "positive",
		ballasted: false,
		state: "closed",
		readings: [
			{ at: "battery", volts: -12.6 },
			{ at: "coilFeed", volts: -12.4 },
		],
		coilOhm: 3.1,
	});
	assert.equal(supplyIn(four, "cranking", facts, {}), null, "the battery alone tells nothing");
	assert.equal(supplyIn({ ...four, earth: null }, "closed", facts, {}), null);
});

test("one reading of the wrong sign is named and left out, and the rest is judged", () => {
	const facts = {
		"closed.battery": fact("6.2"),
		"closed.switchIn": fact("6.1"),
		"closed.switchOut": fact("-5.9"),
		"closed.coilFeed": fact("5.8"),
		"closed.body": fact("-0.01"),
	};
	const typed = (/** @type {string} */ place) => facts[`closed.${place}`]?.value ?? "";
	assert.deepEqual([...turnedRound(false, "closed", typed)], ["switchOut"], "almost nothing has no sign");
	assert.deepEqual(
		supplyIn(four, "closed", facts, {}).readings.map(({ at }) => at),
		["battery", "switchIn", "coilFeed", "body"],
	);
	assert.match(signDoubt("-5.9").problem, /^-5\.9 V is the odd one out/);
	assert.match(signDoubt("-5.9").do, /left out; the rest is judged/);
	assert.deepEqual(
		[...turnedRound(false, "closed", (place) => ({ battery: "12.6", coilFeed: "-11.9" })[place] ?? "")],
		["coilFeed"],
		"one against one: the battery counts",
	);
	assert.deepEqual(
		[...turnedRound(false, "closed", (place) => (typed(place) ? `-${typed(place)}`.replace("--", "") : ""))],
		["switchOut"],
		"positive earth, other lead",
	);
});

test("what the spark stands on: given, taken with its reason, and out of reach said", () => {
	const car = {
		coilOhm: fact("3.1", "ohm"),
		plugGap: fact("25", "thou"),
		compressionRatio: fact("83"),
		condenser: fact("abc"),
	};
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
	assert.equal(
		"ballastGuessed" in
			sweepIn({ ...four, ballasted: true }, { ballastOhm: fact("1.6", "ohm") }, { dwell: 60 }, [1000], [], "")
				.input.coil,
		false,
	);
	assert.equal(
		"ballastGuessed" in changedIn(block.input, { ballastOhm: 1.7 }).coil,
		false,
		"tried on paper it is as tried",
	);
	assert.deepEqual(
		takenWords(["coil.turnsRatio not given: 65 to 1 taken, common practice for a plain 12 V coil", "nonsense"]),
		{ "coil.turnsRatio": "65 to 1 taken, common practice for a plain 12 V coil" },
	);
});

test("the heat named on the volts page is this car's, as the calculation works it", () => {
	near(stalledHeat({ ...four, nominalV: 6, ballasted: false }, {}).watts, 6.3 ** 2 / 1.4);
	assert.equal(stalledHeat({ ...four, nominalV: 6, ballasted: false }, {}).isUsual, true);
	near(stalledHeat({ ...four, ballasted: true }, {}).watts, 12.6 ** 2 / 3.1);
	const own = stalledHeat(four, {
		coilOhm: fact("3.3", "ohm"),
		leadOhm: fact("0.2", "ohm"),
		stoppedVolts: fact("12.2", "V"),
	});
	near(own.watts, 12.2 ** 2 / 3.5);
	assert.equal(own.isUsual, false);
});

test("changes tried on paper leave the car as it is", () => {
	const { input } = sweepIn(four, { coilOhm: fact("3.1") }, { dwell: 60 }, [1000], [], "");
	const tried = changedIn(input, { coil: "ballasted", ballastOhm: 1.6, dwellDistDeg: 50, gapMm: 0.9 });
	assert.deepEqual(
		[
			tried.coil.primaryOhm,
			tried.coil.inductanceMilliH,
			tried.coil.ballastOhm,
			tried.points.dwellDistDeg,
			tried.plug.gapMm,
		],
		[1.5, 6, 1.6, 50, 0.9],
	);
	assert.equal(changedIn(input, { coil: "ballasted", primaryOhm: 0.7 }).coil.primaryOhm, 0.7);
	assert.equal(input.coil.primaryOhm, 3.1);
	assert.equal(isChanged({ coil: "" }), false);
	assert.equal(isChanged({ dwellDistDeg: 55 }), true);
	const { drawn, table } = speedsFor(4500);
	assert.deepEqual(table, [500, 1000, 2000, 3000, 4000]);
	assert.ok(
		table.every((speed) => drawn.includes(speed)) &&
			drawn.at(-1) === 4500 &&
			drawn.every((speed, i) => i === 0 || speed > drawn[i - 1]),
	);
});

const stretch = (from, to, ohm) => ({ from, to, name: "", dropV: 0, ohm, limitV: null, verdict: "pass" });

const walked = (...stretches) => ({ stretches, currentA: 4, currentBy: "as measured", findings: [], verdict: "pass" });

test("what the volts page measured feeds the spark: all connections together, and only where all were measured", () => {
	const whole = walked(
		stretch("battery", "coilFeed", 0.05),
		stretch("coilFeed", "coilPoints", 3.1),
		stretch("coilPoints", "body", 0.02),
		stretch("body", "earthPost", 0.01),
	);
	const { figures, hints } = measuredFigures(whole, false, "18 May");
	near(figures["coil.leadOhm"].value, 0.08);
	near(figures["coil.primaryOhm"].value, 3.1);
	assert.match(figures["coil.leadOhm"].words, /0\.08 Ω.*volts page.*18 May/);
	assert.deepEqual(hints, {});
	assert.equal(
		"coil.primaryOhm" in
			measuredFigures({ ...whole, currentBy: "12.4 V across the coil of 3.1 Ω: 4 A" }, false, "").figures,
		false,
		"a coil whose ohms gave the current is not measured by it",
	);
	const block = measuredFigures(
		walked(
			stretch("battery", "ballastIn", 0.05),
			stretch("ballastIn", "ballastOut", 1.6),
			stretch("ballastOut", "coilFeed", 0),
			stretch("coilFeed", "coilPoints", 1.5),
			stretch("coilPoints", "earthPost", 0.03),
		),
		true,
		"",
	);
	near(block.figures["coil.leadOhm"].value, 0.08);
	near(block.figures["coil.ballastOhm"].value, 1.6);
	const part = measuredFigures(
		walked(
			stretch("battery", "coilFeed", 0.05),
			stretch("coilFeed", "body", 3.1),
			stretch("body", "earthPost", 0.01),
		),
		false,
		"",
	);
	assert.equal("coil.leadOhm" in part.figures, false, "coil and points in one stretch tell neither");
	assert.match(part.hints["coil.leadOhm"], /coil, distributor terminal/i);
	const alone = walked(
		{ ...stretch("battery", "coilFeed", 0.05), dropV: 0.2 },
		{ ...stretch("coilFeed", "earthPost", 3.1), dropV: 12.2 },
	);
	near(measuredFigures(alone, false, "18 May").figures.stoppedV.value, 12.4);
	assert.match(
		measuredFigures(alone, false, "18 May").figures.stoppedV.words,
		/12\.4 V measured on the volts page, 18 May/,
	);
	assert.equal(
		sweepIn(four, {}, { dwell: 60 }, [1000], [], "", measuredFigures(alone, false, "").figures).input.stoppedV,
		12.4,
	);
	assert.equal(
		"stoppedV" in measuredFigures({ ...alone, findings: [{ code: "battery-high" }] }, false, "").figures,
		false,
		"volts this car cannot have feed nothing",
	);
	assert.deepEqual(
		measuredFigures({ ...whole, findings: [{ code: "volts-rise" }] }, false, "").figures,
		{},
		"readings that contradict each other feed nothing",
	);
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
	assert.equal(
		sweepIn(four, { ...apart, coilOhm: fact("3.3", "ohm") }, { dwell: 60 }, [1000], [], "").input.coil.primaryOhm,
		3.3,
		"the others stand",
	);
	assert.equal(
		sweepIn(four, { runningVolts: fact("14.2"), sparkAssumed: fact("supplyV") }, { dwell: 60 }, [1000], [], "")
			.input.supplyV,
		13.8,
	);
});

test("every figure that coil.sweep assumes can be this car's own", () => {
	const paths = new Set(sparkFields().map(({ path }) => path));
	for (const path of [
		"supplyV",
		"stoppedV",
		"coil.primaryOhm",
		"coil.ballastOhm",
		"coil.leadOhm",
		"coil.inductanceMilliH",
		"coil.turnsRatio",
		"coil.condenserMicroF",
		"coil.secondaryPicoF",
		"plug.gapMm",
		"plug.leakMegaOhm",
		"points.maxA",
		"engine.compressionRatio",
		"engine.manifoldKPa",
		"engine.chargeC",
		"engine.sparkCrankDeg",
		"engine.exponent",
		"cranking.batteryV",
		"cranking.engineRPM",
		"cranking.crankDeg",
		"cranking.chargeC",
		"cranking.chargeKPa",
	])
		assert.ok(paths.has(path), path);
	const { input } = sweepIn(
		four,
		{ pointsMost: fact("4"), crankingAir: fact("-5"), compressionExponent: fact("1.32") },
		{ dwell: 60 },
		[1000],
		[],
		"",
	);
	assert.deepEqual([input.points.maxA, input.cranking.chargeC, input.engine.exponent], [4, -5, 1.32]);
	assert.match(
		sparkFields()
			.find(({ key }) => key === "crankingAir")
			.check("90", "°C", {}).limit,
		/−40 to 60/,
	);
});

test("the condenser as the calculation takes it: from the condition check, with the car's coil and its own range", () => {
	const checks = {
		"B15.capacity": fact("0,21", "µF"),
		"B15.insulation": fact("x"),
		"B15.series": fact("2000"),
		"B15.pit": fact("arm"),
		"B15.hot": fact(""),
	};
	const given = condenserIn(
		four,
		{
			coilOhm: fact("3.1", "ohm"),
			condenser: fact("0.5", "µF", "book"),
			"limit.B15.capacity.most": fact("0.3", "µF", "book"),
		},
		checks,
	);
	assert.deepEqual(given, {
		supplyV: 13.8,
		earth: "positive",
		coil: { primaryOhm: 3.1, ballastOhm: 0 },
		condenserMicroF: 0.21,
		pit: "arm",
		ownMaxMicroF: 0.3,
	});
	assert.equal(condenserIn({ ...four, ballasted: true }, {}, {}).coil.ballastOhm, 1.5);
	assert.equal(condenserIn({ ...four, nominalV: 6 }, {}, {}).supplyV, 6.9);
	assert.equal(condenserIn({ ...four, nominalV: null }, {}, {}), null);
});

test("volts at the coil go into the spark, unless the ohms of the connections are known", () => {
	const car = (more) => sweepIn({ ...four, nominalV: 6 }, { ...more }, { dwell: 60 }, [1000], [], "wrong").input;
	assert.equal(
		car({ feedVoltage: fact("5.4", "V") }).feed.closedV,
		5.4,
		"less than any battery: a loss, whatever the battery had",
	);
	assert.equal(car({ feedVoltage: fact("6.4", "V") }).feed, undefined, "no battery read beside it");
	assert.equal(car({ feedVoltage: fact("6.4", "V"), stoppedVolts: fact("6.5", "V") }).feed.closedV, 6.4);
	assert.equal(car({ feedVoltage: fact("5.4", "V"), leadOhm: fact("0.2", "ohm") }).feed, undefined);
	assert.deepEqual(car({ feedRunning: fact("5.9", "V"), lossLeast: fact("0.6", "share") }).losses, { shareLow: 0.6 });
	assert.equal(car({ lossLeast: fact("0.9", "share") }).losses, undefined, "a least above the most is not used");
	const read = crankingFigures({ "cranking.battery": fact("-5.1"), "cranking.coilFeed": fact("-4.2") }, "");
	assert.deepEqual([read["cranking.batteryV"].value, read["feed.crankingV"].value], [5.1, 4.2]);
	assert.deepEqual(crankingFigures({ "cranking.battery": fact("5.1") }, ""), {});
	const given = sweepIn({ ...four, nominalV: 6 }, {}, { dwell: 60 }, [1000], [], "", read).input;
	assert.deepEqual([given.cranking.batteryV, given.feed.crankingV], [5.1, 4.2]);
	assert.equal(sweepIn({ ...four, driveRatio: 1 }, {}, { dwell: 60 }, [1000], [], "").input.driveRatio, 1);
});
