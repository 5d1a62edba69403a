// A garage file brought into a phone: everything typed, here and there, is
// afterwards in what stands or in a copy that waits for a choice.

import "fake-indexeddb/auto";
import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";
Object.assign(globalThis, { BroadcastChannel: undefined });
const { makeBackup, readBackup } = await import("../app/js/kept/backup.js");
const { documentRows } = await import("../app/js/sharing/document-rows.js");
const { garage } = await import("../app/js/kept/garage.js");
const { unsaved } = await import("../app/js/kept/unsaved.js");
const { choose, keptCopies, loadKept } = await import("../app/js/kept/copies.js");
const { takeIn } = await import("../app/js/kept/take-in.js");
const { whole } = await import("../app/js/kept/whole.js");

await garage.open();
await loadKept();

let count = 0;
/** @type {string} */
let id;
beforeEach(() => {
	id = `car${String(++count).padStart(15, "0")}`;
});

const fact = (/** @type {string} */ value) => ({ value, unit: "", source: "book", note: "" });
const car = (/** @type {any} */ more = {}) => ({
	name: "Linnet",
	owner: "",
	distributorId: "d",
	facts: {},
	demo: false,
	...more,
});
const doc = (/** @type {any} */ body, /** @type {any} */ more = {}) => ({
	kind: "car",
	id,
	changedAt: "2020-05-01T12:00:00Z",
	deleted: false,
	body,
	...more,
});
/** @param {any[]} documents @param {any[]} [kept] */
function bring(documents, kept) {
	const read = readBackup(
		JSON.stringify({ format: "pointsmith garage 1", made: "2026-05-02T10:00:00Z", documents, kept }),
	);
	assert.equal(read.problem, null);
	return takeIn(read);
}
const nothing = { added: 0, united: 0, removed: 0, left: 0, copies: 0, photos: 0 };
const waiting = () => keptCopies().filter((copy) => copy.id === id);
const now = () => /** @type {any} */ (garage.get("car", id));

test("both changed the same: the later stands, the other waits whole, whichever side is the later", async () => {
	await garage.put("car", id, car({ owner: "Ann", facts: { gap: fact("0.025"), idle: fact("850") } }));
	assert.deepEqual(await bring([doc(car({ owner: "Ben", facts: { gap: fact("0.032"), dwell: fact("60") } }))]), {
		...nothing,
		united: 1,
		copies: 1,
	});
	assert.deepEqual(
		[now().body.owner, now().body.facts.gap.value, now().body.facts.idle.value, now().body.facts.dwell.value],
		["Ann", "0.025", "850", "60"],
	);
	const [copy] = waiting();
	assert.deepEqual(
		[copy.body.owner, copy.body.facts.gap.value, copy.device, copy.name],
		["Ben", "0.032", "a file of 2026-05-02", "Linnet (from a file of 2026-05-02, 2020-05-01)"],
	);
	assert.ok(garage.isWaiting("car", id), "a server hears of what was added");

	id = `car${String(++count).padStart(15, "0")}`;
	await garage.put("car", id, car({ owner: "Ann" }), "2019-01-01T00:00:00.000Z");
	assert.deepEqual(await bring([doc(car({ owner: "Ben" }))]), { ...nothing, united: 1, copies: 1 });
	assert.deepEqual([now().body.owner, waiting()[0].body.owner, waiting()[0].device], ["Ben", "Ann", "this phone"]);
});

test("what differs in nothing, or only adds, makes no copy; and the same file twice asks once", async () => {
	await garage.put("car", id, car({ facts: { idle: fact("850") } }));
	const added = doc(car({ facts: { dwell: fact("60") } }));
	assert.deepEqual(await bring([added]), { ...nothing, united: 1 });
	assert.deepEqual(await bring([added]), nothing);
	assert.deepEqual(
		await bring([doc({ name: "Linnet", distributorId: "d" })]),
		nothing,
		"what a file leaves out is empty, not different",
	);
	assert.deepEqual(waiting(), []);

	const other = doc(car({ owner: "Ben" }));
	assert.equal((await bring([other])).copies, 1);
	assert.deepEqual(await bring([other]), nothing);
	await choose(waiting()[0], "current");
	assert.deepEqual(await bring([other]), nothing, "chosen about already");
	assert.deepEqual(waiting(), []);
});

