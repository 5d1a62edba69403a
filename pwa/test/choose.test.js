// Choosing a curve: what was heard as the calculations take it, the engine as it
// is known, and a curve that was taken as the car's own.

import "fake-indexeddb/auto";
import assert from "node:assert/strict";
import { test } from "node:test";
Object.assign(globalThis, { BroadcastChannel: undefined });
const { garage } = await import("../app/js/kept/garage.js");
const { engineOf, idleAt, missingOf } = await import("../app/js/choose/engine-input.js");
const { blankListening, keepListening, listened, listeningProblem, recordsOf, setListeningRemoved } =
	await import("../app/js/choose/listenings.js");
const { sheetOf, takeCurve, useBook } = await import("../app/js/choose/chosen-sheet.js");
const { presentCurve, capsuleAsked } = await import("../app/js/choose/present-curve.js");
const { sheetInUse, toSpec } = await import("../app/js/record/sheet.js");
const { specOf, bookStatic, partsAtHand } = await import("../app/js/record/known.js");
const { cardOf } = await import("../app/js/card/card.js");
const { demos } = await import("../app/js/garage/demo.js");

await garage.open();

const ridgeway = demos.find(({ carId }) => carId === "demoridgewayv8car000");
for (const [kind, id, body] of ridgeway.documents) await garage.put(kind, id, body);
const given = () => {
	const car = garage.get("car", ridgeway.carId);
	return { car, distributor: garage.get("distributor", car.body.distributorId), answers: {} };
};

test("nothing of the engine is guessed: compression, chamber, fuel with its scale, size", async () => {
	assert.deepEqual(missingOf(given()), []);
	const { engine, fuel, air } = engineOf(given());
	assert.deepEqual(engine, {
		displacementCc: 5200,
		cylinders: 8,
		compressionRatio: 9.6,
		chamber: "wedge",
		cam: "mild",
	});
	assert.deepEqual([fuel, air], [{ octane: 98, scale: "RON" }, { altitudeM: 300 }]);
	const { idleEngineRPM, idleVacuumKPa } = idleAt(given());
	assert.equal(idleEngineRPM, 750);
	assert.ok(Math.abs(idleVacuumKPa - 14 * 3.386389) < 0.01, `${idleVacuumKPa}`);
	const without = structuredClone(given());
	delete without.car.body.facts.compressionRatio;
	without.car.body.facts.fuel.unit = "";
	assert.deepEqual(missingOf(without), ["compressionRatio", "fuel"]);
	assert.equal(engineOf(without), null);
	without.car.body.facts.chamber.value = "round";
	assert.deepEqual(missingOf(without), ["compressionRatio", "chamber", "fuel"]);
});

test("litres, cubic inches and feet are what they are", () => {
	const other = structuredClone(given());
	Object.assign(other.car.body.facts.capacity, { value: "5,2", unit: "" });
	assert.equal(engineOf(other).engine.displacementCc, 5200);
	Object.assign(other.car.body.facts.capacity, { value: "317", unit: "cu in" });
	assert.ok(Math.abs(engineOf(other).engine.displacementCc - 5194.7) < 0.1);
	Object.assign(other.car.body.facts.altitude, { value: "1000", unit: "ft" });
	assert.ok(Math.abs(engineOf(other).air.altitudeM - 304.8) < 1e-9);
});

const heard = {
	...blankListening(),
	rpm: "3000",
	deg: "38",
	heard: "trace",
	octane: "98",
	scale: "RON",
	distributor: "sound",
};

test("a listening is whole or says what is missing", () => {
	assert.equal(listeningProblem(heard), null);
	for (const [change, field] of [
		[{ rpm: "" }, "rpm"],
		[{ rpm: "30" }, "rpm"],
		[{ deg: "9O" }, "deg"],
		[{ deg: "71" }, "deg"],
		[{ octane: "20" }, "octane"],
		[{ scale: "" }, "scale"],
		[{ heard: "" }, "heard"],
		[{ vacuum: "30" }, "vacuum"],
		[{ airC: "99" }, "airC"],
		[{ kind: "best" }, "how"],
	])
		assert.equal(listeningProblem({ ...heard, ...change })?.field, field, JSON.stringify(change));
});

test("what was heard is evidence as it was said; taken out it counts no more, and comes back", async () => {
	const { car } = given();
	await keepListening(car, heard);
	await keepListening(car, {
		...heard,
		id: "second0000000000",
		rpm: "2000",
		vacuum: "12",
		heard: "rattle",
		distributor: "scattered",
		earliest: "2.4",
		airC: "25",
	});
	await keepListening(car, { ...heard, id: "third00000000000", kind: "best", how: "hill-time", deg: "30" });
	await keepListening(car, { ...heard, id: "notwhole00000000", rpm: "" });
	assert.equal(listened(car.id).length, 4);
	const { knock, best } = recordsOf(car.id);
	assert.deepEqual(best, [
		{ engineRPM: 3000, load: 1, crankDeg: 30, fuel: { octane: 98, scale: "RON" }, how: "hill-time" },
	]);
	const rattle = knock.find((one) => one.heard === "rattle");
	assert.equal(knock.length, 2);
	assert.ok(Math.abs(rattle.vacuumKPa - 40.64) < 0.01);
	assert.deepEqual(
		[rattle.distributor, rattle.earliestCrankDeg, rattle.air],
		["scattered", 2.4, { temperatureC: 25 }],
	);
	const [first] = listened(car.id).filter(({ one }) => one.heard === "trace" && one.kind === "knock" && one.rpm);
	await setListeningRemoved(first, true);
	assert.equal(recordsOf(car.id).knock.length, 1);
	await setListeningRemoved(first, false);
	assert.equal(recordsOf(car.id).knock.length, 2);
});

