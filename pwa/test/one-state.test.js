// A car with one thing wrong stands the same in the garage's list, on its own
// page, on its card and in the link made of that; and what comes next is that.

import "fake-indexeddb/auto";
import { openDoor } from "./door.js";
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { after, before, test } from "node:test";
import { cardOf } from "../app/js/card/card.js";
import { call } from "../app/js/engine/client.js";
import { dabchick } from "../app/js/garage/demos/dabchick.js";
import { standAndNext } from "../app/js/job/next-step.js";
import { garage } from "../app/js/kept/garage.js";

const { sound, failures } = JSON.parse(readFileSync(new URL("../../testdata/states.json", import.meta.url), "utf8"));

/** @type {any} */
let close;
before(
	async () => {
		close = await openDoor();
		await garage.open();
	},
	{ timeout: 240_000 },
);
after(() => close());

/** Puts the sound car in the garage, changed. @param {number} n @param {any} wrong @returns {Promise<Doc<Car>>} */
async function carWith(n, { change = {}, readings = null } = {}) {
	const other = (/** @type {string} */ id) => `${id.slice(0, -2)}${String(n).padStart(2, "0")}`;
	for (const [kind, id, made] of dabchick.documents) {
		const body = JSON.parse(
			JSON.stringify(made).replaceAll(/demodabchickten6(vcar|dist|vis0)/g, (each) => other(each)),
		);
		for (const [key, [value, unit]] of Object.entries({ ...sound[kind], ...change[kind] }))
			body.facts[key] = { value, unit, source: "measured", note: "" };
		if (kind === "visit" && readings)
			body.sets[0].readings = readings.map(([rpm, deg], /** @type {number} */ i) => ({
				...body.sets[0].readings[i],
				rpm,
				deg: String(Math.abs(Number(deg))),
				side: Number(deg) < 0 ? "after" : "before",
			}));
		await garage.put(kind, other(id), body);
	}
	return /** @type {Doc<Car>} */ (garage.get("car", other(dabchick.carId)));
}

test("the sound car passes, and its work goes on", async () => {
	const { state, next } = await standAndNext(await carWith(1));
	assert.deepEqual([state?.verdict, state?.part], ["pass", "verdict"], JSON.stringify(state));
	assert.notEqual(next?.isFirst, true);
});

failures.forEach((/** @type {any} */ wrong, /** @type {number} */ i) => {
	test(`${wrong.name}: ${wrong.part} fails, everywhere`, async () => {
		const car = await carWith(i + 2, wrong);
		const { state, next } = await standAndNext(car);
		assert.deepEqual([state?.verdict, state?.part], ["fail", wrong.part], JSON.stringify(state));
		assert.equal(next?.isFirst, true, JSON.stringify(next));
		const visits = garage.visits({ carId: car.id });
		const distributor = garage.get("distributor", car.body.distributorId);
		const card = cardOf({ car, distributor, visits }, { stands: { state, next } });
		const { fragment } = await call("card.link", { card });
		const opened = await call("card.open", { fragment });
		assert.deepEqual(opened.card.state, { verdict: "fail", summary: state?.summary, next: next?.label });
	});
});
