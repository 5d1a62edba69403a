// What is read of dwell and base over the years goes to record.drift as it was read.

import assert from "node:assert/strict";
import { test } from "node:test";
import { baseInput, dwellInput } from "../app/js/history/drift.js";
import { emptySheet } from "../app/js/record/sheet.js";
import { milesOf } from "../app/js/electrics/clock-distance.js";

const fact = (/** @type {string} */ value, unit = "") => ({ value, unit, source: "measured", note: "" });
/** @param {string} date @param {any} facts @param {any} [more] */
const visit = (date, facts, more = {}) =>
	/** @type {any} */ ({ id: date, body: { date, facts, sets: [], events: [], ...more } });
/** @param {any} facts @param {any} [sheet] */
const given = (facts, sheet = emptySheet()) =>
	/** @type {any} */ ({
		car: { body: { facts: { cylinders: fact("4") } } },
		distributor: { body: { facts, sheet } },
		answers: {},
	});

test("dwell in percent and degrees, km and miles, found and left, new points", () => {
	const visits = [
		visit("2026-06-01", {
			"points.dwell": fact("62"),
			"points.dwellLeft": fact("60"),
			odometer: fact("44 100", "km"),
		}),
		visit("2026-05-01", { "points.dwell": fact("60", "%"), odometer: fact("25,000", "miles") }),
		visit("2026-07-01", { "points.dwellLeft": fact("59") }, { events: [{ changed: "points-fitted" }] }),
		visit("", { "points.dwell": fact("70") }),
	];
	assert.deepEqual(dwellInput(given({ dwell: fact("60 ±3") }), visits, "2026-08-01"), {
		what: "dwell",
		points: [
			{ date: "2026-05-01", miles: 25000, value: 54 },
			{ date: "2026-06-01", miles: 44100 / 1.609344, value: 62 },
			{ date: "2026-06-01", miles: 44100 / 1.609344, value: 60, reset: "adjusted" },
			{ date: "2026-07-01", value: 59, reset: "new-points" },
		],
		limit: { min: 57, max: 63 },
		today: "2026-08-01",
	});
	assert.equal(dwellInput(given({}), [visits[3]], "2026-08-01"), null);
	assert.equal(milesOf(visit("", { odometer: fact("41250") }).body), 41250);
	assert.equal(milesOf(visit("", { odometer: fact("about 40") }).body), null);
});

test("the base as the lamp proved it; what sets it begins a new line", () => {
	const set = (/** @type {string} */ staticCrankDeg, more = {}) => ({
		id: staticCrankDeg,
		place: "car",
		angleUnit: "crank",
		speedUnit: "engine",
		base: "included",
		vacuum: "off",
		readingErrorCrankDeg: "",
		staticCrankDeg,
		staticSide: "before",
		readings: [],
		...more,
	});
	const visits = [
		visit("2026-06-01", {}, { sets: [set("6"), set("8")], events: [{ changed: "distributor-moved" }] }),
		visit("2026-05-01", {}, { sets: [set("7"), set("9", { removed: true }), set("3", { place: "bench" })] }),
	];
	assert.deepEqual(baseInput(given({}), visits, "2026-08-01"), {
		what: "base",
		points: [
			{ date: "2026-05-01", value: 7 },
			{ date: "2026-06-01", value: 6 },
			{ date: "2026-06-01", value: 8, reset: "adjusted" },
		],
		today: "2026-08-01",
	});
});
