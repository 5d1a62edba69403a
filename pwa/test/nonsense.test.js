// What cannot be read, or cannot be, gets a message with what, limit and what
// to do, and is never passed.

import assert from "node:assert/strict";
import { test } from "node:test";
import { condenserIn } from "../app/js/electrics/condenser.js";
import { carIn, figureOf, limitKey, ownLimit, resultsOf, standing } from "../app/js/condition/condition.js";
import { checks } from "../app/js/record/fact-checks.js";
import { electricsOf } from "../app/js/record/car-electrics.js";
import { factFields } from "../app/js/record/facts.js";
import { checkDoubt } from "../app/js/condition/check-doubts.js";
import { compressions } from "../app/js/record/compressions.js";
import { voltsDoubt } from "../app/js/electrics/doubts.js";

const fact = (value, unit = "", source = "measured") => ({ value, unit, source, note: "" });
const whole = (doubt, what) => {
	for (const part of ["problem", "limit", "do"]) assert.ok(doubt?.[part], `${what}: ${part}`);
};

/** Facts in free words; every other one that is typed is a figure. */
const inWords = ["story", "markMeaning", "modifications", "capsuleCheck"];
const typed = () => factFields().filter(({ kind, key }) => kind !== "choice" && !inWords.includes(key));
const car = { cylinders: fact("4"), voltage: fact("12") };

test("every fact that is a figure questions words and the absurd, in each of its units, and accepts what is usual", () => {
	/** @type {{[key: string]: {[unit: string]: [usual: string, absurd: string]}}} */
	const samples = {
		year: { "": ["1961", "19611"] },
		cylinders: { "": ["4", "400"] },
		capacity: { cc: ["1250", "9"], "cu in": ["318", "5200"] },
		stroke: { mm: ["80", "800"], in: ["3.15", "80"] },
		compressionRatio: { ": 1": ["8.3", "83"] },
		firingOrder: { "": ["1-3-4-2", "1-3-4-4"] },
		pulleyDiameter: { mm: ["130", "13"], in: ["5 1/8", "130"] },
		fuel: { RON: ["95", "950"], AKI: ["91", "9"] },
		altitude: { m: ["300", "30000"], ft: ["1000", "99999"] },
		coilOhm: { ohm: ["3.1", "3100"] },
		ballastOhm: { ohm: ["1.5", "150"] },
		condenser: { µF: ["0.2", "200"] },
		plugGap: { in: ["0.025", "25"], thou: ["25", "0.025"], mm: ["0.6", "25"] },
		feedVoltage: { V: ["12.4", "700"] },
		limitPlate: { "distributor degrees": ["13", "130"] },
		stopsAtHand: { "": ["9 11 13", "9 110"] },
		primariesAtHand: { "": ["0.8 1,25 1.5", "0.8 x"] },
		secondariesAtHand: { "": ["1.2", "12"] },
		capsuleCode: { "": ["4-12-7", "12-4-7"] },
		gap: { in: ["0.014-0.016", "15"], thou: ["15", "0.015"], mm: ["0.35 to 0.4", "15"] },
		dwell: { "distributor degrees": ["60 ±3", "600"], "%": ["66", "6"] },
		staticTiming: { "before TDC": ["8", "80"], "after TDC": ["0", "80"] },
		strobeTiming: { "before TDC": ["12", "120"], "after TDC": ["2", "80"] },
		strobeSpeed: { "engine rpm": ["800", "8"] },
		idleSpeed: { "engine rpm": ["1,000", "80000"] },
		compression: { psi: ["158-162-155-160", "1580-162-155-160"], bar: ["10,9 11,2 11 10,8", "158-162-155-160"] },
		idleVacuum: { inHg: ["18", "60"], mmHg: ["450", "900"], kPa: ["60", "120"] },
		dwellIdle: { "distributor degrees": ["59", "590"], "%": ["66", "166"] },
		dwellFast: { "distributor degrees": ["58", "0"], "%": ["65", "2"] },
		scatter: { "distributor degrees": ["1.5", "90"] },
		sidePlay: { in: ["0.002", "2"], thou: ["2", "900"], mm: ["0.05", "5"] },
	};
	for (const field of typed()) {
		assert.ok(field.check, `${field.key} is a figure without a check`);
		assert.deepEqual(
			Object.keys(samples[field.key] ?? {}).sort(),
			[...(field.units ?? [""])].sort(),
			`${field.key}: a sample in each unit`,
		);
		for (const [unit, [usual, absurd]] of Object.entries(samples[field.key])) {
			assert.equal(field.check(usual, unit, car), null, `${field.key} ${usual} ${unit}`);
			whole(field.check(absurd, unit, car), `${field.key} ${absurd} ${unit}`);
			if (field.key === "capsuleCode") continue; // a code may be a stamped name
			whole(field.check("abc", unit, car), `${field.key} abc`);
			assert.equal(field.check("  ", unit, car), null, `${field.key} empty`);
		}
		if ((field.units?.length ?? 0) > 1)
			assert.match(
				field.check(samples[field.key][/** @type {string} */ (field.units?.[0])][0], "", car)?.problem ?? "",
				/not chosen/,
				`${field.key} without a unit`,
			);
	}
});

