// Which readings a verdict is made from.

import assert from "node:assert/strict";
import { test } from "node:test";
import { changedSince, curvesRead, judgedSets, readingsForVerdict } from "../app/js/record/judged-sets.js";

let count = 0;
/** @param {string[]} degs @param {any} [more] */
const set = (degs, { at = "", direction = "rising", ...more } = {}) =>
	/** @type {any} */ ({
		id: `s${++count}`,
		place: "car",
		angleUnit: "crank",
		speedUnit: "engine",
		base: "included",
		vacuum: "off",
		readingErrorCrankDeg: "",
		staticCrankDeg: "",
		staticSide: "before",
		readings: degs.map((deg, i) => ({
			id: `r${++count}`,
			rpm: String(800 + 500 * i),
			deg,
			side: "before",
			direction,
			at,
		})),
		...more,
	});
/** @param {any[]} sets @param {any} [more] */
const visit = (sets, more = {}) =>
	/** @type {any} */ ({
		body: { carId: "c", distributorId: "d", date: "2026-05-01", title: "", notes: "", sets, ...more },
	});
/** @param {any[]} visits */
const judged = (visits) => judgedSets(visits, "car")?.sets.map(({ id }) => id);
const curve = ["8", "12", "20"];
const changed = (/** @type {string} */ at) => ({ id: at, at, changed: "distributor-moved" });

test("read again on the same day after a mend, the newest curve alone is judged", () => {
	const [before, after] = [set(curve), set(curve)];
	assert.deepEqual(judged([visit([before, after])]), [after.id]);
	assert.deepEqual(
		curvesRead([visit([before, after])], "car").map(({ set: { id } }) => id),
		[after.id, before.id],
	);
	const [early, late] = [set(curve, { at: "2026-05-01T09:00:00Z" }), set(curve, { at: "2026-05-01T11:00:00Z" })];
	assert.deepEqual(
		judged([visit([late, early])]),
		[late.id],
		"in the order they were read, as two phones may have put them in another",
	);
});

test("one base figure of a later day does not displace a curve", () => {
	const read = set(curve);
	assert.deepEqual(
		judged([
			visit([set(["12"])], { date: "2026-06-01" }),
			visit([set([], { staticCrankDeg: "12" })], { date: "2026-05-20" }),
			visit([read]),
		]),
		[read.id],
	);
	const base = set(["12"]);
	assert.deepEqual(
		judged([visit([base], { date: "2026-06-01" })]),
		[base.id],
		"but it is judged where there is no curve",
	);
});

test("a static figure and a few readings go with the curve beside them, but not across a change", () => {
	const still = set([], { staticCrankDeg: "8" });
	const read = set(curve, { at: "2026-05-01T10:00:00Z" });
	const later = set(["9"], { at: "2026-05-01T12:00:00Z" });
	assert.deepEqual(judged([visit([still, read, later])]), [still.id, read.id, later.id]);
	assert.deepEqual(
		judged([visit([still, read, later], { events: [changed("2026-05-01T09:00:00Z")] })]),
		[still.id, read.id, later.id],
		"proved by lamp, then read",
	);
	assert.deepEqual(judged([visit([still, read, later], { events: [changed("2026-05-01T11:00:00Z")] })]), [
		still.id,
		read.id,
	]);
	const early = set(["9"], { at: "2026-05-01T08:00:00Z" });
	assert.deepEqual(judged([visit([early, read], { events: [changed("2026-05-01T09:00:00Z")] })]), [read.id]);
	assert.deepEqual(
		judged([visit([early, read], { events: [{ ...changed("2026-05-01T09:00:00Z"), removed: true }] })]),
		[early.id, read.id],
	);
	assert.deepEqual(
		judged([visit([early, read], { events: [{ ...changed("2026-05-01T09:00:00Z"), changed: "idle-set" }] })]),
		[early.id, read.id],
		"an idle screw moves no timing",
	);
	const before = set(curve, { at: "2026-05-01T07:00:00Z" });
	assert.deepEqual(judged([visit([still, before, read])]), [read.id], "what went with the curve before goes with it");
});

test("rising in one set and falling in the next are one curve, unless something was changed between", () => {
	const [up, down] = [
		set(curve, { at: "2026-05-01T09:00:00Z" }),
		set(curve, { at: "2026-05-01T10:00:00Z", direction: "falling" }),
	];
	assert.deepEqual(judged([visit([up, down])]), [up.id, down.id]);
	assert.deepEqual(judged([visit([up, down], { events: [changed("2026-05-01T09:30:00Z")] })]), [down.id]);
});

test("readings with the pipe connected tell another curve: they are judged where there are no others", () => {
	const [off, on] = [set(curve), set(curve, { vacuum: "connected" })];
	assert.deepEqual(judged([visit([off, on])]), [off.id]);
	assert.deepEqual(judged([visit([on], { date: "2026-06-01" }), visit([off])]), [off.id]);
	assert.deepEqual(judged([visit([on])]), [on.id]);
});

test("bench and car are each judged by their newest; what is removed is not", () => {
	const [bench, gone, car] = [set(curve, { place: "bench" }), set(curve, { removed: true }), set(curve)];
	const readings = readingsForVerdict([visit([gone, bench], { date: "2026-06-01" }), visit([car])]);
	assert.deepEqual(
		readings.map(({ place, points }) => [place, points.length]),
		[
			["bench", 3],
			["car", 3],
		],
	);
	assert.equal(judgedSets([], "car"), null);
});

test("a change after the readings is seen, also in a later visit and where no reading bears a time", () => {
	const read = set(curve);
	const held = visit([read], { events: [changed("2026-05-01T18:00:00Z")] });
	assert.equal(changedSince([held], held.body, read), false);
	assert.equal(
		changedSince(
			[visit([], { date: "2026-05-02", events: [changed("2026-05-02T08:00:00Z")] }), held],
			held.body,
			read,
		),
		true,
	);
});