test("a choice about such a copy is carried out here and now, in each of its three ways", async () => {
	const set = async () => {
		id = `car${String(++count).padStart(15, "0")}`;
		await garage.put("car", id, car({ owner: "Ann", facts: { idle: fact("850") } }));
		await bring([doc(car({ owner: "Ben", facts: { idle: fact("900") } }))]);
		return waiting()[0];
	};
	await choose(await set(), "current");
	assert.deepEqual([now().body.owner, waiting().length], ["Ann", 0]);
	await choose(await set(), "kept");
	assert.deepEqual([now().body.owner, now().body.facts.idle.value, waiting().length], ["Ben", "900", 0]);
	const copy = await set();
	const before = garage.cars().length;
	await choose(copy, "both");
	assert.deepEqual([now().body.owner, waiting().length, garage.cars().length], ["Ann", 0, before + 1]);
	const made = garage.cars().find(({ body }) => body.name === copy.name);
	assert.equal(made?.body.owner, "Ben");
	assert.notEqual(made?.id, id);
});

test("a copy stays when the phone has no room for what was chosen", async () => {
	await garage.put("car", id, car({ owner: "Ann" }));
	await bring([doc(car({ owner: "Ben" }))]);
	const put = IDBObjectStore.prototype.put;
	IDBObjectStore.prototype.put = () => {
		throw new DOMException("no room", "QuotaExceededError");
	};
	await assert.rejects(choose(waiting()[0], "both"));
	IDBObjectStore.prototype.put = put;
	await unsaved.saveAgain();
	assert.equal(waiting()[0].body.owner, "Ben");
});

test("copies in a server's file are taken in as copies, once, and under the name of who typed them", async () => {
	await garage.put("car", id, car({ owner: "Ann" }));
	const kept = [
		{ ...doc(car({ owner: "Cid" })), revision: "abc123", device: "Cid’s phone" },
		{ ...doc(car({ owner: "Ann" })), revision: "abc124", device: "" },
	];
	assert.deepEqual(await bring([doc(car({ owner: "Ann" }))], kept), { ...nothing, copies: 1 });
	assert.deepEqual(await bring([], kept), nothing);
	assert.deepEqual([waiting().length, waiting()[0].device, waiting()[0].revision], [1, "Cid’s phone", "abc123"]);
	const alone = { ...kept[0], id: "alone000000000001" };
	assert.deepEqual(await bring([], [alone]), { ...nothing, added: 1 });
	assert.equal(garage.get("car", alone.id)?.body.owner, "Cid");
});

test("a file removes nothing here, and brings back nothing by itself; what was typed there waits", async () => {
	await garage.put("car", id, car({ owner: "Ann" }));
	assert.deepEqual(await bring([doc(car({ owner: "Ben" }), { deleted: true, changedAt: "2025-01-01T00:00:00Z" })]), {
		...nothing,
		left: 1,
		copies: 1,
	});
	assert.deepEqual([now().deleted, now().body.owner, waiting()[0].body.owner], [false, "Ann", "Ben"]);
	assert.deepEqual(await bring([doc({}, { deleted: true })]), { ...nothing, left: 1 });
	assert.equal(now().deleted, false);
	await garage.remove("car", id);
	assert.deepEqual(await bring([doc(car({ owner: "Dot" }))]), { ...nothing, copies: 1 });
	assert.deepEqual([now().deleted, waiting().length], [true, 2]);
	await choose(
		waiting().find(({ body }) => body.owner === "Dot"),
		"kept",
	);
	assert.deepEqual([now().deleted, now().body.owner], [false, "Dot"]);
});

