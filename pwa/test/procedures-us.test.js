// Guided work in American words: no British term of the trade is left in it.

import "fake-indexeddb/auto";
import assert from "node:assert/strict";
import { after, test } from "node:test";
import { procedures } from "../app/js/bay/procedures/index.js";
import { speak } from "../app/js/kit/words.js";

after(() => speak("uk"));

test("titles, tools, steps and what to do on fail are American in America", () => {
	speak("us");
	const british =
		/\b(earth|earthed|spanner|petrol|tickover|handbrake|rotor arm|coil lead|sparking plug|anticlockwise|colour|baseplate|heel|strobe|test lamp|capsule|dynamo|bonnet|carburettor)\b/i;
	for (const { name, title, why, tools, before, steps } of procedures()) {
		const said = [title, why, ...tools, ...before];
		for (const step of steps) said.push(step.title, ...(step.text ?? []), ...(step.onFail ?? []));
		for (const text of said) assert.doesNotMatch(text, british, `${name}: ${text}`);
	}
});
