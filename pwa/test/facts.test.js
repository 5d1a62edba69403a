import assert from "node:assert/strict";
import { test } from "node:test";
import { checks } from "../app/js/record/fact-checks.js";
import { firingOrderIn, firingOrderShown } from "../app/js/record/firing-order.js";
import { readBackup } from "../app/js/kept/backup.js";
import { nameProblem } from "../app/js/kept/car-name.js";

test("unusual facts are asked about with a limit and something to do", () => {
	const doubts = [
		checks.cylinders("16"),
		checks.capacity("50", "cc"),
		checks.compressionRatio("20"),
		checks.staticTiming("25", "before TDC"),
		checks.staticTiming("4", "after TDC"),
		checks.staticTiming("8", ""),
		checks.gap("15", "mm"),
		checks.gap("0.015", ""),
		checks.dwell("80", "distributor degrees", { cylinders: { value: "6" } }),
		checks.idleSpeed("3000"),
		checks.capsuleCode("12-4-7"),
		checks.firingOrder("1-3-4-4", "", {}),
		checks.firingOrder("1-3-4-2", "", { cylinders: { value: "6" } }),
		checks.coilOhm("1.5", "", { voltage: { value: "12" } }),
	];
	for (const [index, doubt] of doubts.entries()) {
		assert.equal(doubt?.level, "ask", String(index));
		for (const part of ["problem", "limit", "do"]) assert.ok(doubt[part], `${index} ${part}`);
	}
});

test("ordinary facts pass without a word", () => {
	const fine = [
		checks.cylinders("4"),
		checks.capacity("1250", "cc"),
		checks.staticTiming("8", "before TDC"),
		checks.gap("0.014-0.016", "in"),
		checks.gap("15", "thou"),
		checks.gap("0,4", "mm"),
		checks.dwell("60 ±3", "distributor degrees", { cylinders: { value: "4" } }),
		checks.firingOrder("1-3-4-2", "", { cylinders: { value: "4" } }),
		checks.coilOhm("3.1", "", { voltage: { value: "12" } }),
		checks.compression("158-162-155-160", "psi"),
		checks.capsuleCode("4-12-7"),
		checks.plugGap("0.025", "in"),
	];
	assert.deepEqual(
		fine,
		fine.map(() => null),
	);
});

test("what does harm says stop: a circuit that burns points, a cylinder without compression", () => {
	assert.equal(checks.coilOhm("0.9", "", {})?.level, "stop");
	assert.equal(checks.coilOhm("0.9", "", { trigger: { value: "separate box" } }), null);
	assert.equal(checks.compression("160-158-90-161", "psi")?.level, "stop");
});

test("names are refused with field, limit and next step, and only when they must be", () => {
	for (const name of ["", "   ", "x".repeat(81), "x".repeat(10_000), "<b>van</b>", "two\nlines"]) {
		const problem = nameProblem(name);
		for (const part of ["field", "problem", "limit", "do"])
			assert.ok(problem?.[part], `${name.slice(0, 10)} ${part}`);
	}
	for (const name of ["Van", "Großvaters Wagen № 2", "x".repeat(80), "🚗".repeat(80)])
		assert.equal(nameProblem(name), null);
});

test("a file is taken in whole or not at all", () => {
	const good = {
		kind: "car",
		id: "a".repeat(20),
		changedAt: "2024-01-01T00:00:00Z",
		deleted: false,
		body: { name: "Van", facts: {} },
	};
	const file = (...documents) => JSON.stringify({ format: "pointsmith garage 1", documents });
	assert.equal(readBackup(file(good)).documents.length, 1);
	const bad = [
		"",
		"{",
		"[]",
		JSON.stringify({ format: "other", documents: [] }),
		file({ ...good, kind: "boat" }),
		file({ ...good, id: "../x" }),
		file({ ...good, changedAt: "soon" }),
		file({ ...good, body: null }),
		file(good, { ...good, body: { name: "<script>", facts: {} } }),
		file({ ...good, kind: "visit", body: { sets: [{}] } }),
	];
	for (const text of bad) {
		const { documents, problem } = readBackup(text);
		assert.equal(documents.length, 0, text.slice(0, 40));
		assert.ok(problem?.title && problem.limit && problem.do, text.slice(0, 40));
	}
});

test("a firing order is read as people write it, and shown in one style", () => {
	for (const text of ["1243", "1 2 4 3", "1-2-4-3", "1, 2, 4, 3", " 1/2/4/3 "]) {
		assert.deepEqual(firingOrderIn(text), [1, 2, 4, 3], text);
		assert.equal(firingOrderShown(text), "1-2-4-3", text);
		assert.equal(checks.firingOrder(text, "", { cylinders: { value: "4" } }), null, text);
	}
	assert.deepEqual(firingOrderIn("1-10-9 4"), [1, 10, 9, 4]);
	assert.deepEqual(firingOrderIn(undefined), []);
	// from ten cylinders on nobody can tell where one ends
	const run = "1 12 5 8 3 10 6 7 2 11 4 9";
	assert.equal(checks.firingOrder(run, "", { cylinders: { value: "12" } }), null);
	assert.match(checks.firingOrder(run.replaceAll(" ", ""), "", {})?.limit ?? "", /dashes from ten cylinders/);
	assert.equal(firingOrderShown("not known"), "not known");
});
