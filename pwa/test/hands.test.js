import assert from "node:assert/strict";
import { test } from "node:test";
import { layOutPaper } from "./paper-dom.js";

layOutPaper();
const { wayOf } = await import("../app/js/bay/hands.js");
const { aloud } = await import("../app/js/kit/spoken.js");

test("space, enter, arrows, pedals and the keys of a headset mean next or back", () => {
	for (const key of [
		" ",
		"Enter",
		"ArrowRight",
		"ArrowDown",
		"PageDown",
		"MediaTrackNext",
		"MediaPlayPause",
		"AudioVolumeUp",
		"AudioVolumeDown",
	])
		assert.equal(wayOf(key, false, false), "next", key);
	for (const key of ["ArrowLeft", "PageUp", "MediaTrackPrevious"])
		assert.equal(wayOf(key, false, false), "back", key);
	for (const key of ["a", "7", "Escape", "Tab"]) assert.equal(wayOf(key, false, false), "", key);
});

test("a field keeps the keys that type or move in it, a button those that press it", () => {
	assert.equal(wayOf("ArrowRight", true, false), "");
	assert.equal(wayOf("Enter", true, false), ""); // the field's own enter goes on
	assert.equal(wayOf("AudioVolumeUp", true, false), "next");
	assert.equal(wayOf(" ", false, true), "");
	assert.equal(wayOf("Enter", false, true), "");
	assert.equal(wayOf("ArrowRight", false, true), "next");
});

test("figures are written as they are said", () => {
	assert.equal(aloud("8.0° before TDC at 1\u202f500 rpm"), "8.0 degrees before T D C at 1500 R P M");
	assert.equal(aloud("−4.3"), "minus 4.3");
});