test("what was removed comes as removed, with its body where there is one, and is pushed nowhere", async () => {
	assert.deepEqual(await bring([doc(car({ owner: "Ben" }), { deleted: true })]), { ...nothing, removed: 1 });
	assert.equal(garage.removed().find((one) => one.id === id)?.body.owner, "Ben");
	assert.equal(garage.isWaiting("car", id), false);
	id = `car${String(++count).padStart(15, "0")}`;
	assert.deepEqual(await bring([doc({}, { deleted: true })]), { ...nothing, removed: 1 });
	assert.deepEqual([now().deleted, now().body], [true, null]);
	assert.deepEqual(await bring([doc({}, { deleted: true })]), nothing);
	assert.deepEqual(await bring([doc(car({ owner: "Ben" }), { deleted: true })]), { ...nothing, removed: 1 });
	assert.equal(garage.removed().find((one) => one.id === id)?.body.owner, "Ben");
});

test("an exported file holds removals and copies, and its own gate lets all of it in", async () => {
	await bring([doc({}, { deleted: true })]);
	const read = readBackup(makeBackup());
	assert.equal(read.problem, null);
	assert.equal(read.documents.find((one) => one.id === id)?.body, null);
	assert.deepEqual(
		read.documents.map((one) => one.id).sort(),
		garage
			.everything()
			.map((one) => one.id)
			.sort(),
	);
	assert.ok(read.copies.length > 0);
	assert.deepEqual(
		read.copies.map(({ revision }) => revision).sort(),
		keptCopies()
			.map(({ revision }) => revision)
			.sort(),
	);
	assert.deepEqual(await takeIn(read), nothing);
});

test("what a body leaves out stands as empty for every page; what has another shape is refused by name", async () => {
	for (const [kind, body] of /** @type {[Kind, any][]} */ ([
		["car", { name: "A" }],
		["distributor", {}],
		["distributor", { sheet: { rows: [{ rpm: "800" }] } }],
		["visit", {}],
		[
			"visit",
			{ sets: [{ id: "s", readings: [{ id: "r" }] }, { id: "t" }], facts: { a: {} }, events: [{ id: "e" }] },
		],
	])) {
		assert.doesNotThrow(() => documentRows(kind, body), `${kind} ${JSON.stringify(body)}`);
		const full = whole(kind, body);
		assert.deepEqual(whole(kind, full), full);
	}
	await bring([doc({ name: "A" })]);
	assert.deepEqual(now().body, { name: "A", owner: "", distributorId: "", facts: {}, demo: false });
	assert.deepEqual(garage.everything().find((one) => one.id === id)?.body, { name: "A" }, "it is stored as it came");
	assert.deepEqual(whole("visit", { sets: [{ id: "t" }] }).sets[0].readings, []);
	assert.equal("facts" in whole("visit", {}), false);
	/** @param {any} body @param {string} [kind] */
	const title = (body, kind = "car") =>
		readBackup(JSON.stringify({ format: "pointsmith garage 1", documents: [{ ...doc(body), kind }] })).problem
			?.title ?? "";
	assert.match(title({ name: "A", facts: [] }), /facts is not a set of named values/);
	assert.match(title({ name: "A", facts: { gap: "3" } }), /facts\.gap is not/);
	assert.match(
		title({ sets: [{ id: "s", readings: [{ id: "r", deg: 8 }] }] }, "visit"),
		/sets\[0\]\.readings\[0\]\.deg is not text/,
	);
	assert.match(title({ sets: [{ id: "s" }, { id: "s" }] }, "visit"), /sets\[1\] has no id of its own/);
	assert.match(title({ sets: [null] }, "visit"), /sets\[0\] is empty/);
	assert.match(title({ sheet: { rows: {} } }, "distributor"), /sheet\.rows is not a list/);
});

/** Chance that is the same at every run. @param {number} seed */
function chance(seed) {
	return (/** @type {number} */ below) => {
		// the numbers of a known generator (Press et al., Numerical Recipes, “quick and dirty”)
		seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0;
		return Math.floor((seed / 2 ** 32) * below);
	};
}

/** Every place in a value, as the object and the name in it. @param {any} value @returns {[any, string][]} */
const places = (value) =>
	Object.keys(value).flatMap((name) => [
		[value, name],
		...(value[name] && typeof value[name] === "object" ? places(value[name]) : []),
	]);

