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

test("what waits its turn is not late; what the engine sticks at is asked twice and given up", async (t) => {
	t.mock.timers.enable({ apis: ["setTimeout"] });
	const { messenger, workers } = start();
	workers[0].say({ ready: true });
	const asked = ["slow", "slow", "quick"].map((method) => messenger.ask(method, {}));
	for (let i = 0; i < 2; i++) {
		t.mock.timers.tick(15_000); // each in less than its own time, together in more
		workers[0].say({ id: workers[0].sent[i].id, ok: true, value: i });
	}
	assert.deepEqual(await Promise.all(asked.slice(0, 2)), [0, 1]);
	assert.equal(workers.length, 1, "the engine was started again although it answered in time");
	const next = messenger.ask("innocent", {});
	for (let i = 0; i < 2; i++) {
		t.mock.timers.tick(20_001);
		assert.equal(workers.length, i + 2);
		workers.at(-1).say({ ready: true });
	}
	await assert.rejects(asked[2], { unanswered: true });
	workers.at(-1).say({ id: workers.at(-1).sent.at(-1).id, ok: true, value: "answered" });
	assert.equal(await next, "answered");
	t.mock.timers.tick(60_000);
	assert.equal(workers.length, 3, "the engine was started again with nothing to do");
});

test("it is at work while it starts and while a question is open, and not when it cannot start", async () => {
	const { messenger, workers } = start();
	assert.equal(messenger.isAtWork, true);
	workers[0].say({ ready: true });
	assert.equal(messenger.isAtWork, false);
	const answer = messenger.ask("convert", 1);
	assert.equal(messenger.isAtWork, true);
	workers[0].say({ id: workers[0].sent[0].id, ok: true, value: "done" });
	assert.equal(await answer, "done");
	assert.equal(messenger.isAtWork, false);
	const other = start();
	other.workers[0].say({ ready: false, why: "no memory" });
	assert.equal(other.messenger.isAtWork, false);
});