const spec = {
	angleUnit: "crank",
	speedUnit: "engine",
	base: "included",
	baseCrankDeg: 12,
	baseToleranceCrankDeg: 1,
	noAdvanceBelowRPM: 900,
	limitDistDeg: 11,
	points: [
		{ rpm: 1300, minDeg: 13.04, maxDeg: 16 },
		{ rpm: 3000, minDeg: 32, maxDeg: 34 },
	],
};

test("a chosen curve is read as it was made, and is what everything is judged by; the book stays", async () => {
	const { spec: read, problem } = toSpec(sheetOf(spec));
	assert.equal(problem, null);
	assert.deepEqual(read, { ...spec, points: [{ rpm: 1300, minDeg: 13, maxDeg: 16 }, spec.points[1]] });
	const book = specOf(given());
	await takeCurve(ridgeway.carId, spec, "base 12, stop 11");
	assert.deepEqual(specOf(given()), read);
	assert.equal(bookStatic(given()).crankDeg, 12);
	assert.equal(bookStatic(given()).source, "chosen curve");
	const { car, distributor } = given();
	const card = cardOf({ car, distributor, visits: garage.visits({ carId: car.id }) });
	assert.deepEqual(card.spec, read);
	assert.match(card.specSource, /^Chosen for this engine on .*, not the book’s: base 12, stop 11/);
	assert.equal(card.car.facts.chosenCurve.value, "in use");
	await useBook(ridgeway.carId, true);
	assert.deepEqual(specOf(given()), book);
	assert.equal(sheetInUse(given()), given().distributor.body.sheet);
	await useBook(ridgeway.carId, false);
	assert.deepEqual(specOf(given()), read);
	await useBook(ridgeway.carId, true);
});

test("the present curve is the strobe's, with the capsule whose code somebody has explained", () => {
	const { name, curve } = presentCurve(given());
	assert.equal(name, "on the car");
	assert.deepEqual(curve.points[0], { engineRPM: 900, crankDeg: 12 });
	assert.deepEqual(curve.points.at(-1), { engineRPM: 4200, crankDeg: 40 });
	assert.equal(curve.capsuleMostDistDeg, 10);
	assert.ok(Math.abs(curve.capsuleStartKPa - 6 * 3.386389) < 1e-6, `${curve.capsuleStartKPa}`);
	assert.ok(Math.abs(curve.capsuleFullKPa - 15 * 3.386389) < 1e-6, `${curve.capsuleFullKPa}`);
	assert.equal(curve.pipeAtIdle, true);
	const unit = (/** @type {(facts: any) => void} */ change) => {
		const other = structuredClone(given());
		change(other.distributor.body.facts);
		return other;
	};
	const off = unit((facts) => (facts.vacuumPort.value = "nowhere"));
	assert.equal(presentCurve(off).curve.capsuleMostDistDeg, undefined);
	const unsaid = unit((facts) => delete facts.capsuleMeaning);
	assert.equal(presentCurve(unsaid).curve.capsuleMostDistDeg, undefined, "what its numbers mean is not guessed");
	assert.equal(capsuleAsked(unsaid.distributor.body.facts), true);
	assert.equal(capsuleAsked(given().distributor.body.facts), false);
	const typed = unit((facts) => (facts.capsuleMost = { value: "7,5", unit: "", source: "measured", note: "" }));
	assert.equal(presentCurve(typed).curve.capsuleMostDistDeg, 7.5);
});

test("parts at hand are read as typed, stay at home, and are what a repair may choose from", () => {
	const facts = Object.fromEntries(
		[
			["stopsAtHand", "9; 11 13,5"],
			["primariesAtHand", "0,8 1.25, 1.5"],
			["secondariesAtHand", "none"],
		].map(([key, value]) => [key, { value, unit: "", source: "measured", note: "" }]),
	);
	assert.deepEqual(partsAtHand(facts), { primarySprings: [0.8, 1.25, 1.5], stopsDistDeg: [9, 11, 13.5] });
	assert.deepEqual(partsAtHand(undefined), {});
	const { car, distributor } = structuredClone(given());
	Object.assign(distributor.body.facts, facts);
	assert.doesNotMatch(JSON.stringify(cardOf({ car, distributor, visits: [] })), /AtHand/);
});
