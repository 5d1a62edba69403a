import assert from "node:assert/strict";
import { test } from "node:test";
import { layOutPaper } from "./paper-dom.js";

layOutPaper();
const { accountsSideBySide, takeLabel } = await import("../app/js/curve/accounts.js");
const { inHundred } = await import("../app/js/kit/finding/share.js");
const { besideAccounts, inUnitsOf, isNamed, isUndecided, openAccounts, readingsToTake } =
	await import("../app/js/curve/decision.js");

/** @typedef {any} Paper */

/** @type {(id: string, share: number) => Account} */
const account = (id, share) => ({
	id,
	share,
	parts: [],
	direction: "",
	title: `Title of ${id}`,
	text: `Text of ${id}.`,
});
/** @type {(change?: Partial<NextReading>) => NextReading} */
const reading = (change = {}) => ({
	place: "car",
	rpm: 1500,
	speedUnit: "engine",
	angleUnit: "crank",
	direction: "falling",
	gain: 0.6,
	expects: [
		{ account: "base-late", deg: 5, low: 3.5, high: 6.5 },
		{ account: "primary-late", deg: -1, low: -2.5, high: 0.5 },
	],
	...change,
});
const test1 = "By strobe at 1500.";
/** @type {(change?: Partial<Judgement>) => Judgement} */
const judgement = (change = {}) => ({
	points: [],
	bands: [],
	counts: { asRead: { inside: 0, withinError: 0, outside: 0 }, baseOffCrankDeg: null, baseOff: null },
	baseOffsetCrankDeg: null,
	baseCrankDeg: null,
	shape: "late",
	hysteresisDistDeg: null,
	suspicion: "none",
	verdict: "fail",
	summary: "",
	accounts: [
		account("base-late", 0.5),
		account("primary-late", 0.3),
		account("base-late+drag", 0.1),
		account("stop-short", 0.06),
		{ ...account("other", 0.04), text: "None of these." },
	],
	nextReadings: [reading()],
	explanations: [
		{ code: "base-moved", text: "", test: test1 },
		{ code: "curve-late", text: "", test: test1 },
	],
	findings: [
		{ code: "base-moved", title: "Possible", text: "", sureness: "possible", share: 0.5 },
		{ code: "hysteresis", title: "Falls apart", text: "", sureness: "sure" },
	],
	ask: ["Was the pipe off?", `Can one more reading be taken? ${test1}`],
	...change,
});

test("a share is said in hundreds, and never as all or nothing", () => {
	assert.deepEqual([0.266, 0.981, 1, 0.002, 0].map(inHundred), [
		"27 in 100",
		"98 in 100",
		"more than 99 in 100",
		"less than 1 in 100",
		"less than 1 in 100",
	]);
});

test("it is the judge who says whether a part is named", () => {
	assert.equal(isUndecided(judgement()), true);
	const named = judgement({
		findings: [{ code: "curve-late", title: "", text: "", sureness: "likely", share: 0.8 }],
	});
	assert.deepEqual([isNamed(named), isUndecided(named)], [true, false]);
	assert.equal(
		isNamed(judgement({ findings: [{ code: "wild", title: "", text: "", sureness: "sure" }] })),
		false,
		"a finding that was not weighed names no account",
	);
	assert.deepEqual(openAccounts(judgement({ nextReadings: [], explanations: [] })), [], "settled");
	assert.deepEqual(openAccounts(judgement({ accounts: [account("other", 1)] })), []);
	assert.deepEqual(
		openAccounts({ ...judgement(), accounts: undefined }),
		[],
		"an answer without them breaks no page",
	);
	const sparse = openAccounts(
		judgement({ accounts: [account("sound", 0.3), account("base-late", 0.1), account("other", 0.6)] }),
	);
	assert.deepEqual(
		sparse.map(({ id }) => id),
		["other", "sound", "base-late"],
		"none of these stands where its share puts it",
	);
	assert.equal(openAccounts(judgement({ accounts: [account("sound", 0.997), account("other", 0.003)] })).length, 0);
});

test("what the accounts tell is not told twice", () => {
	const { findings, ask } = besideAccounts(judgement());
	assert.deepEqual(
		findings.map(({ code }) => code),
		["hysteresis"],
	);
	assert.deepEqual(ask, ["Was the pipe off?"]);
});

