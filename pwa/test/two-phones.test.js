// Two phones and the real server: the app's own sync against the real rules.

import assert from "node:assert/strict";
import { test } from "node:test";
import { address, car, fact, newPhone, phones, start, stop, withServer } from "./phones.js";
import { whole } from "../app/js/kept/whole.js";

withServer();

const [carId, visitId] = ["abcdefghij0123456789", "vvvvvvvvvv0123456789"];

/** @param {string} where @param {any} [options] */
const api = async (where, options) => (await fetch(`${address}api/v1/${where}`, options)).json();

const reading = (/** @type {string} */ id, /** @type {string} */ deg) => ({
	id,
	rpm: "800",
	deg,
	side: "before",
	direction: "rising",
	at: "",
});
const set = (/** @type {any[]} */ ...readings) => ({
	id: "s1",
	place: "car",
	angleUnit: "crank",
	speedUnit: "engine",
	base: "included",
	vacuum: "off",
	readingErrorCrankDeg: "",
	staticCrankDeg: "",
	staticSide: "before",
	readings,
});
const visit = (/** @type {any[]} */ ...readings) => ({
	carId,
	distributorId: "",
	date: "2026-05-01",
	title: "",
	notes: "",
	sets: [set(...readings)],
});

test(
	"a phone that knows no garage asks before it sends, and from then on sends first",
	{ timeout: 60_000 },
	async () => {
		const cy = await newPhone("Cy’s phone");
		const garageRequests = async () =>
			(await cy.ask("requests"))
				.filter((/** @type {string} */ line) => line.includes("/api/v1/garage"))
				.map((/** @type {string} */ line) => line.split(" ")[0]);
		await cy.ask("put", "car", "cccccccccc0123456789", car({ name: "Cy’s" }));
		assert.equal(await cy.ask("sync"), true);
		const first = await garageRequests();
		assert.deepEqual(first, ["GET", "PUT", "GET"]);
		await cy.ask("put", "car", "cccccccccc0123456789", car({ name: "Cy’s own" }));
		assert.equal(await cy.ask("sync"), true);
		assert.deepEqual((await garageRequests()).slice(first.length), ["PUT", "GET"]);
	},
);

test(
	"two phones edit the same car and visit offline: nothing is lost, the choice is listed, choosing works",
	{ timeout: 120_000 },
	async () => {
		const ann = await newPhone("Ann’s phone"),
			ben = await newPhone("Ben’s phone");
		await ann.ask("put", "car", carId, car());
		await ann.ask("put", "visit", visitId, visit(reading("r1", "8")));
		assert.equal(await ann.ask("sync"), true);
		assert.equal(await ben.ask("sync"), true);
		assert.equal((await ben.ask("get", "car", carId)).body.name, "Linnet");

		await ann.ask("put", "car", carId, car({ name: "Linnet of Ann", facts: { idle: fact("850") } }));
		await ann.ask("put", "visit", visitId, visit(reading("r1", "8"), reading("r2", "12")));
		await ben.ask("put", "car", carId, car({ name: "Linnet of Ben", facts: { plugGap: fact("0.025") } }));
		await ben.ask("put", "visit", visitId, visit(reading("r1", "8"), reading("r3", "17")));
		for (const phone of [ann, ben, ann]) assert.equal(await phone.ask("sync"), true);

		const [forAnn, forBen] = [await ann.ask("get", "car", carId), await ben.ask("get", "car", carId)];
		assert.deepEqual(forAnn, forBen);
		assert.equal(forAnn.body.name, "Linnet of Ben");
		assert.deepEqual([forAnn.body.facts.idle.value, forAnn.body.facts.plugGap.value], ["850", "0.025"]);
		for (const phone of [ann, ben]) {
			const { body } = await phone.ask("get", "visit", visitId);
			assert.deepEqual(body.sets[0].readings.map((/** @type {any} */ r) => r.id).sort(), ["r1", "r2", "r3"]);
			assert.deepEqual(await phone.ask("waiting"), []);
			assert.equal(await phone.ask("kept"), 1);
		}

		const { copies } = await api("kept");
		assert.equal(copies.length, 1);
		assert.match(copies[0].name, /^Linnet of Ann \(from Ann’s phone, \d{4}-\d\d-\d\d\)$/);
		const where = `garage/car/${carId}/kept/${copies[0].revision}`;
		assert.equal((await api(where)).body.name, "Linnet of Ann");
		const chosen = await api(where, {
			method: "POST",
			body: JSON.stringify({ take: "kept", current: forBen.revision }),
		});
		assert.equal(chosen.document.body.name, "Linnet of Ann");
		assert.equal(chosen.document.body.facts.plugGap.value, "0.025");
		assert.equal(await ben.ask("sync"), true);
		assert.equal((await ben.ask("get", "car", carId)).body.name, "Linnet of Ann");
		assert.equal(await ben.ask("kept"), 0);
	},
);

