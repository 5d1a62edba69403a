import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { cardOf } from "../app/js/card/card.js";
import { isCardKey, plainName, plainText } from "../app/js/card/card-facts.js";
import { documentsOf, freeName } from "../app/js/card/card-keep.js";
import { cardRows } from "../app/js/card/card-rows.js";
import { lineOf, pairOf } from "../app/js/record/curve-lines.js";
import { differences, gapsOf, sameText, sideBySide } from "../app/js/card/card-differences.js";
import { troubleIn } from "../app/js/card/card-form.js";

/** @param {string} name @returns {any} */
const sent = (name) =>
	JSON.parse(readFileSync(new URL(`../../testdata/links/v1/${name}.json`, import.meta.url), "utf8"));
let count = 0;
const newId = () => `id${String(++count).padStart(18, "0")}`;

/** @param {any} card @returns {any} the card again, after it has been kept in a garage */
function kept(card) {
	const { car, distributor, visits } = documentsOf(card, newId);
	const newestFirst = visits.map(({ body }) => ({ body })).sort((a, b) => b.body.date.localeCompare(a.body.date));
	return cardOf(
		{ car: { body: car }, distributor: { body: distributor }, visits: newestFirst },
		{ withEarlier: true },
	);
}

for (const name of ["least", "four", "full-six"]) {
	test(`a card that was kept says the same when it is passed on: ${name}`, () => {
		const card = sent(name);
		const again = kept(card);
		assert.equal(again.car.name, card.car.name);
		for (const part of [
			"setBy",
			"checkedBy",
			"date",
			"odometer",
			"fuel",
			"warnings",
			"leftUndone",
			"nextCheck",
			"specSource",
		])
			assert.deepEqual(again[part], card[part], part);
		for (const [key, fact] of Object.entries(card.car.facts ?? {}))
			assert.deepEqual(again.car.facts[key], fact, key);
		for (const [key, fact] of Object.entries(card.distributor?.facts ?? {}))
			assert.deepEqual(again.distributor.facts[key], fact, key);
		if (card.spec) {
			const { vacuumMaxDistDeg, ...spec } = card.spec;
			assert.deepEqual(again.spec, spec);
			if (vacuumMaxDistDeg !== undefined)
				assert.equal(again.distributor.facts.capsuleMost.value, String(vacuumMaxDistDeg));
		}
		for (const [key, value] of Object.entries(card.asSet ?? {})) assert.deepEqual(again.asSet[key], value, key);
		assert.deepEqual(
			(again.curves ?? []).map((set) => set.points),
			(card.curves ?? []).map((set) => set.points),
		);
	});
}

/** @type {(value: string, source?: any, unit?: string) => Fact} */
const fact = (value, source = "", unit = "") => ({ value, unit, source, note: "" });
/** @type {(rpm: string, deg: string, direction?: any, side?: any) => any} */
const reading = (rpm, deg, direction = "rising", side = "before") => ({
	id: newId(),
	rpm,
	deg,
	side,
	direction,
	at: "",
});
/** @type {(more: object) => any} */
const strobed = (more) => ({
	id: newId(),
	place: "car",
	angleUnit: "crank",
	speedUnit: "engine",
	base: "included",
	vacuum: "off",
	readingErrorCrankDeg: "",
	staticCrankDeg: "",
	staticSide: "before",
	readings: [],
	...more,
});
/** @type {(date: string, ...sets: any[]) => {body: any}} */
const visit = (date, ...sets) => ({ body: { carId: "c", distributorId: "d", date, title: "", notes: "", sets } });
/** @type {(facts?: Facts) => any} */
const car = (facts = {}) => ({ body: { name: "Van", owner: "", distributorId: "d", facts, demo: false } });

test("manifold vacuum prints as it was typed", () => {
	const printed = (/** @type {any} */ card) => cardRows(card).find(({ key }) => key === "set.idleVacuum")?.text;
	assert.equal(
		printed(cardOf({ car: car({ idleVacuum: fact("14", "measured", "inHg") }), distributor: null, visits: [] })),
		"14 inHg",
	);
	assert.equal(
		printed(cardOf({ car: car({ idleVacuum: fact("355", "measured", "mmHg") }), distributor: null, visits: [] })),
		"355 mmHg",
	);
	assert.equal(
		printed({
			car: { name: "Van", facts: { idleVacuum: { value: "18", unit: "inHg" } } },
			asSet: { idleVacuumKPa: 47.4 },
		}),
		"47.4 kPa",
		"what was typed is another figure",
	);
});

