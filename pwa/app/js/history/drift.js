// How dwell and base drift over the miles: heel wear closes the gap, dwell
// grows and the base goes late. What was read on each day, and when it is due.

import { bookOf, dwellOf } from "../electrics/points.js";
import { milesOf } from "../electrics/clock-distance.js";
import { cylindersOf, specOf } from "../record/known.js";
import { toReadingSet } from "../record/sheet.js";
import { asWritten } from "../kit/format.js";

/** @typedef {{date: string, miles?: number, value: number, reset?: "adjusted" | "new-points"}} DriftPoint */
/** @typedef {{min?: number, max?: number}} Limit */
/** @typedef {{what: "dwell" | "base", points: DriftPoint[], limit?: Limit, today: string}} DriftInput */

const most = 60; // record.drift's limit of points

/**
 * dwellInput gives what record.drift takes of the dwell; null where it was never read.
 * @param {import("../record/known.js").Given} given @param {Doc<Visit>[]} visits @param {string} today
 * @returns {DriftInput | null}
 */
export function dwellInput(given, visits, today) {
	const cylinders = cylindersOf(given);
	if (cylinders === null) return null;
	const points = inOrder(visits).flatMap(({ body }) => {
		const facts = body.facts ?? {};
		const [found, left] = [
			dwellOf(facts["points.dwell"], cylinders),
			dwellOf(facts["points.dwellLeft"], cylinders),
		];
		const isNew = (body.events ?? []).some(({ changed, removed }) => changed === "points-fitted" && !removed);
		/** @type {DriftPoint[]} */
		const out = [];
		if (found !== null) out.push(pointOf(body, found, isNew && left === null ? "new-points" : undefined));
		if (left !== null) out.push(pointOf(body, left, isNew ? "new-points" : "adjusted"));
		return out;
	});
	const range = bookOf(given.distributor?.body.facts ?? {}, cylinders).dwell;
	return whole("dwell", points, range ? { min: range.min, max: range.max } : undefined, today);
}

/**
 * baseInput gives the same of the base, as the test lamp proved it.
 * @param {import("../record/known.js").Given} given @param {Doc<Visit>[]} visits @param {string} today
 * @returns {DriftInput | null}
 */
export function baseInput(given, visits, today) {
	const points = inOrder(visits).flatMap(({ body }) => {
		const proved = (body.sets ?? [])
			.filter((set) => set.place === "car" && !set.removed)
			.flatMap((set) => toReadingSet(set).staticCrankDeg ?? []);
		const isSet = (body.events ?? []).some(({ changed, removed }) => setsTheBase.has(changed) && !removed);
		return proved.map((value, i) =>
			pointOf(body, value, i === proved.length - 1 && isSet ? "adjusted" : undefined),
		);
	});
	const spec = specOf(given);
	const [base, tolerance] = [spec?.baseCrankDeg, spec?.baseToleranceCrankDeg];
	const limit = base !== undefined && tolerance ? { min: base - tolerance, max: base + tolerance } : undefined;
	return whole("base", points, limit, today);
}

/** What moves the base: work.order's names. */
const setsTheBase = new Set(["distributor-moved", "distributor-fitted", "dwell-set", "points-fitted"]);

/** @param {Visit} body @param {number} value @param {DriftPoint["reset"]} reset @returns {DriftPoint} */
function pointOf(body, value, reset) {
	const miles = milesOf(body);
	return { date: body.date, ...(miles === null ? {} : { miles }), value, ...(reset ? { reset } : {}) };
}

/**
 * @param {DriftInput["what"]} what @param {DriftPoint[]} points @param {Limit | undefined} limit @param {string} today
 * @returns {DriftInput | null}
 */
const whole = (what, points, limit, today) =>
	points.length ? { what, points: points.slice(-most), ...(limit ? { limit } : {}), today } : null;

/** The earliest first; a day without a date tells nothing of wear. @param {Doc<Visit>[]} visits */
const inOrder = (visits) => visits.filter(({ body }) => body.date).sort((a, b) => asWritten(a.body.date, b.body.date));