test("a lost answer, and more typed after it, makes no copy and loses nothing", { timeout: 120_000 }, async () => {
	const ann = await newPhone("Ann’s phone");
	assert.equal(await ann.ask("sync"), true);
	await ann.ask("put", "car", carId, car({ name: "First try" }));
	await ann.ask("syncWithoutAnswers");
	await ann.ask("put", "car", carId, car({ name: "Second try" }));
	assert.equal(await ann.ask("sync"), true);
	assert.equal((await api(`garage/car/${carId}`)).body.name, "Second try");
	assert.deepEqual((await api("kept")).copies, []);
	assert.deepEqual(await ann.ask("waiting"), []);
});

test(
	"deleted on one phone and edited on the other: it stays deleted, and the edit is a copy",
	{ timeout: 120_000 },
	async () => {
		const [ann, ben] = phones;
		for (const phone of [ann, ben]) assert.equal(await phone.ask("sync"), true);
		await ann.ask("remove", "car", carId);
		await ben.ask("put", "car", carId, car({ name: "Edited by Ben" }));
		for (const phone of [ann, ben]) assert.equal(await phone.ask("sync"), true);
		const onBen = await ben.ask("get", "car", carId);
		assert.deepEqual([onBen.deleted, onBen.body.name], [true, "Edited by Ben"]);
		const { copies } = await api("kept");
		assert.deepEqual(
			copies.map((/** @type {any} */ c) => c.why),
			["deleted elsewhere"],
		);
		const chosen = await api(`garage/car/${carId}/kept/${copies[0].revision}`, {
			method: "POST",
			body: JSON.stringify({ take: "kept", current: onBen.revision }),
		});
		assert.equal(chosen.document.deleted, false);
		assert.equal(await ann.ask("sync"), true);
		assert.equal((await ann.ask("get", "car", carId)).body.name, "Edited by Ben");
	},
);

test("another garage file on the server gets everything the phones hold", { timeout: 120_000 }, async () => {
	for (const phone of phones) assert.equal(await phone.ask("sync"), true);
	await stop();
	await start("new.db");
	for (const phone of phones) {
		for (const _ of [1, 2]) assert.equal(await phone.ask("sync"), true);
		assert.deepEqual(await phone.ask("waiting"), []);
	}
	assert.equal((await api(`garage/car/${carId}`)).body.name, "Edited by Ben");
	assert.equal((await api(`garage/visit/${visitId}`)).body.sets[0].readings.length, 3);
	assert.deepEqual((await api("kept")).copies, []);
});

test("what the app fills in for pages is what the server takes", { timeout: 60_000 }, async () => {
	const lean = /** @type {[Kind, any][]} */ ([
		["car", { name: "A", facts: { a: {} } }],
		["distributor", { sheet: { rows: [{}] } }],
		["visit", { sets: [{ id: "s", readings: [{ id: "r" }] }], facts: { a: {} }, events: [{ id: "e" }] }],
	]);
	for (const [kind, body] of lean) {
		const answer = await api(`garage/${kind}/filled00000000000001`, {
			method: "PUT",
			body: JSON.stringify({ base: "", changedAt: new Date().toISOString(), body: whole(kind, body) }),
		});
		assert.equal(typeof answer.revision, "string", JSON.stringify(answer));
	}
});

