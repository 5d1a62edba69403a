// Of every hazard a sentence stands open; what is behind a tap is more, never a hazard of its own.

import "fake-indexeddb/auto";
import assert from "node:assert/strict";
import { test } from "node:test";
import { firstSentence } from "../app/js/kit/caution.js";
import { cautionNames, cautions } from "../app/js/safety/cautions.js";

const most = 25; // words that stand open of one hazard (asked of the product)

test("what stands open of a caution is a whole sentence of at most 25 words", () => {
	const all = cautions();
	for (const name of cautionNames()) {
		const first = firstSentence(all[name]);
		assert.ok(all[name].startsWith(first) && /[.!?]$/.test(first), `${name}: ${first}`);
		assert.ok(first.split(/\s+/).length <= most, `${name} opens with ${first.split(/\s+/).length} words: ${first}`);
	}
});

test("a sentence is not cut inside a number or a short form", () => {
	assert.equal(firstSentence("Hold 1.5 bar. Then stop."), "Hold 1.5 bar.");
	assert.equal(firstSentence("One sentence only"), "One sentence only");
});