test("whatever is changed in a file, the gate refuses it in words, or what it lets in can be shown, exported and brought in again", async () => {
	const good = {
		format: "pointsmith garage 1",
		made: "2026-05-02T10:00:00Z",
		documents: [
			doc(car({ facts: { gap: fact("0.025") } })),
			{
				...doc({
					sets: [{ id: "s", readings: [{ id: "r", rpm: "800", deg: "8" }] }],
					events: [{ id: "e", undone: ["vacuum-pipe"] }],
					facts: { a: fact("1") },
				}),
				kind: "visit",
			},
			{
				...doc({ name: "Unit", sheet: { rows: [{ rpm: "800", min: "1", max: "2" }] }, facts: {} }),
				kind: "distributor",
			},
			doc({}, { id: "gone000000000001", deleted: true }),
		],
		kept: [{ ...doc(car({ owner: "B" })), revision: "abc1", device: "B’s phone" }],
	};
	const odd = [
		null,
		undefined,
		0,
		-1,
		1e308,
		true,
		"",
		"x",
		"__proto__",
		"<b>",
		"\u202e",
		[],
		[null],
		[[]],
		{},
		{ id: 1 },
		{ id: "s" },
		{ "*": 1 },
		{ toString: 1 },
	];
	const pick = chance(7);
	let [refused, taken] = [0, 0];
	for (let round = 0; round < 3000; round++) {
		const file = structuredClone(good);
		for (let n = 1 + pick(2); n > 0; n--) {
			const all = places(file);
			const [at, name] = all[pick(all.length)];
			if (pick(3) === 0 && !Array.isArray(at))
				Object.defineProperty(
					at,
					["", "x", "__proto__", "toString", "id", "*", "sets", "facts", "deleted"][pick(9)],
					{ value: at[name], enumerable: true, configurable: true, writable: true },
				);
			else if (pick(6) === 0 && Array.isArray(at)) at.push(structuredClone(at[Number(name)]));
			else at[name] = structuredClone(odd[pick(odd.length)]);
		}
		const read = readBackup(JSON.stringify(file));
		if (read.problem) {
			refused++;
			assert.ok(read.problem.title && read.problem.limit && read.problem.do, JSON.stringify(read.problem));
			assert.deepEqual([read.documents, read.copies], [[], []]);
			continue;
		}
		taken++;
		for (const { kind, body } of [...read.documents, ...read.copies]) {
			documentRows(kind, body);
			assert.deepEqual(whole(kind, whole(kind, body)), whole(kind, body));
		}
		if (taken % 20) continue; // what follows takes its time
		await takeIn(read);
		const again = readBackup(makeBackup());
		assert.equal(again.problem, null, JSON.stringify(again.problem));
		assert.deepEqual(await takeIn(again), nothing);
	}
	assert.ok(refused > 300 && taken > 300, `${refused} refused, ${taken} taken in`);
});

// Keeping both cuts nothing: a title may be long, and where the name of the copy
// would be longer than a name may be, its own stays.
test("keeping both cuts no name", async () => {
	const { carryOut, newCopy } = await import("../app/js/kept/own-copies.js");
	const long = `${"points, dwell, ".repeat(22)}plugs`;
	for (const [kind, key, name, want] of [
		["visit", "title", long, `${long} (from Ann, 2026-05-01)`],
		["visit", "title", long.padEnd(390, "!"), long.padEnd(390, "!")],
		["car", "name", "L".repeat(80), "L".repeat(80)],
		["car", "name", "Linnet", "Linnet (from Ann, 2026-05-01)"],
	]) {
		const version = {
			kind,
			id,
			changedAt: "2026-05-01T12:00:00Z",
			body: whole(/** @type {any} */ (kind), { [key]: name }),
		};
		const before = new Set(garage.everything().map((doc) => doc.id));
		await carryOut(newCopy(/** @type {any} */ (version), { device: "Ann", why: "" }), "both");
		const made = garage.everything().filter((doc) => !before.has(doc.id));
		assert.deepEqual(
			made.map((doc) => /** @type {any} */ (doc.body)[key]),
			[want],
		);
	}
});