test("the lamp comes before a reading that tells as much, and what cannot be held comes last", () => {
	const [low, lamp, bench] = [
		reading({ rpm: 400 }),
		reading({ place: "lamp", rpm: 0 }),
		reading({ place: "bench", gain: 0.4 }),
	];
	assert.deepEqual(readingsToTake([low, lamp, bench], 800), [lamp, bench, low]);
	assert.deepEqual(readingsToTake([low, bench], null), [low, bench], "no idle is assumed");
	const weak = reading({ place: "lamp", rpm: 0, gain: 0.2 });
	assert.deepEqual(
		readingsToTake([bench, weak], 800),
		[bench, weak],
		"the lamp is not preferred where it tells less",
	);
});

test("what is expected stands in the units of the set it goes into", () => {
	const bench = reading({ place: "bench", rpm: 750, speedUnit: "distributor", angleUnit: "distributor" });
	const onSheet = inUnitsOf(bench, { angleUnit: "crank", speedUnit: "engine" }, 2);
	assert.deepEqual(
		[onSheet.rpm, onSheet.expects[0].deg, onSheet.expects[0].low, onSheet.angleUnit],
		[1500, 10, 7, "crank"],
	);
	assert.deepEqual(inUnitsOf(onSheet, { angleUnit: "distributor", speedUnit: "distributor" }, 2), bench);
	assert.equal(inUnitsOf(bench, null, 2), bench);
});

test("the accounts stand with their shares, and beneath them one reading to take", () => {
	const taken = [];
	const all = [
		reading(),
		reading({ place: "bench", rpm: 750, speedUnit: "distributor", angleUnit: "distributor", direction: "rising" }),
	];
	const section = /** @type {Paper} */ (
		accountsSideBySide(judgement(), all, { idle: null, take: (next) => taken.push(next) })
	);
	const text = section.textContent;
	assert.match(text, /Not decided yet/);
	assert.match(text, /Turn nothing\. Change nothing inside/);
	assert.match(text, /50 in 100Text of base-late\..*30 in 100.*10 in 100/);
	assert.match(text, /2 more, 10 in 100 together.*None of these/);
	assert.match(text, /On the car, by strobe; pipe off and plugged1500 engine rpm,\s+falling/);
	assert.match(text, /Title of base-late5\.03\.5 to 6\.5Title of primary-late1\.0 after2\.5 after to 0\.5/);
	assert.match(text, /Another that would doOn the bench750 distributor rpm/);
	// the first is the page's own action and stands at its top
	const buttons = section.all((/** @type {Paper} */ el) => el.localName === "button");
	assert.equal(buttons.length, 1);
	assert.doesNotMatch(buttons[0].getAttribute("class"), /next/, "one signal a screen");
	buttons[0].fire("click", {});
	assert.deepEqual(taken, [all[1]]);
	assert.equal(takeLabel(all[0]), "Take this reading: 1500, falling");
});

test("where a part is named the rest is folded, and where nothing is open nothing stands", () => {
	const named = judgement({
		findings: [{ code: "curve-late", title: "", text: "", sureness: "likely", share: 0.8 }],
	});
	const folded = /** @type {Paper} */ (accountsSideBySide(named, [reading()], { idle: null, take: () => {} }));
	assert.equal(folded.localName, "details");
	assert.equal(
		folded.all(
			(/** @type {Paper} */ el) => /\bnext\b/.test(el.getAttribute("class") ?? "") && el.localName === "button",
		).length,
		0,
	);
	assert.equal(
		accountsSideBySide(judgement({ nextReadings: [], explanations: [] }), [], { idle: null, take: null }),
		null,
	);
	const old = /** @type {Paper} */ (accountsSideBySide(judgement(), [reading()], { idle: 2000, take: null }));
	assert.equal(
		old.all((/** @type {Paper} */ el) => el.localName === "button").length,
		0,
		"an earlier curve is not read on",
	);
	assert.match(old.textContent, /Below this engine’s idle of 2000/);
	const sound = /** @type {Paper} */ (
		accountsSideBySide(judgement({ accounts: [account("sound", 0.6), account("base-late", 0.4)] }), [], {
			idle: null,
			take: null,
		})
	);
	assert.match(sound.textContent, /Nothing wrong is likeliest, not yet sure/);
	assert.match(sound.textContent, /No single reading tells them apart/);
});
