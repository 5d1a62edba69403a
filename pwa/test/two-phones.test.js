// Two phones and the real server: the app's own sync against the real rules.

import assert from "node:assert/strict";
import { execFile, spawn } from "node:child_process";
import { once } from "node:events";
import { mkdtemp, rm } from "node:fs/promises";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import path from "node:path";
import { after, before, test } from "node:test";
import { promisify } from "node:util";
import { Worker } from "node:worker_threads";
import { whole } from "../app/js/kept/whole.js";

const top = new URL("../..", import.meta.url).pathname;
const [carId, visitId] = ["abcdefghij0123456789", "vvvvvvvvvv0123456789"];
/** @type {any} */
let folder, program, server, address;
/** @type {any[]} */
const phones = [];

before(
	async () => {
		folder = await mkdtemp(path.join(tmpdir(), "two-phones-"));
		program = path.join(folder, "pointsmith");
		await promisify(execFile)("go", ["build", "-o", program, "./cmd/pointsmith"], { cwd: top });
		address = `http://127.0.0.1:${await freePort()}/`;
		await start("garage.db");
	},
	{ timeout: 240_000 },
);

after(async () => {
	for (const phone of phones) await phone.worker.terminate();
	await stop();
	await rm(folder, { recursive: true, force: true });
});

async function freePort() {
	const probe = createServer().listen(0, "127.0.0.1");
	await once(probe, "listening");
	const { port } = /** @type {any} */ (probe.address());
	probe.close();
	return port;
}

/** @param {string} file */
async function start(file) {
	server = spawn(program, ["serve", "-listen", new URL(address).host, "-data", path.join(folder, file)], {
		stdio: "ignore",
	});
	for (let n = 0; n < 400; n++) {
		if (
			await fetch(`${address}api/v1/status`).then(
				(answer) => answer.ok,
				() => false,
			)
		)
			return;
		await new Promise((done) => setTimeout(done, 50));
	}
	throw new Error("the server does not answer");
}

async function stop() {
	if (!server || server.exitCode !== null) return;
	server.kill("SIGTERM");
	await once(server, "exit");
}

/** @param {string} name */
async function newPhone(name) {
	const worker = new Worker(new URL("./phone.js", import.meta.url), { workerData: { address, name } });
	const ask = async (/** @type {string} */ what, /** @type {any[]} */ ...words) => {
		if (what !== "start") worker.postMessage({ do: what, with: words });
		const [answer] = await once(worker, "message");
		if (answer.error) throw new Error(answer.error);
		return answer.value;
	};
	await ask("start");
	const phone = { worker, ask };
	phones.push(phone);
	return phone;
}

/** @param {string} where @param {any} [options] */
const api = async (where, options) => (await fetch(`${address}api/v1/${where}`, options)).json();

const car = (/** @type {any} */ more) => ({
	name: "Linnet",
	owner: "",
	distributorId: "",
	facts: {},
	demo: false,
	...more,
});
const fact = (/** @type {string} */ value) => ({ value, unit: "", source: "measured", note: "" });
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

const isPut = (/** @type {string} */ line) => line.startsWith("PUT ");

test(
	"what a full phone cannot store reaches the server, goes on from there, and is kept once there is room",
	{ timeout: 60_000 },
	async () => {
		const id = "ffffffffff0123456789";
		const [full, other] = [await newPhone("The full phone"), await newPhone("Another phone")];
		const there = async () => {
			await other.ask("sync");
			return (await other.ask("get", "car", id)).body;
		};
		await full.ask("put", "car", id, car({ name: "Full" }));
		assert.equal(await full.ask("sync"), true);
		await full.ask("full", true);
		assert.equal(await full.ask("refusedPut", "car", id, car({ name: "Full", owner: "Dora" })), "refused");
		await full.ask("sync");
		assert.equal((await there()).owner, "Dora");
		assert.equal(await full.ask("unsent"), 0);
		await full.ask("refusedPut", "car", id, car({ name: "Full", owner: "Dora Quill" }));
		assert.equal(await full.ask("unsent"), 1);
		await full.ask("sync");
		assert.equal((await there()).owner, "Dora Quill");
		const theirs = { ...(await there()), facts: { gap: fact("15") } };
		await other.ask("put", "car", id, theirs);
		await other.ask("sync");
		await full.ask("refusedPut", "car", id, car({ name: "Full", owner: "D. Quill" }));
		await full.ask("sync");
		assert.deepEqual([(await there()).owner, (await there()).facts.gap.value], ["D. Quill", "15"]);
		await full.ask("refusedPut", "car", id, car({ name: "Full", owner: "D. Q." }));
		await full.ask("sync");
		assert.deepEqual([(await there()).owner, (await there()).facts.gap.value], ["D. Q.", "15"]);
		const asked = (await full.ask("requests")).filter(isPut).length;
		await full.ask("sync");
		assert.equal((await full.ask("requests")).filter(isPut).length, asked, "what is there is sent again");
		await full.ask("full", false);
		await full.ask("saveAgain");
		assert.equal(await full.ask("sync"), true);
		assert.deepEqual(await full.ask("waiting"), []);
		const now = (await full.ask("get", "car", id)).body;
		assert.deepEqual([now.owner, now.facts.gap.value], ["D. Q.", "15"]);
		assert.equal(await full.ask("kept"), 0);
	},
);

test("a store that is deleted under the open app is written again", { timeout: 60_000 }, async () => {
	const phone = await newPhone("Cleared");
	await phone.ask("put", "car", "gggggggggg0123456789", car({ name: "On the server" }));
	assert.equal(await phone.ask("sync"), true);
	await phone.ask("put", "car", "hhhhhhhhhh0123456789", car({ name: "Not sent" }));
	const before = (await phone.ask("stored")).sort();
	await phone.ask("deleteStore");
	for (let n = 0; n < 100 && (await phone.ask("stored")).length < before.length; n++)
		await new Promise((done) => setTimeout(done, 50));
	assert.deepEqual((await phone.ask("stored")).sort(), before);
	assert.ok(before.some(([name, waits]) => name === "Not sent" && waits));
});
