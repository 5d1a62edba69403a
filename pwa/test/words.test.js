import assert from "node:assert/strict";
import { test } from "node:test";
import { inEnglish, speak } from "../app/js/kit/words.js";

test("sentences in American terms: whole words, capitals and plurals kept, sources of trouble with the article too", () => {
	speak("us");
	assert.equal(
		inEnglish("High tension throws the hand; the Rotor arm hits the cap."),
		"Secondary voltage throws the hand; the Rotor hits the cap.",
	);
	assert.equal(
		inEnglish("Plug leads, bushes and spanners; an earth that is not earthed."),
		"Plug wires, bushings and wrenches; a ground that is not grounded.",
	);
	assert.equal(inEnglish("Unearthly Bushmills wheels swing."), "Unearthly Bushmills wheels swing.");
	assert.equal(inEnglish(null), null);
	speak("uk");
	assert.equal(inEnglish("earth"), "earth");
});
