// The cases that the server and the app are both held to. What each list is
// stands at the top of the file; store/vectors_test.go reads it too.

import "fake-indexeddb/auto";
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { afterPush, onTopOf } from "../app/js/kept/merge.js";
import { rebase, same, unite } from "../app/js/kept/unite.js";
Object.assign(globalThis, { BroadcastChannel: undefined });
const { readBackup } = await import("../app/js/kept/backup.js");
const { garage } = await import("../app/js/kept/garage.js");
const { keptCopies, loadKept } = await import("../app/js/kept/copies.js");
const { takeIn } = await import("../app/js/kept/take-in.js");
const { whole } = await import("../app/js/kept/whole.js");

const cases = JSON.parse(readFileSync(new URL("../../testdata/merge/cases.json", import.meta.url), "utf8"));
await garage.open();
await loadKept();

/** same by meaning, with both shown when they differ. @param {any} got @param {any} want @param {string} what */
const means = (got, want, what) =>
	assert.ok(same(got, want), `${what}: got\n${JSON.stringify(got)}, want\n${JSON.stringify(want)}`);

/** Every text and number in a value, names aside. @param {any} value @returns {string[]} */
const texts = (value) =>
	typeof value === "object" && value !== null
		? Object.values(value).flatMap(texts)
		: [null, "", true, false].includes(value)
			? []
			: [JSON.stringify(value)];

for (const { name, base, older, newer, result, isLost, tabs = { result, isLost } } of [
	...cases.bodies,
	...cases.random,
]) {
	test(`bodies: ${name}`, () => {
		const [made, want] =
			base === undefined ? [unite(older, newer), { result, isLost }] : [rebase(base, newer, older), tabs];
		means(made.body, want.result, name);
		assert.equal(made.isLost, want.isLost, "isLost");
		const there = JSON.stringify([made.body, base, made.isLost ? older : null]);
		for (const text of [...texts(older), ...texts(newer)]) assert.ok(there.includes(text), `${text} is gone`);
	});
}

test("none of the cases is gone", () => {
	assert.ok(
		cases.bodies.length >= 40 &&
			cases.random.length >= 40 &&
			cases.documents.length &&
			cases.files.length &&
			cases.phone.length,
	);
});

for (const { name, base, current, incoming, result, kept } of cases.documents) {
	test(`documents: ${name}`, () => {
		/**
		 * A phone keeps what was in a document that is removed.
		 * @param {any} one
		 * @param {number} minute
		 * @param {string} revision
		 */
		const here = (one, minute, revision) => ({
			kind: "car",
			id: "a".repeat(20),
			mark: revision,
			revision,
			changedAt: `2024-05-01T12:0${minute}:00.000Z`,
			deleted: one.deleted,
			body: one.deleted ? base.body : one.body,
		});
		const made = onTopOf(
			here(current, 1, "r1"),
			{ ...here(incoming, 2, "r0"), mark: "typed" },
			here(base, 0, "r0"),
			"new",
		);
		assert.equal(made.doc.deleted, result.deleted);
		if (!result.deleted) {
			means(made.doc.body, result.body, name);
			assert.equal(made.isLost, kept === "current", "what gives way waits as a copy");
		}
		const there = JSON.stringify([made.doc.body, made.isLost ? current.body : null, base.body]);
		for (const text of [...texts(current.body), ...texts(incoming.body)])
			assert.ok(there.includes(text), `${text} is gone`);
	});
}

for (const [n, { name, here, files, result, copies }] of cases.files.entries()) {
	test(`files: ${name}`, async () => {
		const id = `car${String(n).padStart(15, "0")}`;
		for (const { at, deleted, body } of here)
			await (deleted ? garage.remove("car", id) : garage.put("car", id, body, at));
		for (const { at, deleted, body } of files) {
			const read = readBackup(
				JSON.stringify({
					format: "pointsmith garage 1",
					made: "2024-06-01T00:00:00Z",
					documents: [{ kind: "car", id, changedAt: at, deleted, body }],
				}),
			);
			assert.equal(read.problem, null);
			await takeIn(read);
		}
		const now = garage.get("car", id);
		assert.equal(now?.deleted ?? true, result.deleted);
		if (!result.deleted) means(now?.body, whole("car", result.body), name);
		const waiting = keptCopies()
			.filter((copy) => copy.id === id)
			.map(({ body }) => body);
		assert.equal(waiting.length, copies.length, "copies that wait");
		for (const want of copies)
			assert.ok(
				waiting.some((body) => same(whole("car", body), whole("car", want))),
				`no copy is ${JSON.stringify(want)}`,
			);
	});
}

for (const { name, now, pushed, answer, becomes, waits } of cases.phone) {
	test(`phone: ${name}`, () => {
		const made = afterPush(now, pushed, answer);
		means(made?.doc ?? now, becomes, name);
		assert.equal(made?.stillWaiting ?? true, waits);
	});
}
