import "fake-indexeddb/auto";
import { openDoor } from "./door.js";
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { objection } from "../app/js/data/procedure-run.js";
import { toReadingSet } from "../app/js/data/sheet.js";
import { procedures } from "../app/js/procedures/index.js";

/** @type {any} */
let close, judge, orderOfWork, garage;
before(async () => {
	close = await openDoor();
	({ judge } = await import("../app/js/data/procedure-judges.js"));
	({ orderOfWork } = await import("../app/js/data/work-order.js"));
	({ garage } = await import("../app/js/data/garage.js"));
	await garage.open();
}, { timeout: 240_000 });
after(() => close());

const carId = "abcdefghij0123456789";
const sheet = { angleUnit: "crank", speedUnit: "engine", base: "excluded", baseCrankDeg: "8", baseSide: "before", baseToleranceCrankDeg: "1", noAdvanceBelow: "", driveRatio: "", listedWhile: "either", limitDistDeg: "", rows: [{ rpm: "1000", min: "0", max: "2" }, { rpm: "3000", min: "18", max: "20" }] };
const given = (of, answers) => ({ car: { id: carId, body: { facts: {} } }, distributor: { body: { facts: {}, sheetSource: "book", sheet: { ...sheet, ...of } } }, answers });
const proved = (text, tolerance = "1") => judge("static", given({ baseToleranceCrankDeg: tolerance }, { static: text, "static.side": "before" }));
const step = (name) => procedures().flatMap((one) => one.steps.map((each) => ({ name: `${one.name}/${each.id}`, each }))).find((one) => one.name === name).each;

test("static timing is held against the book's range, and what is allowed is said", async () => {
	for (const [text, verdict] of [["7", "pass"], ["9", "pass"], ["9.4", "watch"], ["10", "watch"], ["6", "watch"], ["10.1", "fail"], ["5.9", "fail"]]) assert.equal((await proved(text)).verdict, verdict, text);
	const found = await proved("11.0");
	assert.match(found.text, /^The points open 11\.0° before TDC; the book has 8\.0° before TDC ± 1\.0°, so 7\.0° before TDC to 9\.0° before TDC\. A lamp reads to about 1\.0°: as near as that to the book’s figure passes\.$/);
	assert.match(found.do, /2\.0 crank degrees too early.*WITH/);
	assert.equal((await proved("8.4", "")).verdict, "pass");
	assert.equal((await proved("9.4", "")).verdict, "watch");
	assert.match((await proved("10", "")).text, /prints no tolerance/);
});

test("a figure that cannot be is refused at the step, with field, limit and what to do", () => {
	const prove = step("static/prove");
	const bad = objection(prove, { static: "120", "static.side": "before" });
	assert.deepEqual(bad, { key: "static", problem: "the points open at: 120° before TDC cannot be", limit: "up to 60 crank degrees before TDC, 40 after", do: "Read it again, and correct it. What you typed stays." });
	assert.equal(objection(prove, { static: "8", "static.side": "before" }), null);
	assert.match(objection(prove, { static: "41", "static.side": "after" }).problem, /41° after TDC cannot be/);
	assert.match(objection(prove, { static: "abc", "static.side": "before" }).problem, /“abc” cannot be read/);
	assert.match(objection(prove, {}).problem, /nothing is entered/);
	assert.match(objection(prove, { static: "8" }).problem, /side of TDC is not chosen/);
	assert.equal(objection(step("prove-tdc/touch-first"), { first: "120", "first.side": "before" }), null, "a stop may be met far from TDC");
	for (const [name, answers] of [["strobe-idle/idle", { rpm: "80000", screw: "left" }], ["points/dwell", { dwell: "300" }], ["points/gap", { gap: "150" }], ["fit/teeth", { teeth: "12.5" }], ["rotation/post", { post: "13" }]]) assert.match(objection(step(name), answers)?.problem ?? "", /cannot be/, name);
});

test("an unusable figure that is stored is left out, and the order of work stands and names it", async () => {
	const set = { id: "ssssssssss0123456789", place: "car", angleUnit: "crank", speedUnit: "engine", base: "included", vacuum: "off", readingErrorCrankDeg: "", staticCrankDeg: "120", staticSide: "before", readings: [{ id: "r1", rpm: "1000", deg: "9", side: "before", direction: "rising", at: "" }, { id: "r2", rpm: "90000", deg: "12", side: "before", direction: "rising", at: "" }] };
	const taken = toReadingSet(set);
	assert.deepEqual([taken.staticCrankDeg, taken.points.length], [undefined, 1]);
	await garage.put("distributor", "dddddddddd0123456789", { name: "", typeNumber: "", facts: { dwellIdle: { value: "38", unit: "distributor degrees", source: "measured", note: "" }, dwellFast: { value: "400", unit: "distributor degrees", source: "measured", note: "" } }, sheet, sheetSource: "" });
	await garage.put("car", carId, { name: "Six", owner: "", distributorId: "dddddddddd0123456789", facts: { cylinders: { value: "6", unit: "", source: "book", note: "" } }, demo: false });
	await garage.put("visit", "vvvvvvvvvv0123456789", { carId, distributorId: "dddddddddd0123456789", date: "2024-05-18", title: "", notes: "", sets: [set], facts: {} });
	const order = await orderOfWork(carId);
	assert.equal(order.steps.length, 9);
	const said = order.leftOut.map(({ text }) => text).join("\n");
	assert.match(said, /Static figure 120° before TDC cannot be: at most 60 before, 40 after\. Left out/);
	assert.match(said, /Reading 12\.0° at 90.000 cannot be/);
	assert.match(said, /Points: .*Left out/);
	assert.equal(order.leftOut[0].href, `#/car/${carId}/readings/vvvvvvvvvv0123456789/ssssssssss0123456789`);
});
