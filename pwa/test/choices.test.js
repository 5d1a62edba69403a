import assert from "node:assert/strict";
import { test } from "node:test";
import { cardRows } from "../app/js/card/card-rows.js";

test("what was chosen stands on the sheet in the words of the choice", () => {
	const chosen = {
		coilMarks: ["sw-cb", "SW and CB"],
		coilTerminal: ["-", "−"],
		coilMadeFor: ["positive", "positive earth"],
		firing: ["even-two-stroke", "evenly, and it is a two-stroke"],
		pointsSets: ["pair", "two sets that fire every cylinder together"],
		capsuleMeaning: ["start-full-most", "start, full, most"],
	};
	const facts = Object.fromEntries(Object.entries(chosen).map(([key, [value]]) => [key, { value }]));
	const rows = cardRows({
		car: {
			name: "One",
			facts: { ...facts, sparkAssumed: { value: "coil.leadOhm" }, firingOrder: { value: "1342" } },
		},
	});
	for (const [key, [, words]] of Object.entries(chosen))
		assert.equal(rows.find((row) => row.key === key)?.text, words);
	assert.equal(rows.find(({ key }) => key === "firingOrder")?.text, "1-3-4-2");
	assert.ok(rows.every(({ text }) => !text.includes("leadOhm")));
});
