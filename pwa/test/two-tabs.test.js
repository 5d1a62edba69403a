// Two tabs of one phone: one store, and each with a memory of its own. No
// channel between them here, so that each knows only what it last looked at.

import "fake-indexeddb/auto";
import assert from "node:assert/strict";
import { test } from "node:test";
import { afterPull, afterPush } from "../app/js/kept/merge.js";

Object.assign(globalThis, { BroadcastChannel: undefined });

let tabs = 0;
/** @returns {Promise<any>} the garage as another tab has it */
async function tab() {
	const { garage } = await import(`../app/js/kept/garage.js?tab=${++tabs}`);
	await garage.open();
	return garage;
}

const reading = (/** @type {string} */ id, /** @type {string} */ deg = "8") => ({
	id,
	rpm: "800",
	deg,
	side: "before",
	direction: "rising",
	at: "",
});
const visit = () => ({
	carId: "c",
	distributorId: "d",
	date: "2026-05-01",
	title: "",
	notes: "",
	sets: [{ id: "s1", place: "car", vacuum: "", readings: [reading("r0")] }],
});
const fact = (/** @type {string} */ value) => ({ value, unit: "", source: "book", note: "" });
const car = (/** @type {any} */ more) => ({
	name: "Linnet",
	owner: "",
	distributorId: "d",
	facts: {},
	demo: false,
	...more,
});
const ids = (/** @type {any} */ doc) => doc.body.sets[0].readings.map((/** @type {any} */ one) => one.id).sort();
const add = (/** @type {string} */ id) => (/** @type {any} */ body) => {
	body.sets[0].readings.push(reading(id));
};

/**
 * Two tabs that both know a document, and a third that looks afterwards.
 * @param {string} kind
 * @param {string} id
 * @param {any} body
 */
async function both(kind, id, body) {
	const one = await tab();
	await one.put(kind, id, body);
	return { one, two: await tab(), stored: async () => (await tab()).get(kind, id) };
}

test("two tabs that each add a reading to the same visit at the same moment keep both", async () => {
	const id = "vvvvvvvvvvvvvvvvvv01";
	const { one, two, stored } = await both("visit", id, visit());
	await Promise.all([one.update("visit", id, add("r1")), two.update("visit", id, add("r2"))]);
	assert.deepEqual(ids(await stored()), ["r0", "r1", "r2"]);
	await one.update("visit", id, add("r3")); // neither had seen the other's yet
	await two.update("visit", id, add("r4"));
	assert.deepEqual(ids(await stored()), ["r0", "r1", "r2", "r3", "r4"]);
	assert.deepEqual(
		ids(two.get("visit", id)),
		["r0", "r1", "r2", "r3", "r4"],
		"the tab that wrote last knows what it wrote on",
	);
});

test("a whole body from a tab that is behind takes back nothing of the other's", async () => {
	const id = "cccccccccccccccccc01";
	const { one, two, stored } = await both("car", id, car({ facts: { gone: fact("1") } }));
	await one.update("car", id, (/** @type {any} */ body) => {
		body.owner = "Ann";
		body.facts.plugGap = fact("0.025");
	});
	await two.put("car", id, car({ name: "Linnet II", facts: { idle: fact("850") } })); // and takes one fact out
	const { body } = await stored();
	assert.deepEqual(
		[body.name, body.owner, Object.keys(body.facts).sort()],
		["Linnet II", "Ann", ["idle", "plugGap"]],
	);
	const visitId = "vvvvvvvvvvvvvvvvvv02";
	const more = await both("visit", visitId, visit());
	await more.one.update("visit", visitId, add("r1"));
	const whole = visit();
	add("r2")(whole);
	await more.two.put("visit", visitId, whole);
	assert.deepEqual(ids(await more.stored()), ["r0", "r1", "r2"]);
});

test("a figure is not mixed with another tab's unit, and of the same field the later stands", async () => {
	const id = "cccccccccccccccccc02";
	const { one, two, stored } = await both("car", id, car({ facts: { gap: fact("1") } }));
	await one.update("car", id, (/** @type {any} */ body) => {
		body.facts.gap = { ...body.facts.gap, value: "0.025", unit: "in" };
	});
	/** @type {any[]} */
	const overruled = [];
	two.on("overruled", (/** @type {any} */ version) => overruled.push(version.body.facts.gap));
	await two.update("car", id, (/** @type {any} */ body) => {
		body.facts.gap = { ...body.facts.gap, value: "0.6" };
	});
	assert.deepEqual((await stored()).body.facts.gap, fact("0.6"));
	assert.deepEqual(overruled, [{ ...fact("0.025"), unit: "in" }], "and the earlier is told of, to wait as a copy");
});

