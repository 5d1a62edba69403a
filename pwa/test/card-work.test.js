// Work on a card, and what stays at home unless it was ticked.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { cardOf } from "../app/js/card/card.js";
import { documentsOf } from "../app/js/card/card-keep.js";
import { workLine, workOf } from "../app/js/card/card-work.js";
import { workWords } from "../app/js/bench/parts.js";

let count = 0;
const newId = () => `id${String(++count).padStart(18, "0")}`;
const blank = { step: "", verdict: "", what: "", changed: "", undone: [], restored: [], odometer: "" };
/** @type {(at: string, more: object) => any} */
const event = (at, more) => ({ ...blank, id: newId(), at, ...more });
/** @type {(date: string, ...events: any[]) => {body: any}} */
const visit = (date, ...events) => ({
	body: { carId: "c", distributorId: "d", date, title: "", notes: "", sets: [], events },
});
/** @type {(facts?: any) => any} */
const car = (facts = {}) => ({ body: { name: "Van", owner: "Dora Quill", distributorId: "d", facts, demo: false } });

test("the last six changes, the newest first; what was taken out and what was only judged are none", () => {
	const half = { part: "primary-spring", did: "replaced", from: "12 mm", to: "9 mm", note: "" };
	const visits = [
		visit(
			"2024-06-02",
			event("2024-06-02T09:00:00Z", { ...half, what: workWords(/** @type {any} */ (half)) }),
			event("2024-06-02T10:00:00Z", { part: "cap", did: "cleaned", removed: true }),
			event("2024-06-02T11:00:00Z", { step: "points", verdict: "pass", what: "dwell 60" }),
			event("2024-06-02T08:00:00Z", { changed: "dwell-set", what: "Dwell 55 to 60" }),
		),
		visit(
			"2024-05-01",
			...[1, 2, 3, 4, 5].map((n) =>
				event(`2024-05-01T0${n}:00:00Z`, { part: "other", did: "found", note: `Leaf ${n}` }),
			),
		),
	];
	assert.deepEqual(workOf(visits), [
		{ date: "2024-06-02", part: "Primary spring", what: "replaced", from: "12 mm", to: "9 mm" },
		{ date: "2024-06-02", what: "Dwell 55 to 60" },
		...[5, 4, 3, 2].map((n) => ({ date: "2024-05-01", part: `Leaf ${n}`, what: "found" })),
	]);
	const card = cardOf({ car: car(), distributor: null, visits });
	assert.equal(card.work?.length, 6);
	assert.equal(
		workLine(card.work?.[0] ?? {}, (ours) => ours.toUpperCase()),
		"PRIMARY SPRING replaced: 12 mm → 9 mm",
	);
});

test("work on a card that was kept is passed on as it came", () => {
	const card = JSON.parse(readFileSync(new URL("../../testdata/links/v3/four.json", import.meta.url), "utf8"));
	const long = "The lead between the plate and the terminal on the body";
	/** @type {CardWork[]} */
	const work = [
		...card.work,
		{ date: "2024-05-01", part: "Cap", what: "tightened" },
		{ date: "2024-05-01", part: "A part nobody lists", what: "replaced; greased", to: "2 mm" },
		{ part: long, what: "adjusted" },
	];
	const { car: body, distributor, visits } = documentsOf({ ...card, work }, newId);
	const newestFirst = visits.sort((a, b) => b.body.date.localeCompare(a.body.date));
	const again = cardOf(
		{ car: { body }, distributor: { body: distributor }, visits: newestFirst },
		{ withEarlier: true },
	);
	assert.deepEqual(again.work, work);
	assert.equal(again.date, card.date);
	assert.ok(
		visits.flatMap((one) => one.body.events ?? []).every(({ changed }) => changed === ""),
		"no reading is set apart",
	);
});

test("whose it is and what was told of it stay at home unless ticked", () => {
	const facts = { story: { value: "Pinks since Easter", unit: "", source: "", note: "" } };
	const holding = { car: car(facts), distributor: null, visits: [] };
	assert.doesNotMatch(JSON.stringify(cardOf(holding)), /Dora|Easter/);
	assert.equal(cardOf(holding, { withOwner: true }).car.facts?.owner?.value, "Dora Quill");
	const told = cardOf(holding, { withOwner: true, withStory: true });
	assert.equal(told.car.facts?.story?.value, "Pinks since Easter");
	const kept = documentsOf(told, newId).car;
	assert.equal(kept.owner, "Dora Quill");
	assert.equal(kept.facts.owner, undefined);
});