test("what nobody entered is not on the card, and stands as unknown on the sheet", () => {
	const card = cardOf({ car: car(), distributor: null, visits: [] });
	assert.deepEqual(card, { car: { name: "Van" } });
	const rows = cardRows(card);
	assert.ok(rows.length > 10);
	assert.ok(rows.every(({ text }) => text === ""));
});

test("the book's gap is not the gap as set; a measured one is", () => {
	assert.equal(
		cardOf({ car: car({ gap: fact("0.015", "book", "in") }), distributor: null, visits: [] }).asSet,
		undefined,
	);
	const { asSet } = cardOf({ car: car({ gap: fact("15", "measured", "thou") }), distributor: null, visits: [] });
	assert.equal(asSet?.gap?.value, "15");
	assert.equal(asSet?.gapMm, 0.381);
});

test("strobe figures come from the newest readings; after TDC is negative; a later reading beats what was written", () => {
	const visits = [
		visit(
			"2024-06-02",
			strobed({
				staticCrankDeg: "4",
				staticSide: "after",
				readings: [
					reading("900", "8"),
					reading("3500", "31"),
					reading("4000", "31,5"),
					reading("900", "9", "falling"),
				],
			}),
		),
		visit("2024-05-01", strobed({ readings: [reading("700", "1")] })),
	];
	const written = {
		cardDate: fact("2024-05-20"),
		leftStrobeEngineRPM: fact("700"),
		leftStrobeCrankDeg: fact("6"),
		leftCruiseCrankDeg: fact("47"),
	};
	const card = cardOf({ car: car(written), distributor: null, visits });
	assert.deepEqual(card.asSet?.strobe, { engineRPM: 900, crankDeg: 8, vacuum: "off" });
	assert.deepEqual(card.asSet?.total, { engineRPM: 4000, crankDeg: 31.5, vacuum: "off" });
	assert.equal(card.asSet?.staticCrankDeg, -4);
	assert.equal(card.asSet?.cruiseCrankDeg, 47);
	assert.equal(card.date, "2024-06-02");
	assert.equal(
		cardOf({ car: car({ ...written, cardDate: fact("2024-06-02") }), distributor: null, visits }).asSet?.strobe
			?.crankDeg,
		6,
	);
});

test("the highest figure read is no total while it still climbs, or with the pipe on", () => {
	const total = (/** @type {any} */ more) =>
		cardOf({ car: car(), distributor: null, visits: [visit("2024-06-02", strobed(more))] }).asSet?.total;
	const climbing = [reading("900", "8"), reading("3500", "28"), reading("4000", "31")];
	const level = [reading("900", "8"), reading("3500", "31"), reading("4000", "31")];
	assert.equal(total({ readings: climbing }), undefined);
	assert.equal(total({ readings: level })?.crankDeg, 31);
	assert.equal(total({ readings: level, vacuum: "connected" }), undefined);
});

test("read again after a mend, the card bears the newest readings; a base set since takes the total away", () => {
	const [before, after] = [
		[reading("600", "15"), reading("3000", "40"), reading("4000", "40")],
		[reading("600", "9"), reading("3000", "34"), reading("4000", "34")],
	];
	const mended = visit("2024-06-02", strobed({ readings: before }), strobed({ readings: after }));
	const card = cardOf({ car: car(), distributor: null, visits: [mended] });
	assert.deepEqual(
		[
			card.asSet?.strobe?.crankDeg,
			card.asSet?.total?.crankDeg,
			card.curves?.length,
			card.curves?.[0].points[0].deg,
		],
		[9, 34, 1, 9],
	);
	const base = visit("2024-07-01", strobed({ readings: [reading("750", "12")] }));
	const moved = { changed: "distributor-moved", at: "2024-07-01T10:00:00Z" };
	const set = (/** @type {any[]} */ events) =>
		cardOf({ car: car(), distributor: null, visits: [{ body: { ...base.body, events } }, mended] }).asSet;
	assert.deepEqual([set([])?.strobe?.crankDeg, set([])?.total?.crankDeg], [9, 34]);
	assert.deepEqual([set([moved])?.strobe?.crankDeg, set([moved])?.total], [12, undefined]);
});

