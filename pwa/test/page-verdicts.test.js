// A fail on one page is a fail on the car's page and in the order of work.

import "fake-indexeddb/auto";
import { openDoor } from "./door.js";
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { garage } from "../app/js/kept/garage.js";
import { dabchick } from "../app/js/garage/demos/dabchick.js";
import { pageVerdicts } from "../app/js/state/page-verdicts.js";
import { orderOfWork } from "../app/js/job/work-order.js";

/** @type {any} */
let close;
before(
	async () => {
		close = await openDoor();
		await garage.open();
		for (const [kind, id, body] of dabchick.documents) await garage.put(kind, id, body);
	},
	{ timeout: 240_000 },
);
after(() => close());

const given = () =>
	/** @type {any} */ ({
		car: garage.get("car", dabchick.carId),
		distributor: garage.get("distributor", dabchick.documents[0][1]),
		answers: {},
	});
const [visit] = dabchick.documents.filter(([kind]) => kind === "visit").map(([, id]) => id);
/** @param {{[key: string]: string}} values of facts of the visit @param {string} unit */
const measure = (values, unit) =>
	garage.update("visit", visit, (body) => {
		for (const [key, value] of Object.entries(values))
			body.facts[key] = { value, unit, source: "measured", note: "" };
	});
const step = async (/** @type {string} */ wanted) =>
	(await orderOfWork(dabchick.carId)).steps.find(({ id }) => id === wanted);

test("half a volt lost in the switch is a fail, wherever it is shown", async () => {
	const { volts, points, vacuum } = await pageVerdicts(given());
	assert.deepEqual([volts?.verdict, points?.verdict, vacuum], ["fail", "pass", null]);
});

test("the feed and the coil are links of the order of work", async () => {
	const [feed, spark] = [await step("feed"), await step("spark")];
	assert.deepEqual([feed?.verdict, feed?.state], ["fail", "again"]);
	assert.deepEqual([spark?.verdict, spark?.state], ["pass", "done"]);
});

test("dwell that wanders over speed fails the points in the order of work too", async () => {
	assert.deepEqual([(await step("points"))?.verdict, (await step("points"))?.state], ["pass", "done"]);
	await measure({ "points.fast.dwell": "45" }, "distributor degrees");
	assert.equal((await pageVerdicts(given())).points?.verdict, "fail");
	const points = await step("points");
	assert.equal(points?.verdict, "fail");
	assert.notEqual(points?.state, "done");
});

test("a capsule that leaks fails the order of work", async () => {
	assert.equal((await step("vacuum"))?.verdict ?? "", "");
	await garage.update("distributor", given().distributor.id, (body) => {
		body.facts.vacuumPort.value = "ported";
	});
	await measure({ "capsule.hold.start": "16", "capsule.hold.end": "12" }, "inHg");
	await measure({ "capsule.hold.seconds": "20" }, "seconds");
	assert.equal((await pageVerdicts(given())).vacuum?.verdict, "fail");
	assert.equal((await step("vacuum"))?.verdict, "fail");
});
