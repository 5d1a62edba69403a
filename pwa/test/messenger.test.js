import assert from "node:assert/strict";
import { test } from "node:test";
import { Messenger } from "../app/js/engine/messenger.js";

/** A stand-in for the worker that a test can talk through. */
class Script {
	sent = [];
	ended = false;
	postMessage(message) {
		this.sent.push(message);
	}
	terminate() {
		this.ended = true;
	}
	say(data) {
		this.onmessage({ data });
	}
}

function start() {
	const workers = [];
	const messenger = new Messenger(
		() => {
			workers.push(new Script());
			return workers.at(-1);
		},
		() => {},
	);
	return { messenger, workers };
}

test("questions asked before the engine is ready are sent once it is, and answered by id", async () => {
	const {
		messenger,
		workers: [worker],
	} = start();
	const [one, two] = [messenger.ask("convert", 1), messenger.ask("convert", 2)];
	assert.equal(worker.sent.length, 0);
	worker.say({ ready: true });
	assert.deepEqual(
		worker.sent.map(({ input }) => input),
		[1, 2],
	);
	worker.say({ id: worker.sent[1].id, ok: true, value: "second" });
	worker.say({ id: worker.sent[0].id, ok: true, value: "first" });
	assert.deepEqual(await Promise.all([one, two]), ["first", "second"]);
});

test("a refusal reaches the one who asked as the problem it is", async () => {
	const {
		messenger,
		workers: [worker],
	} = start();
	worker.say({ ready: true });
	const asked = messenger.ask("advance.judge", {});
	worker.say({ id: worker.sent[0].id, ok: false, value: { title: "refused", field: "spec" } });
	await assert.rejects(asked, { field: "spec" });
});

test("an engine that crashes is started again and asked again, once", async () => {
	const { messenger, workers } = start();
	workers[0].say({ ready: true });
	const asked = messenger.ask("advance.fit", {});
	workers[0].say({ crashed: "out of memory" });
	assert.equal(workers[0].ended, true);
	workers[1].say({ ready: true });
	assert.equal(workers[1].sent.length, 1);
	workers[1].say({ crashed: "out of memory" });
	await assert.rejects(asked, { unanswered: true, detail: "out of memory" });
});

test("an engine that cannot be loaded says why to everyone who asked", async () => {
	const {
		messenger,
		workers: [worker],
	} = start();
	const asked = messenger.ask("convert", 1);
	worker.say({ ready: false, why: "not here (404)" });
	await assert.rejects(asked, { unanswered: true, detail: "not here (404)" });
	await assert.rejects(messenger.ask("convert", 2), { unanswered: true });
	assert.equal(messenger.state, "failed");
});
