// Runs keep their names apart: as found, after what was done, which run of it.

import assert from "node:assert/strict";
import { test } from "node:test";
import { changesBetween, runTitle, runsOf } from "../app/js/record/runs.js";
import { inWords, layOver } from "../app/js/history/two-runs.js";

let count = 0;
/** @param {[number, number][]} points @param {string} at @param {any} [more] */
const set = (points, at, more = {}) =>
	/** @type {any} */ ({
		id: `s${++count}`,
		place: "bench",
		angleUnit: "distributor",
		speedUnit: "distributor",
		base: "excluded",
		vacuum: "off",
		readingErrorCrankDeg: "1",
		staticCrankDeg: "",
		staticSide: "before",
		readings: points.map(([rpm, deg]) => ({
			id: `r${++count}`,
			rpm: String(rpm),
			deg: String(deg),
			side: "before",
			direction: "rising",
			at,
		})),
		...more,
	});
/** @param {any[]} sets @param {any[]} events @param {any} [more] */
const visit = (sets, events = [], more = {}) =>
	/** @type {any} */ ({
		id: `v${++count}`,
		body: { carId: "", distributorId: "d", date: "2026-05-01", title: "", notes: "", sets, events, ...more },
	});
const work = (/** @type {string} */ what, /** @type {string} */ at, changed = "curve-changed") =>
	/** @type {any} */ ({ id: at, at, what, changed, did: "replaced" });
/** @type {[number, number][]} */
const curve = [
	[400, 1],
	[800, 5],
	[1200, 10],
];
const names = (/** @type {any[]} */ visits) => runsOf(visits).map(({ name }) => name);

test("a run, two repairs, two more runs on one day have each its name", () => {
	const day = visit(
		[
			set(curve, "2026-05-01T12:00:00Z"),
			set(curve, "2026-05-01T08:00:00Z"),
			set(curve, "2026-05-01T10:00:00Z"),
			set(curve, "2026-05-01T12:30:00Z"),
		],
		[
			work("Primary spring replaced: 12 mm → 9 mm", "2026-05-01T09:00:00Z"),
			work("Stop or its plate adjusted", "2026-05-01T11:00:00Z"),
			work("Condenser replaced", "2026-05-01T12:15:00Z", ""),
		],
	);
	assert.deepEqual(names([day]), [
		"as found",
		"after primary spring replaced",
		"after stop or its plate adjusted",
		"after stop or its plate adjusted, run 2",
	]);
	const runs = runsOf([day]);
	assert.equal(new Set(runs.map(runTitle)).size, 4);
	assert.deepEqual(
		changesBetween([day], runs[0], runs[2]).map(({ what }) => what.split(":")[0]),
		["Primary spring replaced", "Stop or its plate adjusted"],
	);
	assert.deepEqual(
		changesBetween([day], runs[3], runs[2]).map(({ what }) => what),
		["Condenser replaced"],
		"what moves no curve is said as well, whichever run is named first",
	);
});

test("where nothing was ever changed nothing is called found; a change taken out changes nothing", () => {
	const one = visit([set(curve, "2026-05-01T08:00:00Z")]);
	assert.deepEqual(names([one]), [""]);
	const two = visit([set(curve, "2026-05-01T08:00:00Z"), set(curve, "2026-05-01T09:00:00Z")]);
	assert.deepEqual(names([two]), ["", "run 2"]);
	const other = visit([set(curve, "2026-06-01T09:00:00Z")], [], { date: "2026-06-01" });
	assert.deepEqual(names([other, one]), ["", ""], "another day says itself");
	const taken = visit(
		[set(curve, "2026-05-01T08:00:00Z"), set(curve, "2026-05-01T10:00:00Z")],
		[{ ...work("Primary spring replaced", "2026-05-01T09:00:00Z"), removed: true }],
	);
	assert.deepEqual(names([taken]), ["", "run 2"]);
});

test("a later day stands after the work of an earlier one, though its readings bear no time", () => {
	const first = visit(
		[set(curve, "2026-05-01T08:00:00Z")],
		[work("Points set", "2026-05-01T09:00:00Z", "dwell-set")],
	);
	const later = visit([set(curve, "")], [], { date: "2026-05-03" });
	assert.deepEqual(names([later, first]), ["as found", "after points set"]);
});

test("long words are cut at a word, within what a card may hold", () => {
	const day = visit(
		[set(curve, "2026-05-01T08:00:00Z"), set(curve, "2026-05-01T10:00:00Z")],
		[work(`The ${"very ".repeat(40)}old spring`, "2026-05-01T09:00:00Z")],
	);
	const [, name] = names([day]);
	assert.ok(name.endsWith("very…") && name.length < 60, name);
});

/** @param {any} one @param {any} other @param {any} [spec] @param {any} [otherSpec] */
const laid = (one, other, spec = null, otherSpec = spec) =>
	layOver({ set: one, spec, name: "one" }, { set: other, spec: otherSpec, name: "other" });

test("two runs are laid over one another in crank degrees, and the difference is said", () => {
	const later = /** @type {[number, number][]} */ ([
		[400, 1],
		[1000, 9],
		[1200, 8],
	]);
	const found = laid(set(curve, ""), set(later, ""));
	assert.ok(found);
	assert.deepEqual(
		found.gaps.map(({ engineRPM, one, other }) => [engineRPM, one, other]),
		[
			[800, 2, 2],
			[1600, 10, 2 + (16 * 400) / 600],
			[2000, 15, 18],
			[2400, 20, 16],
		],
	);
	assert.equal(
		inWords(found),
		"The second run has up to 4.0 crank degrees less at 2400 engine rpm, and up to 3.0 crank degrees more at 2000 engine rpm.",
	);
	assert.match(inWords(/** @type {any} */ (laid(set(curve, ""), set(curve, "")))), /^Alike, as far as a reading/);
	const apart = laid(
		set(curve, ""),
		set(
			[
				[3000, 4],
				[3400, 4],
			],
			"",
		),
	);
	assert.equal(inWords(/** @type {any} */ (apart)), "No speed was read in both.");
});

test("bench and car are brought together by the base alone, and only where it is known", () => {
	const strobe = set(
		[
			[800, 10],
			[2400, 28],
		],
		"",
		{ place: "car", angleUnit: "crank", speedUnit: "engine", base: "included" },
	);
	assert.equal(laid(set(curve, ""), strobe), null);
	const spec = { angleUnit: "crank", speedUnit: "engine", base: "excluded", baseCrankDeg: 8, points: [] };
	const found = laid(set(curve, ""), strobe, spec);
	assert.ok(found?.one.taken || found?.other.taken);
	assert.deepEqual(
		found.gaps.map(({ engineRPM, one, other }) => [engineRPM, other - one]),
		[
			[800, 0],
			[1600, 19 - 8 - 10],
			[2400, 0],
		],
	);
});