test("readings before the newest go along only when they are wanted", () => {
	const visits = [
		visit("2024-06-02", strobed({ readings: [reading("900", "8")] })),
		visit("2024-05-01", strobed({ readings: [reading("700", "1")] })),
	];
	assert.equal(cardOf({ car: car(), distributor: null, visits }).curves?.length, 1);
	assert.deepEqual(
		cardOf({ car: car(), distributor: null, visits }, { withEarlier: true }).curves?.map(({ name }) => name),
		["on the car, 2024-06-02", "on the car, 2024-05-01"],
	);
});

test("text is made fit for a card: one line, nothing invisible, cut with a sign", () => {
	assert.equal(plainText("a\n\tb\u202ec\u0000d\u200b", 80), "a bc d");
	assert.equal([...plainText("x".repeat(300), 200)].length, 200);
	assert.match(plainText("x".repeat(300), 200), /…$/);
	assert.equal(plainName("<b>Van</b>"), "b Van /b");
	const long = cardOf({
		car: car({ modifications: fact("a line\nand another ".repeat(40)), "no.name": fact("1") }),
		distributor: null,
		visits: [],
	});
	assert.equal([...long.car.facts.modifications.value].length, 200);
	assert.equal(long.car.facts["no.name"], undefined);
});

test("what is written on the card does not come back as a fact of the car", () => {
	const card = cardOf({
		car: car({ cardSetBy: fact("M."), cardWarnings: fact("one\n\ntwo"), leftGap: fact("0.4", "measured", "mm") }),
		distributor: null,
		visits: [],
	});
	assert.equal(card.car.facts, undefined);
	assert.equal(card.setBy, "M.");
	assert.deepEqual(card.warnings, ["one", "two"]);
	assert.ok(isCardKey("leftGap") && !isCardKey("gap"));
});

test("a copy gets a name that no car here has", () => {
	const card = { car: { name: "Van" }, setBy: "M.", date: "2024-05-18" };
	assert.equal(freeName(card, []), "Van");
	assert.equal(freeName(card, ["Van"]), "Van (from M., 2024-05-18)");
	assert.equal(freeName(card, ["Van", "Van (from M., 2024-05-18)"]), "Van (from M., 2024-05-18, 2)");
	assert.ok([...freeName({ ...card, car: { name: "V".repeat(80) } }, ["V".repeat(80)])].length <= 80);
});

const bench = {
	place: "bench",
	angleUnit: "distributor",
	speedUnit: "distributor",
	base: "excluded",
	points: [
		{ rpm: 500, deg: 2, direction: "rising" },
		{ rpm: 1000, deg: 8, direction: "rising" },
		{ rpm: 1000, deg: 9, direction: "falling" },
	],
};
/** @type {any} */
const mine = { car: { name: "Van" }, curves: [bench], asSet: { staticCrankDeg: 8 } };

test("a curve in distributor degrees is doubled, and stands on the base when a total is wanted", () => {
	assert.deepEqual(lineOf(mine, mine.curves[0], "advance")?.points, [
		{ engineRPM: 1000, crankDeg: 4 },
		{ engineRPM: 2000, crankDeg: 16 },
	]);
	assert.deepEqual(lineOf(mine, mine.curves[0], "total")?.points, [
		{ engineRPM: 1000, crankDeg: 12 },
		{ engineRPM: 2000, crankDeg: 24 },
	]);
	assert.equal(lineOf({ ...mine, asSet: undefined }, mine.curves[0], "total"), null);
});

