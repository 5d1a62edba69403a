import assert from "node:assert/strict";
import { openDoor } from "./door.js";
import { after, before, test } from "node:test";
import { bookFacts, intoTable, withBook } from "../app/js/record/book-facts.js";
import { cardOf } from "../app/js/card/card.js";
import { cardRows } from "../app/js/card/card-rows.js";
import { cardVerdicts } from "../app/js/card/card-verdict.js";
import { factCount } from "../app/js/record/facts.js";
import { withMeasured } from "../app/js/record/measured-facts.js";

/** @type {any} */
let close;
before(
	async () => {
		close = await openDoor();
	},
	{ timeout: 240_000 },
);
after(() => close());

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
	limitDistDeg: "12",
	rows: [
		{ rpm: "1000", min: "0", max: "2" },
		{ rpm: "3000", min: "18", max: "20" },
	],
};
const fact = (value, unit, source = "measured") => ({ value, unit, source, note: "" });
const holding = (visits, facts = {}) => ({
	car: { body: { name: "Six", owner: "", distributorId: "d", facts: {}, demo: false } },
	distributor: { body: { name: "", typeNumber: "", facts, sheet, sheetSource: "" } },
	visits: visits.map((body) => ({
		body: { carId: "c", distributorId: "d", title: "", notes: "", sets: [], ...body },
	})),
});

test("limit plate and static figure of the book's table are known among the facts and on the card", () => {
	assert.equal(withBook("limitPlate", undefined, sheet).value, "12");
	assert.equal(withBook("limitPlate", fact("13", "distributor degrees"), sheet).value, "13");
	assert.equal(
		withBook("limitPlate", fact("13", "distributor degrees", "book"), sheet).value,
		"12",
		"the table is the book",
	);
	assert.deepEqual([bookFacts(sheet).staticTiming.value, bookFacts(sheet).staticTiming.unit], ["8", "before TDC"]);
	assert.equal(withBook("gap", undefined, sheet), undefined);
	assert.equal(factCount({}, {}, sheet).known, 2);
	const rows = cardRows(cardOf(holding([])));
	const text = (key) => rows.find((row) => row.key === key)?.text;
	assert.deepEqual([text("limitPlate"), text("staticTiming")], ["12 distributor degrees", "8 before TDC"]);
});

test("a fact typed first stands in the table too, and never writes over another figure", () => {
	const empty = { ...sheet, limitDistDeg: "", baseCrankDeg: "" };
	assert.deepEqual(intoTable(empty, "limitPlate", undefined, fact("12", "distributor degrees")), {
		limitDistDeg: "12",
	});
	assert.deepEqual(
		intoTable(sheet, "limitPlate", fact("12", "distributor degrees"), fact("13", "distributor degrees")),
		{ limitDistDeg: "13" },
	);
	assert.deepEqual(
		intoTable(sheet, "limitPlate", fact("11", "distributor degrees"), fact("13", "distributor degrees")),
		{},
	);
	assert.deepEqual(intoTable(empty, "staticTiming", undefined, fact("4", "after TDC")), {
		baseCrankDeg: "4",
		baseSide: "after",
	});
	assert.deepEqual(intoTable(empty, "staticTiming", undefined, fact("4", "")), {});
	assert.deepEqual(intoTable(empty, "limitPlate", undefined, fact("abc", "distributor degrees")), {});
});

test("the card says what stands undone", () => {
	const events = [
		{ at: "2024-05-18T09:00:00Z", undone: ["vacuum-pipe", "clamp-loose"], restored: [] },
		{ at: "2024-05-18T09:10:00Z", undone: [], restored: ["clamp-loose"] },
	];
	assert.deepEqual(cardOf(holding([{ date: "2024-05-18", events }])).leftUndone, [
		"Vacuum pipe off and plugged. Unplug the pipe and put it back on the capsule.",
	]);
	assert.equal(cardOf(holding([])).leftUndone, undefined);
});

test("the card says the verdict on its own figures", async () => {
	const reading = (rpm, deg) => ({ id: rpm, rpm, deg, side: "before", direction: "rising", at: "" });
	const set = (still, ...readings) => ({
		id: "s",
		place: "car",
		angleUnit: "crank",
		speedUnit: "engine",
		base: "included",
		vacuum: "off",
		readingErrorCrankDeg: "",
		staticCrankDeg: still,
		staticSide: "before",
		readings,
	});
	const bad = await cardVerdicts(
		cardOf(
			holding([
				{
					date: "2024-05-18",
					sets: [set("12", reading("1000", "14"), reading("2000", "25"), reading("3000", "34"))],
				},
			]),
		),
	);
	assert.deepEqual(
		bad.map(({ verdict }) => verdict),
		["fail", "fail"],
	);
	assert.match(bad[1].text, /Static timing: 12\.0° before TDC; the book has 8\.0°/);
	const good = await cardVerdicts(
		cardOf(
			holding([
				{
					date: "2024-05-18",
					sets: [set("8", reading("1000", "9"), reading("2000", "18"), reading("3000", "27"))],
				},
			]),
		),
	);
	assert.deepEqual(
		good.map(({ verdict }) => verdict),
		["pass", "pass"],
	);
	assert.deepEqual(await cardVerdicts({ car: { name: "x" } }), []);
});

test("what the checks and the points measured is known among the facts and on the card", () => {
	const fact = (/** @type {string} */ value, /** @type {string} */ unit) => ({
		value,
		unit,
		source: "measured",
		note: "",
	});
	const facts = {
		"check.begun": fact("2024-05-18T08:00:00Z", ""),
		"check.B1": fact("0.004", "in"),
		"check.B27": fact("150 148 155 151", "psi"),
		"points.begun": fact("2024-05-18T09:00:00Z", ""),
		"points.idle.dwell": fact("59", "distributor degrees"),
	};
	const visits = [{ id: "visit", body: { date: "2024-05-18", sets: [], facts } }];
	const holding = /** @type {any} */ ({
		car: { body: { name: "Linnet", facts: {} } },
		distributor: {
			body: { name: "", facts: { sidePlay: { value: "", unit: "", source: "", note: "" } }, sheet: {} },
		},
		visits,
	});
	const rows = Object.fromEntries(cardRows(cardOf(holding)).map(({ key, text }) => [key, text]));
	assert.match(rows.sidePlay, /0\.004/);
	assert.match(rows.compression, /150 148 155 151/);
	assert.match(rows.dwellIdle, /59/);
	const known = (/** @type {any} */ typed) =>
		withMeasured("distributor", typed, /** @type {any} */ (visits)).sidePlay.value;
	assert.equal(known({}), "0.004");
	assert.equal(known({ sidePlay: fact("0.002", "in") }), "0.002"); // typed among the facts
	facts["check.B27"] = fact("12", "%");
	assert.equal(withMeasured("car", {}, /** @type {any} */ (visits)).compression, undefined);
});
