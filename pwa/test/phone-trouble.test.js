// A phone without room, and one whose store is taken away, with a real server.

import assert from "node:assert/strict";
import { test } from "node:test";
import { car, fact, newPhone, withServer } from "./phones.js";

withServer();

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
		const inShort = (/** @type {any} */ body) => [body.owner, body.facts.gap?.value];
		await full.ask("put", "car", id, car({ name: "Full" }));
		assert.equal(await full.ask("sync"), true);
		await full.ask("full", true);
		assert.equal(await full.ask("refusedPut", "car", id, car({ name: "Full", owner: "Dora" })), "refused");
		await full.ask("sync");
		assert.equal((await there()).owner, "Dora");
		assert.deepEqual([await full.ask("unsent"), await full.ask("areCarried")], [0, true]);
		await full.ask("refusedPut", "car", id, car({ name: "Full", owner: "Dora Quill" }));
		assert.deepEqual([await full.ask("unsent"), await full.ask("areCarried")], [1, false]);
		await full.ask("sync");
		assert.equal((await there()).owner, "Dora Quill");
		await other.ask("put", "car", id, { ...(await there()), facts: { gap: fact("15") } });
		await other.ask("sync");
		for (const owner of ["D. Quill", "D. Q."]) {
			await full.ask("refusedPut", "car", id, car({ name: "Full", owner }));
			await full.ask("sync");
			assert.deepEqual(inShort(await there()), [owner, "15"]);
		}
		const asked = (await full.ask("requests")).filter(isPut).length;
		await full.ask("sync");
		assert.equal((await full.ask("requests")).filter(isPut).length, asked, "what is there is sent again");
		assert.equal(await full.ask("areCarried"), true);
		await full.ask("draft", "reading/half", { rpm: "15" });
		assert.equal(await full.ask("areCarried"), false, "a draft is nowhere but in memory");
		await full.ask("full", false);
		await full.ask("saveAgain");
		assert.equal(await full.ask("sync"), true);
		assert.deepEqual(await full.ask("waiting"), []);
		assert.deepEqual(inShort((await full.ask("get", "car", id)).body), ["D. Q.", "15"]);
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
