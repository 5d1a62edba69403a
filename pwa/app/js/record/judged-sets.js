// Which of a car's readings tell how it stands now: a verdict, the card and the
// order of work are made from these. Readings from before a mend are not mixed
// with those after it, and one base figure does not displace a curve.

import { complete, toReadingSet } from "./sheet.js";
import { asWritten } from "../kit/format.js";

/** Readings that a curve can be judged by: fewer tell a point, not a shape. Chosen. */
export const enoughReadings = 3;

/**
 * @typedef {{visit: {body: Visit}, main: VisitSet, sets: VisitSet[]}} Judged main: the set that tells most; sets: it
 *   and what belongs to it
 * @typedef {"bench" | "car"} Place
 */

/**
 * curvesRead lists the sets of one place that tell a curve, the newest first.
 * Those with the vacuum pipe connected stand behind the others: they tell
 * another curve.
 * @param {{body: Visit}[]} visits newest first @param {Place} place
 * @returns {{visit: {body: Visit}, set: VisitSet}[]}
 */
export function curvesRead(visits, place) {
	const all = visits.flatMap((visit) =>
		inOrder(visit.body, place)
			.filter(isCurve)
			.reverse()
			.map((set) => ({ visit, set })),
	);
	return [...all.filter(({ set }) => !isConnected(set)), ...all.filter(({ set }) => isConnected(set))];
}

/**
 * judgedSets gives the sets of one place that are judged together: the newest
 * curve and what belongs to it; without a curve, what the newest visit has.
 * @param {{body: Visit}[]} visits newest first @param {Place} place
 * @returns {Judged | null}
 */
export function judgedSets(visits, place) {
	const curve = curvesRead(visits, place).at(0);
	if (curve) return { visit: curve.visit, main: curve.set, sets: belonging(curve.visit.body, curve.set) };
	for (const isWanted of [(/** @type {VisitSet} */ set) => !isConnected(set), () => true]) {
		for (const visit of visits) {
			const sets = inOrder(visit.body, place).filter((set) => says(set) && isWanted(set));
			if (sets.length)
				return {
					visit,
					main: sets.reduce((best, set) => (complete(set).length >= complete(best).length ? set : best)),
					sets,
				};
		}
	}
	return null;
}

/**
 * readingsForVerdict gives them as the calculation takes them.
 * @param {{body: Visit}[]} visits newest first
 * @returns {ReadingSet[]}
 */
export function readingsForVerdict(visits) {
	return /** @type {Place[]} */ (["bench", "car"]).flatMap(
		(place) => judgedSets(visits, place)?.sets.map(toReadingSet) ?? [],
	);
}

/**
 * changedSince says whether something was changed on the car after a set was read.
 * @param {{body: Visit}[]} visits @param {Visit} visit @param {VisitSet} set
 */
export function changedSince(visits, visit, set) {
	const at = lastAt(set) || `${visit.date}T23:59:59Z`;
	return visits.some(({ body }) => changes(body).some((change) => change > at));
}

/**
 * A few readings, or a static figure alone, belong to the curve beside which they were taken, unless something was
 * changed between; and so does the same curve read the other way.
 * @param {Visit} visit
 * @param {VisitSet} main
 */
function belonging(visit, main) {
	const all = inOrder(visit, /** @type {Place} */ (main.place)).filter(says);
	const at = all.indexOf(main);
	const before = all.slice(0, at);
	const since = before.findLastIndex(isCurve);
	const otherWay =
		since >= 0 && isOtherWay(before[since], main) && !isChangedBetween(visit, before[since], main)
			? [before[since]]
			: [];
	return [
		...otherWay,
		...before.slice(since + 1).filter((set) => !isConnected(set) && !isChangedBetween(visit, set, main)),
		main,
		...all
			.slice(at + 1)
			.filter(
				(set) => !isCurve(set) && !isConnected(set) && !changes(visit).some((change) => change > lastAt(main)),
			),
	];
}

/** @param {VisitSet} one @param {VisitSet} other */
function isOtherWay(one, other) {
	const isAlike = /** @type {const} */ (["angleUnit", "speedUnit", "base", "vacuum"]).every(
		(key) => one[key] === other[key],
	);
	const ways = (/** @type {VisitSet} */ set) => new Set(complete(set).map(({ direction }) => direction));
	return isAlike && [...ways(one)].every((way) => !ways(other).has(way));
}

/**
 * A static figure alone bears no time: it stands.
 * @param {Visit} visit
 * @param {VisitSet} earlier
 * @param {VisitSet} later
 */
function isChangedBetween(visit, earlier, later) {
	const from = lastAt(earlier);
	return from !== "" && changes(visit).some((change) => change > from && change < lastAt(later));
}

/**
 * Changes, by work.order's names, after which timing reads otherwise (common practice; the first is arithmetic). An
 * idle screw, a pipe, a capsule, a fuel do not move it.
 */
export const timingChanges = new Set([
	"dwell-set",
	"points-fitted",
	"distributor-moved",
	"distributor-fitted",
	"distributor-rebuilt",
	"curve-changed",
	"mark-moved",
	"engine-work",
]);

/** When something was changed on the car in a visit that timing hangs on. @param {Visit} visit */
const changes = (visit) =>
	(visit.events ?? []).filter(({ changed, removed }) => timingChanges.has(changed) && !removed).map(({ at }) => at);

/**
 * The sets of one place that stand, in the order they were read: two phones may have put them in another.
 * @param {Visit} visit
 * @param {Place} place
 */
function inOrder(visit, place) {
	let last = "";
	return (visit.sets ?? [])
		.filter((set) => set.place === place && !set.removed)
		.map((set) => ({ set, at: (last = lastAt(set) || last) }))
		.sort((a, b) => asWritten(a.at, b.at))
		.map(({ set }) => set);
}

/** @param {VisitSet} set */
export const lastAt = (set) =>
	set.readings
		.filter(({ removed }) => !removed)
		.map(({ at }) => at ?? "")
		.sort()
		.at(-1) ?? "";

/** @param {VisitSet} set */
const isConnected = (set) => set.vacuum === "connected";

/** @param {VisitSet} set */
const isCurve = (set) => toReadingSet(set).points.length >= enoughReadings;

/** @param {VisitSet} set */
function says(set) {
	const { points, staticCrankDeg } = toReadingSet(set);
	return points.length > 0 || staticCrankDeg !== undefined;
}