test("what the mechanic typed: words where figures belong, 700 V at the coil", () => {
	const of = (/** @type {string} */ key) => /** @type {any} */ (factFields().find((field) => field.key === key));
	assert.match(of("fuel").check("premium", "RON", car).do, /number/);
	for (const [key, value, unit] of [
		["altitude", "abc", "m"],
		["strobeTiming", "abc", "before TDC"],
		["staticTiming", "abc", "before TDC"],
		["pulleyDiameter", "six inches", "in"],
		["scatter", "xx", "distributor degrees"],
	])
		assert.match(of(key).check(value, unit, car).problem, /cannot be read/, key);
	assert.match(of("feedVoltage").check("700", "V", car).problem, /700/);
	assert.ok(of("feedVoltage").check("12.4", "V", { voltage: fact("6") }), "12.4 V on a 6 V car");
	assert.match(of("compression").check("158-162-155", "psi", car).problem, /3.*4/, "one cylinder is missing");
	for (const key of inWords) assert.equal(of(key).check, undefined, `${key} stays free`);
});

test("an absurd height leaves the checks as at sea level instead of stopping them", () => {
	assert.equal(electricsOf({ altitude: fact("30000", "m") }, {}).altitudeM, null);
	assert.equal("altitudeM" in carIn(electricsOf({ altitude: fact("abc", "m") }, {})), false);
	assert.equal(carIn(electricsOf({ altitude: fact("1000", "ft") }, {})).altitudeM, 305);
});

test("the book's dwell of twin points is read as a range too", () => {
	for (const bad of ["abc", "34 or so", "50"])
		whole(checks.dwellOfTwins(bad, "distributor degrees", { cylinders: fact("8") }), bad);
	for (const good of ["32-36", "27", " "])
		assert.equal(checks.dwellOfTwins(good, "distributor degrees", { cylinders: fact("8") }), null, good);
	assert.equal(checks.dwellOfTwins("80", "%", { cylinders: fact("8") }), null);
	whole(checks.dwellOfTwins("34", "", { cylinders: fact("8") }), "no unit");
});

test("a coil before a ballast of unknown ohms is not judged as the whole circuit", () => {
	for (const ballast of ["block", "resistance wire"]) {
		const doubt = checks.coilOhm("1.1", "ohm", {
			voltage: fact("12"),
			ballast: fact(ballast),
			ballastOhm: fact(""),
		});
		assert.equal(doubt?.level, "ask", ballast);
		assert.match(`${doubt?.problem} ${doubt?.do}`, /ballast’s ohms/);
		assert.doesNotMatch(doubt?.problem ?? "", /whole circuit burns/);
	}
	assert.equal(
		checks.coilOhm("1.5", "ohm", { voltage: fact("12"), ballast: fact("block"), ballastOhm: fact("a lot") })?.level,
		"ask",
		"unreadable is unknown",
	);
	assert.equal(
		checks.coilOhm("1.5", "ohm", { voltage: fact("12"), ballast: fact("block"), ballastOhm: fact("1.5") }),
		null,
	);
	assert.equal(
		checks.coilOhm("0.5", "ohm", { voltage: fact("12"), ballast: fact("block"), ballastOhm: fact("0.5") })?.level,
		"stop",
	);
	assert.equal(checks.coilOhm("1.1", "ohm", { voltage: fact("12"), ballast: fact("none") })?.level, "stop");
});