test("what another tab typed in the same field waits as a copy, and can be chosen", async () => {
	const id = "cccccccccccccccccc08";
	const one = await tab();
	await one.put("car", id, car());
	const { garage: two } = await import("../app/js/kept/garage.js");
	const { choose, keptCopies, loadKept, onKept } = await import("../app/js/kept/copies.js");
	await two.open();
	await loadKept();
	await one.update("car", id, (/** @type {any} */ body) => {
		body.owner = "Ann";
	});
	const set = new Promise((done) => onKept(() => done(true)));
	await two.update("car", id, (/** @type {any} */ body) => {
		body.owner = "Ben";
	});
	await set;
	const copies = keptCopies();
	assert.deepEqual(
		copies.map(({ body, why, isOwn }) => [body.owner, why, isOwn]),
		[["Ann", "changed in two places", true]],
	);
	assert.equal(two.get("car", id)?.body.owner, "Ben");
	await choose(copies[0], "kept");
	assert.equal(two.get("car", id)?.body.owner, "Ann");
	assert.deepEqual(keptCopies(), []);
});

test("what many keys in a row say is all there, in both tabs", async () => {
	const id = "vvvvvvvvvvvvvvvvvv03";
	const { one, two, stored } = await both("visit", id, visit());
	const keys = [];
	for (let n = 1; n <= 20; n++) {
		keys.push(one.update("visit", id, add(`a${n}`)), two.update("visit", id, add(`b${n}`)));
		if (n % 5 === 0) await keys.at(-1);
	}
	await Promise.all(keys);
	assert.equal(ids(await stored()).length, 41);
});

test("what is typed in the moment another tab's change is brought in takes none of it back", async () => {
	const id = "vvvvvvvvvvvvvvvvvv04";
	const { one, two, stored } = await both("visit", id, visit());
	await two.update("visit", id, add("r1"));
	await new Promise((passed) => setTimeout(passed, 5)); // so that the first tab's clock is past the second's change
	const put = IDBObjectStore.prototype.put;
	/** @type {any} */
	let next;
	IDBObjectStore.prototype.put = function (...words) {
		if (/** @type {any} */ (words[0])?.body) {
			IDBObjectStore.prototype.put = put;
			next = one.update("visit", id, add("r3"));
		}
		return put.apply(this, words);
	};
	await one.update("visit", id, add("r2"));
	await next;
	assert.deepEqual(ids(await stored()), ["r0", "r1", "r2", "r3"]);
	assert.deepEqual(ids(one.get("visit", id)), ["r0", "r1", "r2", "r3"]);
});

test("what is sent out of memory while another tab's change is brought in leaves that change waiting", async () => {
	const id = "vvvvvvvvvvvvvvvvvv05";
	const { one, two, stored } = await both("visit", id, visit());
	await two.update("visit", id, add("r1"));
	await new Promise((passed) => setTimeout(passed, 5));
	const typing = one.update("visit", id, add("r2"));
	const sent = one.get("visit", id); // without the other's r1
	await typing;
	await one.settle([sent], (/** @type {any} */ now) => afterPush(now, sent, { revision: "r1" }));
	const doc = await stored();
	assert.deepEqual([ids(doc), doc.revision], [["r0", "r1", "r2"], "r1"]);
	assert.equal((await tab()).isWaiting("visit", id), true, "the server has no r1 yet");
});

test("a fact that was typed and taken out again, before the phone had the first, stays out", async () => {
	const id = "cccccccccccccccccc03";
	const { one, two, stored } = await both("car", id, car());
	two.update("car", id, (/** @type {any} */ body) => {
		body.owner = "Ben";
	});
	one.update("car", id, (/** @type {any} */ body) => {
		body.facts.idle = fact("8");
	});
	await one.update("car", id, (/** @type {any} */ body) => {
		delete body.facts.idle;
	});
	const { body } = await stored();
	assert.deepEqual([body.owner, body.facts], ["Ben", {}]);
});

test("a car removed in one tab stays removed when the other goes on typing, and what it typed is in it", async () => {
	const id = "cccccccccccccccccc04";
	const { one, two, stored } = await both("car", id, car());
	await one.remove("car", id);
	await two.update("car", id, (/** @type {any} */ body) => {
		body.owner = "Ben";
	});
	const doc = await stored();
	assert.deepEqual([doc.deleted, doc.body.owner], [true, "Ben"]);
	await two.restore("car", id);
	assert.equal((await stored()).deleted, false);
});

