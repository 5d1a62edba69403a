import "fake-indexeddb/auto";
import { openDoor } from "./door.js";
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { objection } from "../app/js/bay/procedure-run.js";
import { toReadingSet } from "../app/js/record/sheet.js";
import { procedures } from "../app/js/bay/procedures/index.js";

/** @type {any} */
let close, judge, judgeStep, orderOfWork, garage, commitStep, work, lastFact, coilWatch;
before(
	async () => {
		close = await openDoor();
		({ judge, judgeStep } = await import("../app/js/bay/procedure-judges.js"));
		({ orderOfWork } = await import("../app/js/job/work-order.js"));
		({ garage } = await import("../app/js/kept/garage.js"));
		({ commitStep } = await import("../app/js/bay/procedure-commit.js"));
		work = await import("../app/js/safety/standing.js");
		({ lastFact } = await import("../app/js/record/visit-facts.js"));
		({ coilWatch } = await import("../app/js/safety/coil-watch.js"));
		await garage.open();
	},
	{ timeout: 240_000 },
);
after(() => close());

const carId = "abcdefghij0123456789";
const sheet = {
	angleUnit: "crank",
	speedUnit: "engine",
	base: "excluded",
	baseCrankDeg: "8",
	baseSide: "before",
	baseToleranceCrankDeg: "1",
	noAdvanceBelow: "",
	driveRatio: "",
	listedWhile: "either",
	limitDistDeg: "",
	rows: [
		{ rpm: "1000", min: "0", max: "2" },
		{ rpm: "3000", min: "18", max: "20" },
	],
};
const given = (of, answers) => ({
	car: { id: carId, body: { facts: {} } },
	distributor: { body: { facts: {}, sheetSource: "book", sheet: { ...sheet, ...of } } },
	answers,
});
const proved = (text, tolerance = "1") =>
	judge("static", given({ baseToleranceCrankDeg: tolerance }, { static: text, "static.side": "before" }));
const step = (name) =>
	procedures()
		.flatMap((one) => one.steps.map((each) => ({ name: `${one.name}/${each.id}`, each })))
		.find((one) => one.name === name).each;

test("static timing is held against the book's range, and what is allowed is said", async () => {
	for (const [text, verdict] of [
		["7", "pass"],
		["9", "pass"],
		["9.4", "watch"],
		["10", "watch"],
		["6", "watch"],
		["10.1", "fail"],
		["5.9", "fail"],
	])
		assert.equal((await proved(text)).verdict, verdict, text);
	const found = await proved("11.0");
	assert.match(
		found.text,
		/^The points open 11\.0° before TDC; the book has 8\.0° before TDC ± 1\.0°, so 7\.0° before TDC to 9\.0° before TDC\. A test lamp reads to about 1\.0°: as near as that to the book’s figure passes\.$/,
	);
	assert.match(found.do, /2\.0 crank degrees too early.*WITH/);
	assert.equal((await proved("8.4", "")).verdict, "pass");
	assert.equal((await proved("9.4", "")).verdict, "watch");
	assert.match((await proved("10", "")).text, /prints no tolerance/);
});

test("the book's figure says what it prints, and what can be between its rows and beside them", async () => {
	const { advanceBands, bookFigure, totalBands } = await import("../app/js/record/book-band.js");
	/** @type {Spec} */
	const six = {
		angleUnit: "crank",
		speedUnit: "engine",
		base: "included",
		baseCrankDeg: 6,
		baseToleranceCrankDeg: 1,
		points: [
			{ rpm: 1000, minDeg: 8, maxDeg: 12 },
			{ rpm: 3000, minDeg: 26, maxDeg: 30 },
		],
	};
	const { rows, range } = await bookFigure(six, "total", 4000);
	assert.deepEqual(
		rows.map(({ engineRPM, minCrankDeg, maxCrankDeg }) => [engineRPM, minCrankDeg, maxCrankDeg]),
		[
			[1000, 8, 12],
			[3000, 26, 30],
		],
	);
	const at = (/** @type {number} */ rpm) => /** @type {any} */ (range.find(({ engineRPM }) => engineRPM === rpm));
	assert.ok(
		at(2000).minCrankDeg < 17 - 0.5 || at(2000).maxCrankDeg > 21 + 0.5,
		"between rows more can be than the straight line",
	);
	assert.deepEqual(
		[at(500).isOutside, at(1000).isOutside, at(2000).isOutside, at(4000).isOutside],
		[true, false, false, true],
	);
	assert.ok(
		range.every(({ minCrankDeg, maxCrankDeg }) => Number.isFinite(minCrankDeg) && minCrankDeg <= maxCrankDeg),
	);
	const open = await bookFigure({ ...six, points: [...six.points, { rpm: 5000, maxDeg: 34 }] }, "total");
	assert.deepEqual(
		open.rows.at(-1) && [open.rows.at(-1)?.minCrankDeg, open.rows.at(-1)?.maxCrankDeg],
		[null, 34],
		"what the book does not name is not drawn as named",
	);
	const [rest] = await totalBands(
		{ ...six, base: "excluded", baseToleranceCrankDeg: 0, noAdvanceBelowRPM: 800 },
		[400],
	);
	assert.deepEqual([rest.leastCrankDeg, rest.mostCrankDeg], [6, 6], "no advance below it is said by the book");
	assert.deepEqual(await bookFigure({ ...six, base: "excluded", baseCrankDeg: undefined }, "total"), {
		rows: [],
		range: [],
	});
	const [idle] = await totalBands(six, [650]);
	assert.ok(idle.silent && Math.abs(Number(idle.leastCrankDeg) - 5) < 0.2, `${idle.leastCrankDeg}`);
	const [alone] = await advanceBands({ ...six, base: "excluded", baseToleranceCrankDeg: 2 }, [2000]);
	assert.deepEqual([alone.minCrankDeg, alone.maxCrankDeg], [17, 21], "the table's alone");
});