const standingVolts = {
	id: "B22.standing",
	title: "standing",
	kind: "figure",
	unit: "V",
	accept: "",
	possible: { low: 0, high: 15 },
};
const spread = { id: "B27", title: "spread", kind: "figure", unit: "%", accept: "", possible: { low: 0, high: 100 } };

test("a figure of a check that cannot be is said not to be judged, and leaves its check open", () => {
	const doubt = checkDoubt(standingVolts, fact("126", "V"), 126);
	whole(doubt, "126 V");
	assert.match(doubt.do, /not judged/);
	assert.doesNotMatch(doubt.do, /leave it/);
	assert.equal(checkDoubt(standingVolts, fact("12.6", "V"), 12.6), null);
	assert.match(voltsDoubt("126", 12, false).do, /not judged/);
	assert.doesNotMatch(voltsDoubt("26", 12, false).do, /leave it/);
	const judged = (/** @type {string} */ measure, /** @type {string} */ verdict) => ({
		measure,
		check: "B22",
		verdict,
		title: "",
		text: "",
		limitText: "",
		source: "",
		own: false,
	});
	const battery = {
		id: "B22",
		title: "",
		group: "electrics",
		place: "car",
		how: "",
		failText: "",
		measures: [standingVolts, { ...standingVolts, id: "B22.cranking" }],
	};
	const facts = { "B22.standing": fact("126", "V"), "B22.cranking": fact("10", "V") };
	assert.equal(
		standing(battery, [judged("B22.standing", "unknown"), judged("B22.cranking", "pass")], facts),
		"unknown",
	);
	assert.equal(
		standing(battery, [judged("B22.standing", "unknown"), judged("B22.cranking", "pass")], {
			"B22.cranking": fact("10"),
			"B22.skipped": fact("no time"),
		}),
		"pass",
		"skipped for a reason",
	);
});

test("compressions are read whole or not at all", () => {
	assert.deepEqual(compressions("158, 162, 155, 160 psi"), [158, 162, 155, 160]);
	assert.deepEqual(compressions("158,162,155,160"), [158, 162, 155, 160]);
	assert.deepEqual(compressions("10,9/11,2"), [10.9, 11.2]);
	for (const bad of ["158-x-155-160", "about 150", "12..5-11"]) assert.deepEqual(compressions(bad), [], bad);
	assert.equal(figureOf(spread, fact("158-?-155-160", "psi")), null, "a cylinder that is not read is not left out");
	assert.equal(figureOf(spread, fact("150-0-148-151", "psi")), 100, "a dead cylinder counts");
	assert.equal(figureOf(spread, fact("1580-1600", "psi")), null);
	whole(checkDoubt(spread, fact("1580-1600", "psi"), null), "1580 psi");
	assert.match(checkDoubt(spread, fact("1580-1600", "psi"), null).limit, /400 psi/);
});

test("a condenser of a size no condenser of this trade has is not judged", () => {
	const electrics = {
		nominalV: 12,
		earth: "negative",
		ballasted: false,
		electronic: false,
		twin: false,
		cylinders: 4,
		altitudeM: null,
	};
	assert.equal("condenserMicroF" in condenserIn(electrics, {}, { "B15.capacity": fact("12", "µF") }), false);
	assert.equal(condenserIn(electrics, {}, { "B15.capacity": fact("0.3", "µF") }).condenserMicroF, 0.3);
});

test("an own limit that cannot be is refused, and the general one stands", () => {
	const { limit, problem } = ownLimit({ [limitKey("B22.standing", "least")]: fact("124", "V") }, standingVolts);
	assert.equal(limit, null);
	whole(problem, "124 V as a limit");
	const of = { car: { [limitKey("B22.standing", "least")]: fact("124", "V") }, distributor: {} };
	const battery = {
		id: "B22",
		title: "",
		group: "electrics",
		place: "car",
		how: "",
		failText: "",
		measures: [standingVolts],
	};
	assert.deepEqual(resultsOf([battery], { "B22.standing": fact("12.5", "V") }, of), [
		{ measure: "B22.standing", value: 12.5 },
	]);
});
