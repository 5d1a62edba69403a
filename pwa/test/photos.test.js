// Photos: their ids, how small they are made, and the way into a garage file
// and out of it.

import "fake-indexeddb/auto";
import assert from "node:assert/strict";
import { createHash, randomBytes } from "node:crypto";
import { test } from "node:test";
Object.assign(globalThis, { BroadcastChannel: undefined });
const { digest } = await import("../app/js/kept/digest.js");
const { filePhotos, photosToSend, readPhotos } = await import("../app/js/kept/photos/photo-file.js");
const { awayPhotos, heldPhotos, keepPhoto, photo, photoBytes, photoType, strayPhotos } =
	await import("../app/js/kept/photos/photos.js");
const { makeBackup, readBackup } = await import("../app/js/kept/backup.js");
const { garage } = await import("../app/js/kept/garage.js");
const { loadKept } = await import("../app/js/kept/copies.js");
const { takeIn } = await import("../app/js/kept/take-in.js");
const { seenFrom } = await import("../app/js/kept/stand-in.js");
const { addPhoto, changePhoto, photosOf, subjects, useWords } = await import("../app/js/record/photos/visit-photos.js");
const { cardOf } = await import("../app/js/card/card.js");
const { shapes } = await import("../app/made/shapes.js");
const { fileTrouble, fitted, limits, squeezed } = await import("../app/js/photos/scaling.js");

await garage.open();
await loadKept();

const jpeg = (/** @type {number} */ length) =>
	new Uint8Array(Buffer.concat([Buffer.from([0xff, 0xd8, 0xff, 0xe0]), randomBytes(length)]));

test("an id is the first half of SHA-256, as node's own library and NIST's example have it", () => {
	assert.equal(digest(new TextEncoder().encode("abc")), "ba7816bf8f01cfea414140de5dae2223"); // FIPS 180-4, example
	// every length about the ends of a block, and some large ones
	for (const length of [...Array(200).keys(), 1023, 65_536, 400_000]) {
		const bytes = new Uint8Array(randomBytes(length));
		assert.equal(digest(bytes), createHash("sha256").update(bytes).digest("hex").slice(0, 32), `${length} bytes`);
	}
});

test("a photo is no larger than its limits, and keeps its shape", () => {
	assert.deepEqual(fitted({ width: 4000, height: 3000 }), { width: 1600, height: 1200 });
	assert.deepEqual(fitted({ width: 3000, height: 4000 }), { width: 1200, height: 1600 });
	assert.deepEqual(fitted({ width: 640, height: 480 }), { width: 640, height: 480 });
	assert.deepEqual(fitted({ width: 20_000, height: 2 }), { width: 1600, height: 1 });
	for (let n = 0; n < 300; n++) {
		const size = { width: 1 + Math.floor(Math.random() * 9000), height: 1 + Math.floor(Math.random() * 9000) };
		const { width, height } = fitted(size);
		assert.ok(width >= 1 && height >= 1 && Math.max(width, height) <= limits.side);
		assert.ok(width <= size.width && height <= size.height, "never blown up");
		// within half a pixel of the shape it had
		const scale = Math.min(1, limits.side / Math.max(size.width, size.height));
		assert.ok(Math.abs(width - size.width * scale) <= 0.5 || width === 1);
		assert.ok(Math.abs(height - size.height * scale) <= 0.5 || height === 1);
	}
});

test("quality gives way first, then size, until a photo fits", async () => {
	const came = { width: 4000, height: 3000 };
	/** @type {{side: number, quality: number}[]} */
	let asked = [];
	/** @param {number} perPixel bytes of a pixel at full quality */
	const encoder =
		(perPixel) =>
		async (/** @type {{width: number, height: number}} */ { width, height }, /** @type {number} */ q) => {
			asked.push({ side: width, quality: q });
			return { size: width * height * perPixel * q, width };
		};
	assert.equal((await squeezed(came, encoder(0.2)))?.width, 1600);
	assert.deepEqual(asked, [{ side: 1600, quality: 0.8 }], "what fits at once is tried once");
	asked = [];
	assert.equal((await squeezed(came, encoder(0.35)))?.width, 1600);
	assert.deepEqual(
		asked.map(({ quality }) => quality),
		[0.8, 0.7, 0.6, 0.5].slice(0, asked.length),
	);
	assert.ok(asked.length > 1);
	asked = [];
	const made = await squeezed(came, encoder(3));
	assert.ok(made && made.size <= limits.bytes && made.width < 1600);
	assert.equal(await squeezed(came, encoder(1e6)), null, "what never fits is said, not looped over");
	assert.equal(await squeezed(came, async () => null), null);
});