test(
	"a file of the phone and a file of the server hold all there is, removals and copies too, and each takes in the other's",
	{ timeout: 120_000 },
	async () => {
		const [bareId, goneId, leanId] = ["bare0000000000000001", "gone0000000000000001", "lean0000000000000001"];
		const put = (/** @type {string} */ id, /** @type {any} */ body, base = "") =>
			api(`garage/car/${id}`, {
				method: "PUT",
				body: JSON.stringify({ base, changedAt: new Date().toISOString(), body }),
			});
		const first = await put(goneId, car({ name: "Removed later" }));
		await api(`garage/car/${goneId}`, {
			method: "DELETE",
			body: JSON.stringify({ base: first.revision, changedAt: new Date().toISOString() }),
		});
		await api(`garage/car/${bareId}`, {
			method: "DELETE",
			body: JSON.stringify({ base: "", changedAt: new Date().toISOString() }),
		});
		const lean = await put(leanId, { name: "Lean" });
		await put(leanId, { name: "Leaner" }, lean.revision);
		await put(leanId, { name: "Leanest" }, lean.revision); // did not know of the one before
		const ofServer = await (await fetch(`${address}api/v1/export`)).text();

		const cid = await newPhone("Cid’s phone");
		const sum = await cid.ask("takeIn", ofServer);
		assert.deepEqual([sum.copies, sum.removed], [1, 2]);
		assert.ok((await cid.ask("removed")).includes(goneId), "with what was in it");
		assert.deepEqual(
			(await cid.ask("copies")).map((/** @type {any} */ body) => body.name),
			["Leaner"],
		);
		const held = await cid.ask("everything");
		assert.deepEqual(
			held.map((/** @type {any} */ doc) => `${doc.id} ${doc.deleted}`).sort(),
			JSON.parse(ofServer)
				.documents.map((/** @type {any} */ doc) => `${doc.id} ${doc.deleted}`)
				.sort(),
		);

		const ofPhone = await cid.ask("exported");
		await stop();
		await start("from-phone.db");
		const taken = await api("import", { method: "POST", body: ofPhone });
		assert.deepEqual([taken.removed, taken.kept], [1, 1], JSON.stringify(taken));
		const again = JSON.parse(await (await fetch(`${address}api/v1/export`)).text());
		const line = (/** @type {any} */ { kind, id, deleted, body }) => JSON.stringify({ kind, id, deleted, body });
		assert.deepEqual(again.documents.map(line).sort(), JSON.parse(ofServer).documents.map(line).sort());
		assert.deepEqual(again.kept.map(line), JSON.parse(ofServer).kept.map(line));
		const sums = await cid.ask("takeIn", JSON.stringify(again));
		assert.deepEqual(
			Object.values(sums).filter((n) => n),
			[],
			JSON.stringify(sums),
		);
	},
);

test("photos go after the documents, and come to another phone; a file put in the server's place gets them again", async () => {
	const [one, other] = [await newPhone("Photo one"), await newPhone("Photo two")];
	const bytes = new Uint8Array([0xff, 0xd8, 0xff, 0xe0, ...Array.from({ length: 900 }, (_, n) => (n * 37) % 251)]);
	const id = await one.ask("keepPhoto", bytes);
	await one.ask("put", "visit", "photovisit0123456789", {
		...{ carId, distributorId: "", date: "2026-05-01", title: "", notes: "", sets: [] },
		photos: [{ id, of: "cap", note: "", at: "", bytes: String(bytes.length) }],
	});
	assert.equal((await one.ask("photoUse")).unsent, 1);
	assert.equal(await one.ask("sync"), true);
	assert.deepEqual((await api("photos")).photos, [], "the documents alone");
	await one.ask("syncPhotos");
	assert.deepEqual((await api("photos")).photos, [id]);
	assert.equal((await one.ask("photoUse")).unsent, 0);
	const before = (await one.ask("requests")).length;
	await one.ask("syncPhotos");
	assert.equal((await one.ask("requests")).length, before, "nothing is asked where nothing waits");

	assert.equal(await other.ask("sync"), true);
	assert.equal((await other.ask("photoUse")).away, 1);
	await other.ask("syncPhotos");
	assert.deepEqual(await other.ask("photo", id), bytes);
	assert.equal((await other.ask("photoUse")).away, 0);

	// a document that waits goes first
	const more = await one.ask("keepPhoto", new Uint8Array([...bytes, 1]));
	await one.ask("put", "car", "photocar000000000000", car({}));
	await one.ask("syncPhotos");
	assert.deepEqual((await api("photos")).photos, [id]);
	assert.equal(await one.ask("sync"), true);
	await one.ask("syncPhotos");
	assert.deepEqual((await api("photos")).photos.sort(), [id, more].sort());

	await stop();
	await start("another.db");
	for (let n = 0; n < 4 && (n === 0 || (await one.ask("waiting")).length); n++) await one.ask("sync");
	await one.ask("syncPhotos");
	assert.deepEqual((await api("photos")).photos.sort(), [id, more].sort(), "a fresh file under the same address");
	await stop();
	await start("garage.db");
});