test("a strobe reading below the book's first speed is not failed for it", async () => {
	const low = {
		rows: [
			{ rpm: "1000", min: "8", max: "12" },
			{ rpm: "3000", min: "26", max: "30" },
		],
		base: "included",
		baseCrankDeg: "6",
		baseToleranceCrankDeg: "",
	};
	const read = (deg) => judge("strobe", given(low, { rpm: "650", deg, "deg.side": "before" }));
	assert.match(
		(await read("6")).text,
		/no figure in the book at this speed; 6\.0–([89]|1[012])\.\d° crank is possible/,
	);
	assert.equal((await read("3")).verdict, "fail");
});

test("a figure that cannot be is refused at the step, with field, limit and what to do", () => {
	const prove = step("static/prove");
	const bad = objection(prove, { static: "120", "static.side": "before" });
	assert.deepEqual(bad, {
		key: "static",
		problem: "the points open at: 120° before TDC cannot be",
		limit: "up to 60 crank degrees before TDC, 40 after",
		do: "Read it again, and correct it. What you typed stays.",
	});
	assert.equal(objection(prove, { static: "8", "static.side": "before" }), null);
	assert.match(objection(prove, { static: "41", "static.side": "after" }).problem, /41° after TDC cannot be/);
	assert.match(objection(prove, { static: "abc", "static.side": "before" }).problem, /“abc” cannot be read/);
	assert.match(objection(prove, {}).problem, /nothing is entered/);
	assert.match(objection(prove, { static: "8" }).problem, /side of TDC is not chosen/);
	assert.equal(
		objection(step("prove-tdc/touch-first"), { first: "120", "first.side": "before" }),
		null,
		"a stop may be met far from TDC",
	);
	for (const [name, answers] of [
		["strobe-idle/idle", { rpm: "80000", screw: "left" }],
		["points/dwell", { dwell: "400" }],
		["points/gap", { gap: "150" }],
		["fit/teeth", { teeth: "12.5" }],
		["rotation/post", { post: "13" }],
	])
		assert.match(objection(step(name), answers)?.problem ?? "", /cannot be/, name);
});

test("an unusable figure that is stored is left out, and the order of work stands and names it", async () => {
	const set = {
		id: "ssssssssss0123456789",
		place: "car",
		angleUnit: "crank",
		speedUnit: "engine",
		base: "included",
		vacuum: "off",
		readingErrorCrankDeg: "",
		staticCrankDeg: "120",
		staticSide: "before",
		readings: [
			{ id: "r1", rpm: "1000", deg: "9", side: "before", direction: "rising", at: "" },
			{ id: "r2", rpm: "90000", deg: "12", side: "before", direction: "rising", at: "" },
		],
	};
	const taken = toReadingSet(set);
	assert.deepEqual([taken.staticCrankDeg, taken.points.length], [undefined, 1]);
	await garage.put("distributor", "dddddddddd0123456789", {
		name: "",
		typeNumber: "",
		facts: {
			dwellIdle: { value: "38", unit: "distributor degrees", source: "measured", note: "" },
			dwellFast: { value: "400", unit: "distributor degrees", source: "measured", note: "" },
		},
		sheet,
		sheetSource: "",
	});
	await garage.put("car", carId, {
		name: "Six",
		owner: "",
		distributorId: "dddddddddd0123456789",
		facts: { cylinders: { value: "6", unit: "", source: "book", note: "" } },
		demo: false,
	});
	await garage.put("visit", "vvvvvvvvvv0123456789", {
		carId,
		distributorId: "dddddddddd0123456789",
		date: "2024-05-18",
		title: "",
		notes: "",
		sets: [set],
		facts: {},
	});
	const order = await orderOfWork(carId);
	assert.equal(order.steps.length, 11);
	const said = order.leftOut.map(({ text }) => text).join("\n");
	assert.match(said, /Static figure 120° before TDC cannot be: up to 60° before TDC, 40° after\. Left out/);
	assert.match(said, /Reading 12\.0° at 90.000 cannot be/);
	assert.match(said, /Points: .*Left out/);
	assert.equal(order.leftOut[0].href, `#/car/${carId}/readings/vvvvvvvvvv0123456789/ssssssssss0123456789`);
});