test("an answer of the server leaves alone what another tab has typed meanwhile, and that waits", async () => {
	const id = "cccccccccccccccccc05";
	const { one, two, stored } = await both("car", id, car());
	const pushed = one.get("car", id);
	await two.update("car", id, (/** @type {any} */ body) => {
		body.owner = "typed while the push was under way";
	});
	const theirs = { ...pushed, revision: "r9", body: car({ name: "of the server" }) };
	await one.settle([pushed], (/** @type {any} */ now) =>
		afterPush(now, pushed, { revision: "r1", document: theirs }),
	);
	const doc = await stored();
	assert.deepEqual(
		[doc.body.owner, doc.body.name, doc.revision],
		["typed while the push was under way", "Linnet", "r1"],
	);
	assert.equal((await tab()).isWaiting("car", id), true);
	assert.equal(one.isWaiting("car", id), true);

	await one.settle([theirs], (/** @type {any} */ now, /** @type {boolean} */ waits) => afterPull(now, theirs, waits));
	assert.equal((await stored()).body.owner, "typed while the push was under way");
});

test("an answer that nobody has typed over is taken, and what this tab types during it goes on from it", async () => {
	const id = "cccccccccccccccccc06";
	const { one, stored } = await both("car", id, car());
	const pushed = one.get("car", id);
	const settling = one.settle([pushed], (/** @type {any} */ now) =>
		afterPush(now, pushed, {
			revision: "r1",
			document: { ...pushed, revision: "r2", body: car({ owner: "of the server" }) },
		}),
	);
	const typing = one.update("car", id, (/** @type {any} */ body) => {
		body.facts.idle = fact("8");
	});
	await Promise.all([settling, typing]);
	for (const { body, revision } of [await stored(), one.get("car", id)])
		assert.deepEqual(
			[body.facts.idle?.value, revision, body.owner],
			["8", revision === "r1" ? "r1" : "r2", revision === "r1" ? "" : "of the server"],
		);
	assert.equal(one.isWaiting("car", id), true);
});

const { unsaved } = await import("../app/js/kept/unsaved.js");

test("what the phone had no room for is not undone by another tab's change, and is saved on retry", async () => {
	const id = "cccccccccccccccccc07";
	const { one, two, stored } = await both("car", id, car());
	const put = IDBObjectStore.prototype.put;
	IDBObjectStore.prototype.put = () => {
		throw new DOMException("no room", "QuotaExceededError");
	};
	await assert.rejects(
		one.update("car", id, (/** @type {any} */ body) => {
			body.owner = "Ann";
		}),
	);
	IDBObjectStore.prototype.put = put;
	assert.equal(one.get("car", id).body.owner, "Ann");
	await two.update("car", id, (/** @type {any} */ body) => {
		body.facts.idle = fact("8");
	});
	await unsaved.saveAgain();
	assert.equal(unsaved.count(), 0);
	const { body } = await stored();
	assert.deepEqual([body.owner, body.facts.idle?.value], ["Ann", "8"]);
});

test("while another tab is at it a work is left alone, but not for ever; without locks it is done", async () => {
	const { onlyHere } = await import("../app/js/kit/platform.js");
	let done = 0;
	const work = async () => {
		done++;
	};
	const before = Object.getOwnPropertyDescriptor(globalThis, "navigator");
	const locked = (/** @type {unknown} */ lock) => ({
		locks: {
			request: async (/** @type {string} */ _, /** @type {any} */ how, /** @type {any} */ run) => {
				assert.equal(how.ifAvailable, true);
				return run(lock);
			},
		},
	});
	const have = (/** @type {unknown} */ value) =>
		Object.defineProperty(globalThis, "navigator", { value, configurable: true });
	try {
		have(locked(null)); // another tab holds it, and sleeps
		assert.deepEqual([await onlyHere("a", work, 40), done], [false, 0]);
		await new Promise((passed) => setTimeout(passed, 60));
		assert.deepEqual([await onlyHere("a", work, 40), done], [true, 1]);
		assert.deepEqual([await onlyHere("a", work, 40), done], [false, 1], "and then it waits again");
		have(locked({}));
		assert.deepEqual([await onlyHere("a", work, 40), done], [true, 2]);
		have({});
		assert.deepEqual([await onlyHere("a", work, 40), done], [true, 3]);
	} finally {
		if (before) Object.defineProperty(globalThis, "navigator", before);
		else Reflect.deleteProperty(globalThis, "navigator");
	}
});
