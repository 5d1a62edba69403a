import assert from "node:assert/strict";
import { test } from "node:test";
import { latestOnly } from "../app/js/kit/latest-only.js";

/** @type {(() => void)[]} */
let frames = [];
Object.assign(globalThis, { requestAnimationFrame: (/** @type {() => void} */ fn) => frames.push(fn) });
const nextFrame = async () => {
	const due = frames;
	frames = [];
	due.forEach((fn) => fn());
	await new Promise((resolve) => setImmediate(resolve));
};

test("many wishes in one frame are one piece of work", async () => {
	let runs = 0;
	const refresh = latestOnly(
		async () => {
			runs++;
		},
		() => {},
	);
	for (let i = 0; i < 30; i++) refresh();
	await nextFrame();
	assert.equal(runs, 1);
});

test("a wish made during the work is granted once, afterwards, with the latest value", async () => {
	let value = 1;
	/** @type {number[]} */
	const drawn = [];
	/** @type {(() => void) | null} */
	let finish = null;
	const refresh = latestOnly(
		async () => {
			const asked = value;
			await new Promise((resolve) => {
				finish = () => resolve(undefined);
			});
			drawn.push(asked);
		},
		() => {},
	);
	refresh();
	await nextFrame();
	value = 2;
	refresh();
	value = 3;
	refresh();
	/** @type {any} */ (finish)();
	await nextFrame();
	await nextFrame();
	/** @type {any} */ (finish)();
	await nextFrame();
	assert.deepEqual(drawn, [1, 3]);
	assert.equal(frames.length, 0, "nothing is left running");
});

test("a refusal is told and does not stop the next wish", async () => {
	/** @type {string[]} */
	const told = [];
	let fails = true;
	let runs = 0;
	const refresh = latestOnly(
		async () => {
			if (fails) throw new Error("refused");
			runs++;
		},
		(problem) => told.push(problem.message),
	);
	refresh();
	await nextFrame();
	fails = false;
	refresh();
	await nextFrame();
	assert.deepEqual([told, runs], [["refused"], 1]);
});