const fact = (value, unit, source) => ({ value, unit, source, note: "" });
const four = (facts, answers) => ({
	car: { id: carId, body: { facts: { cylinders: fact("4", "", "book"), ...facts } } },
	distributor: {
		body: {
			facts: { gap: fact("14-16", "thou", "book"), dwell: fact("57-63", "distributor degrees", "book") },
			sheet,
			sheetSource: "",
		},
	},
	answers,
});

test("no verdict stands at a step before its own figure is in", async () => {
	const at = (name, answers) => judgeStep(step(name), four({}, answers));
	assert.equal(await at("points/dwell", { gap: "15" }), null);
	assert.equal(await at("points/dwell-fast", { gap: "15", dwell: "60" }), null);
	assert.equal((await at("points/dwell", { gap: "15", dwell: "60" })).verdict, "pass");
	assert.equal((await at("points/dwell-fast", { gap: "15", dwell: "60", fast: "55" })).verdict, "fail");
	const strobe = { rpm: "800", deg: "8", "deg.side": "before" };
	assert.equal(await at("strobe-idle/again", strobe), null);
	const after = await at("strobe-idle/again", {
		...strobe,
		rpmAgain: "800",
		degAgain: "13",
		"degAgain.side": "before",
	});
	assert.match(after.text, /^13\.0° before TDC/, "the reading after tightening is judged, not the one before");
});

test("fires only as the key is let go: a car without a ballast hears nothing of one", async () => {
	const at = (ballast, answers = {}) =>
		judge("firstStart", four(ballast ? { ballast: fact(ballast, "", "book") } : {}, { how: "keyOff", ...answers }));
	const none = await at("none");
	assert.equal(none.verdict, "fail");
	assert.doesNotMatch(`${none.text} ${none.do}`, /ballast/);
	assert.match(none.do, /cranking volts.*ignition switch.*start position/);
	assert.doesNotMatch(step("first-start/how").onFail.join(" "), /ballast/);
	assert.match((await at("block")).text, /past the ballast/);
	assert.match((await at("")).do, /With a ballast.*Without one/);
	assert.doesNotMatch((await at("", { ballast: "none" })).do, /ballast/, "as it was answered on the way");
});

test("idle is held against the car's own figure, and a reading does not write over it", async () => {
	const at = (rpm, own) =>
		judge("idleSpeed", four(own ? { idleSpeed: fact(own, "engine rpm", "book") } : {}, { rpm }));
	for (const [rpm, verdict] of [
		["650", "pass"],
		["700", "pass"],
		["600", "pass"],
		["710", "watch"],
		["590", "watch"],
		["1000", "watch"],
	])
		assert.equal((await at(rpm, "650")).verdict, verdict, rpm);
	const wide = await at("1000", "650");
	assert.match(wide.text, /own figure is 650 \(book\), 50 either side allowed \(common practice\): 350 too fast/);
	for (const [rpm, verdict] of [
		["1000", "pass"],
		["450", "watch"],
		["1200", "watch"],
	])
		assert.equal((await at(rpm, "")).verdict, verdict, `${rpm}, no figure known`);

	const id = "iiiiiiiiii0123456789";
	await garage.put("car", id, {
		name: "Idler",
		owner: "",
		distributorId: "",
		facts: { idleSpeed: fact("650", "engine rpm", "book") },
		demo: false,
	});
	const car = garage.get("car", id);
	await commitStep(
		car,
		procedures().find(({ name }) => name === "idle"),
		step("idle/set"),
		{ step: "set", answers: { rpm: "820" }, begun: "" },
		null,
	);
	assert.deepEqual(garage.get("car", id).body.facts.idleSpeed, fact("650", "engine rpm", "book"));
	assert.equal(lastFact(id, "idleSpeed").fact.value, "820");
});

test("switched off at the coil watch it is off on the restore list of that car alone, and the other way round", async () => {
	const cars = await Promise.all(
		["kkkkkkkkkk0123456781", "kkkkkkkkkk0123456782"].map(async (id) => {
			await garage.put("car", id, { name: "Twin", owner: "", distributorId: "", facts: {}, demo: false });
			return garage.get("car", id);
		}),
	);
	const on = (car) => work.standing(car.id).map(({ id }) => id);
	const settled = () => new Promise((done) => setTimeout(done, 50));
	const ignition = () =>
		commitStep(
			cars[0],
			procedures().find(({ name }) => name === "static"),
			step("static/ignition"),
			{ step: "ignition", answers: {}, begun: "" },
			null,
		);
	await work.undo(cars[1], ["ignition-on"]);
	await ignition();
	assert.deepEqual([on(cars[0]), coilWatch.now()?.carId], [["ignition-on"], cars[0].id]);
	work.ignitionOff();
	await settled();
	assert.deepEqual([on(cars[0]), on(cars[1]), coilWatch.now()], [[], ["ignition-on"], null]);

	await ignition();
	await work.putBack(cars[1], ["ignition-on"]);
	assert.ok(coilWatch.now(), "another car’s tick stops nothing");
	await work.putBack(cars[0], ["ignition-on"]);
	assert.deepEqual([on(cars[0]), coilWatch.now()], [[], null]);
});