test("bench and strobe are compared with the base reckoned in, and that is said", () => {
	/** @type {any} */
	const theirs = {
		car: { name: "Van" },
		asSet: { staticCrankDeg: 8 },
		curves: [
			{
				place: "car",
				angleUnit: "crank",
				speedUnit: "engine",
				base: "included",
				points: [
					{ rpm: 1000, deg: 12, direction: "rising" },
					{ rpm: 2000, deg: 29, direction: "rising" },
				],
			},
		],
	};
	const pair = pairOf(mine, theirs);
	assert.deepEqual(
		gapsOf(pair.mine.points, pair.theirs.points).map(({ deg }) => deg),
		[0, 5],
	);
	const [first] = differences(mine, theirs);
	assert.match(first, /5\.0 crank degrees of (advance|total timing) earlier than mine at 2000 engine rpm/);
	assert.match(first, /static timing as set/);
	theirs.asSet = undefined;
	assert.match(differences({ ...mine, asSet: undefined }, theirs)[0], /base is not known/);
});

test("the same figure otherwise written is no difference; another is, and says which way", () => {
	assert.ok(
		sameText("0.20 µF", "0.2 µf") &&
			sameText("Negative", "negative") &&
			sameText("15 thou", "0.015 in") &&
			sameText("0.4 mm", "0,40 mm") &&
			!sameText("15 thou", "0.016 in") &&
			!sameText("15 thou", "15 kPa") &&
			!sameText("0.20 µF", "0.22 µF") &&
			!sameText("8 before TDC", "8 after TDC"),
	);
	/** @type {any} */
	const theirs = { ...mine, asSet: { staticCrankDeg: 10, gap: { value: "0.4", unit: "mm" } } };
	const rows = sideBySide(cardRows(mine), cardRows(theirs));
	assert.equal(rows.find(({ key }) => key === "set.static")?.state, "differs");
	assert.equal(rows.find(({ key }) => key === "set.gap")?.state, "theirs only");
	assert.ok(
		rows.every((row) => row.mine || row.theirs),
		"a line that neither knows is not shown",
	);
	assert.ok(
		differences(mine, theirs).some((line) =>
			/theirs is 2\.0 crank degrees earlier \(mine 8\.0° before TDC, theirs 10\.0° before TDC\)/.test(line),
		),
	);
	assert.deepEqual(
		differences(mine, mine).filter((line) => /mine .*theirs/.test(line)),
		[],
	);
	assert.match(differences(mine, mine)[0], /lie on one another/);
});

test("books are compared in crank degrees at engine rpm, however they are printed", () => {
	/** @type {any} */
	const [one, other] = [
		{
			angleUnit: "distributor",
			speedUnit: "distributor",
			base: "excluded",
			baseCrankDeg: 8,
			points: [
				{ rpm: 500, minDeg: 1, maxDeg: 2 },
				{ rpm: 1000, minDeg: 5, maxDeg: 6 },
			],
		},
		{
			angleUnit: "crank",
			speedUnit: "engine",
			base: "included",
			baseCrankDeg: 8,
			points: [
				{ rpm: 1000, minDeg: 10, maxDeg: 12 },
				{ rpm: 2000, minDeg: 18, maxDeg: 20 },
			],
		},
	];
	assert.ok(
		differences({ ...mine, spec: one }, { ...mine, spec: other }).includes("Both cards have the same book table."),
	);
	other.points[1].maxDeg = 24;
	assert.ok(
		differences({ ...mine, spec: one }, { ...mine, spec: other }).some((line) =>
			/at 2000 engine rpm theirs allows 4\.0 crank degrees more at the most/.test(line),
		),
	);
});

test("a figure that cannot stand on the card says why and is left out; nothing typed is changed", () => {
	const field = { key: "leftCruiseCrankDeg", label: "Total", limit: { min: -40, max: 120 } };
	assert.equal(troubleIn(field, "47,5"), null);
	assert.match(troubleIn(field, "lots")?.problem ?? "", /cannot be read/);
	assert.equal(troubleIn(field, "470")?.limit, "−40 to 120");
	assert.match(troubleIn({ key: "cardDate", label: "Date" }, "18 May")?.limit ?? "", /year-month-day/);
	assert.equal(
		cardOf({ car: car({ leftCruiseCrankDeg: fact("lots") }), distributor: null, visits: [] }).asSet,
		undefined,
	);
});
