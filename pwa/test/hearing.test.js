import assert from "node:assert/strict";
import { test } from "node:test";
import { Sound, settled } from "../app/js/ear/hearing.js";

const heard = (engineRPM, sureness = "sure") => ({ engineRPM, sureness, clarity: 0.5, alternatives: [] });

test("a speed is shown once answers agree, and never from one alone", () => {
	assert.equal(settled([]), null);
	assert.equal(settled([heard(1500)]), null);
	assert.equal(settled([heard(1500), heard(1510)]).engineRPM, 1500);
	assert.equal(settled([heard(2642, "likely"), heard(2650, "likely")]), null);
	assert.equal(settled([heard(900), heard(2600), heard(1700), heard(4000)]), null);
	const changed = settled([heard(800), heard(800), heard(1500), heard(1505), heard(1495)]);
	assert.ok(Math.abs(changed.engineRPM - 1500) < 6);
});

test("answers that leave half or double open make the speed possible, no more", () => {
	assert.equal(settled([heard(1500), heard(1500, "possible"), heard(1500)]).sureness, "possible");
	assert.equal(settled([heard(1500), heard(1500), heard(1500)]).sureness, "sure");
	assert.equal(settled([heard(3000), heard(1500), heard(1500)]).sureness, "likely");
});

test("the last second is kept and packed; silence is not made loud", () => {
	const sound = new Sound();
	for (let i = 0; i < 20; i++) sound.add(12_000, new Float32Array(1024).fill(i < 10 ? 0.5 : 0.01));
	assert.equal(sound.isEnough, true);
	const bytes = Buffer.from(sound.pcm16(), "base64");
	assert.equal(bytes.length, 2 * 14_400);
	assert.ok(Math.abs(bytes.readInt16LE(0) - 0.9 * 32767) < 2);
	const quiet = new Sound();
	quiet.add(12_000, new Float32Array(14_400));
	assert.deepEqual([...new Set(Buffer.from(quiet.pcm16(), "base64"))], [0]);
	sound.add(11_025, new Float32Array(10));
	assert.equal(sound.isEnough, false);
});