test("a file that is too large or empty is refused before it is opened", () => {
	assert.match(String(fileTrouble({ size: 30_000_000 })?.title), /too large: 30 MB/);
	assert.equal(fileTrouble({ size: 30_000_000 })?.limit, "25 MB");
	assert.match(String(fileTrouble({ size: 0 })?.title), /empty/);
	assert.equal(fileTrouble({ size: 12_000_000 }), null);
});

test("kinds of picture are told by their first bytes", () => {
	const of = (/** @type {string} */ text) => photoType(Uint8Array.from(Buffer.from(text, "latin1")));
	assert.deepEqual(
		["\xff\xd8\xff\xdb", "\x89PNG\r\n\x1a\n", "RIFFxxxxWEBPVP8 ", "RIFFxxxxWAVEfmt ", "<svg", "GIF89a", ""].map(of),
		["image/jpeg", "image/png", "image/webp", "", "", "", ""],
	);
});

const [carId, other] = ["carwithphotos0000000", "anothercar0000000000"];
const bytes = jpeg(3000);
const id = digest(bytes);

test("kept first, noted in today's visit, once, and taken out with a way back", async () => {
	await garage.put("car", carId, { name: "Linnet", owner: "", distributorId: "", facts: {}, demo: false });
	const car = /** @type {any} */ (garage.get("car", carId));
	assert.equal(await keepPhoto(bytes), id);
	assert.equal(await keepPhoto(bytes), id);
	assert.equal((await heldPhotos()).length, 1);
	assert.equal(await addPhoto(car, id, bytes.length), null);
	assert.equal(await addPhoto(car, id, bytes.length), null);
	assert.deepEqual(new Uint8Array(await /** @type {Blob} */ (await photo(id)).arrayBuffer()), bytes);
	const [{ visit, photo: noted }, ...more] = photosOf(carId);
	assert.deepEqual([noted.id, noted.bytes, noted.of, more.length], [id, "3004", "", 0]);
	await changePhoto(visit, id, (one) => Object.assign(one, { of: "cap", note: "cracked", removed: true }));
	assert.deepEqual(photosOf(carId), []);
	assert.ok(await photoBytes(id), "taken out is not thrown away");
	await addPhoto(car, id, bytes.length); // taken again: it is back, with what was said of it
	assert.deepEqual([photosOf(carId)[0].photo.note, photosOf(carId).length], ["cracked", 1]);
	const choices = shapes.visit.fields?.photos.each?.fields?.of.choices ?? [];
	assert.deepEqual([...subjects.map(({ value }) => value), ""].sort(), [...choices].sort());
});

test("a photo that was kept when the app was closed is found again, and put in once", async () => {
	const car = /** @type {any} */ (garage.get("car", carId));
	const fresh = jpeg(700);
	const stray = await keepPhoto(fresh, { takenFor: carId });
	const before = photosOf(carId).length;
	assert.deepEqual(
		(await strayPhotos(carId)).map((one) => one.id),
		[stray],
	);
	assert.deepEqual(await strayPhotos(other), []);
	await addPhoto(car, stray, fresh.length);
	assert.deepEqual(await strayPhotos(carId), []);
	assert.equal(photosOf(carId).length, before + 1);
	await changePhoto(photosOf(carId)[0].visit, stray, (one) => Object.assign(one, { removed: true }));
});

test("a day takes a hundred, and says so", async () => {
	await garage.put("car", other, { name: "Other", owner: "", distributorId: "", facts: {}, demo: false });
	const car = /** @type {any} */ (garage.get("car", other));
	const many = [...Array(100).keys()].map((n) => ({
		id: String(n).padStart(32, "0"),
		of: "",
		note: "",
		at: "",
		bytes: "1",
	}));
	await addPhoto(car, many[0].id, 1);
	await garage.update("visit", photosOf(other)[0].visit, (body) => {
		body.photos = many;
	});
	assert.match(String((await addPhoto(car, "f".repeat(32), 1))?.limit), /100 photos/);
	assert.equal(photosOf(other).length, 100);
	assert.equal(awayPhotos(await heldPhotos()).length, 100, "named and not here");
	await garage.remove("visit", photosOf(other)[0].visit);
	assert.equal(awayPhotos(await heldPhotos()).length, 0);
});

test("a car sees of another visit only the photos of the distributor that is in it", () => {
	const photos = ["cap", "mark", "points", "book"].map((of) => ({ id: of, of, note: "", at: "", bytes: "1" }));
	const visit = /** @type {any} */ ({ carId: "a", distributorId: "u", sets: [], photos });
	const seen = (/** @type {string} */ carId, /** @type {string} */ unit, body = visit) =>
		seenFrom(body, carId, unit).photos?.map(({ of }) => of);
	assert.deepEqual(seen("a", "u"), ["cap", "mark", "points", "book"]);
	assert.deepEqual(seen("b", "u"), ["cap", "points"]);
	assert.deepEqual(seen("a", "other"), ["mark", "book"]);
	assert.deepEqual(seen("b", "u", { ...visit, carId: "" }), ["cap", "mark", "points", "book"]);
	const { photos: _, ...without } = visit;
	assert.equal("photos" in seenFrom(without, "b", "u"), false);
});

test("a garage file has the photos only when they are to go along, and gives them back", async () => {
	const { ids, left } = await photosToSend();
	assert.deepEqual([ids.includes(id), ids.length, left], [true, 2, 0]);
	const without = makeBackup({ left: 1 });
	assert.equal(JSON.parse(without).photos, undefined);
	assert.ok(!without.includes(Buffer.from(bytes).toString("base64").slice(0, 40)));
	assert.equal(readBackup(without).leftOut, 1);
	const text = makeBackup({ photos: await filePhotos([id]) });
	assert.equal(JSON.parse(text).photos[0].data, Buffer.from(bytes).toString("base64"));
	const read = readBackup(text);
	assert.deepEqual([read.problem, read.photos, read.leftOut], [null, [bytes], 0]);
	assert.equal((await takeIn(read)).photos, 0, "they are here");
	const fresh = jpeg(500);
	assert.equal((await takeIn({ ...read, photos: [fresh] })).photos, 1);
	assert.deepEqual(await photoBytes(digest(fresh)), fresh);
});

test("a photo in a file that is not whole stops the whole file", () => {
	const data = Buffer.from(bytes).toString("base64");
	const whole = JSON.parse(makeBackup());
	const text = Buffer.from("no picture at all");
	for (const [photos, word] of /** @type {[any, string][]} */ ([
		[[{ id, data: `!${data}` }], "base64"],
		[[{ id }], "base64"],
		[[null], "base64"],
		[[{ id: "0".repeat(32), data }], "its id"],
		[[{ id: digest(new Uint8Array(text)), data: text.toString("base64") }], "no picture"],
		[[{ id: "x", data: Buffer.from(jpeg(1 << 20)).toString("base64") }], "1 MiB"],
		["many", "list"],
	])) {
		const { problem, documents, photos: read } = readBackup(JSON.stringify({ ...whole, photos }));
		assert.match(String(problem?.title), new RegExp(word));
		assert.deepEqual([documents, read], [[], []]);
	}
	assert.deepEqual(readPhotos(undefined), { photos: [], wrong: "" });
});

test("a card says nothing of photos", () => {
	const visits = garage.visits({ carId });
	const car = /** @type {any} */ (garage.get("car", carId));
	const of = (/** @type {any[]} */ visits) =>
		cardOf(/** @type {any} */ ({ car, distributor: null, visits }), { withEarlier: true });
	assert.ok(JSON.stringify(visits).includes(id), "the visits do");
	assert.deepEqual(of(visits), of(visits.map((one) => ({ ...one, body: { ...one.body, photos: undefined } }))));
	assert.ok(!JSON.stringify(of(visits)).includes(id) && !JSON.stringify(of(visits)).includes("cracked"));
});

test("what they take is said in words", () => {
	const use = { count: 2, bytes: 640_000, unsent: 1, away: 3, room: 2.1e9 };
	assert.equal(
		useWords(use, true),
		"2 photos on this phone, 0.6 MB. 1 not sent yet. 3 not here yet. The browser has room for 2.1 GB more.",
	);
	assert.equal(useWords({ ...use, away: 0, room: null }, false), "2 photos on this phone, 0.6 MB.");
	assert.equal(useWords({ ...use, count: 0, away: 0 }, true), "No photos yet.");
});
