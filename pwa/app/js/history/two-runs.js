// Two runs laid over one another: each as a line of one quantity, and by how
// much they differ at every speed that both reach.

import { at, bookOf, pairOf, ratioOf } from "../record/curve-lines.js";
import { toReadingSet } from "../record/sheet.js";
import { num, rpm } from "../kit/format.js";

/** @typedef {{set: VisitSet, spec: Spec | null, name: string}} Side a run, with the book of its distributor */
/** @typedef {import("../record/curve-lines.js").Line["points"]} Points */
/** @typedef {{engineRPM: number, one: number, other: number}} Gap in crank degrees */
/**
 * @typedef {object} Laid
 * @property {"total" | "advance"} quantity
 * @property {import("../record/curve-lines.js").Line} one
 * @property {import("../record/curve-lines.js").Line} other
 * @property {Gap[]} gaps ascending in speed
 * @property {Gap[]} falling the same while the speed falls, where both were read so
 * @property {number} error of a difference, crank degrees: both runs' reading errors together
 */

/**
 * layOver finds what both runs can be drawn as; null where one cannot be brought to the other.
 * @param {Side} one @param {Side} other @returns {Laid | null}
 */
export function layOver(one, other) {
	const [mine, theirs] = [asCard(one), asCard(other)];
	const pair = pairOf(mine, theirs);
	if (!pair) return null;
	const down = pairOf(asCard(one, "falling"), asCard(other, "falling"));
	const errors = [mine, theirs].map((card) => card.curves?.[0]).map((set) => Number(set?.readingErrorCrankDeg ?? 0));
	return {
		quantity: pair.quantity,
		one: pair.mine,
		other: pair.theirs,
		gaps: gapsOf(pair.mine.points, pair.theirs.points),
		falling: down && down.quantity === pair.quantity ? gapsOf(down.mine.points, down.theirs.points) : [],
		error: Math.hypot(...errors), // independent errors add as squares: JCGM 100:2008, 5.1.2
	};
}

/** bookFor gives the rows of the book in that quantity. @param {Side} side @param {Laid} laid */
export const bookFor = (side, { quantity }) => bookOf(asCard(side), quantity) ?? [];

/** ratioFor gives crank turns per distributor turn. @param {Side} side */
export const ratioFor = (side) => ratioOf(asCard(side));

/** @param {Side} side @param {"falling"} [only] @returns {SetupCard} */
function asCard({ set, spec, name }, only) {
	const read = toReadingSet(set);
	const points = only
		? read.points
				.filter(({ direction }) => direction === only)
				.map((point) => ({ ...point, direction: /** @type {const} */ ("rising") }))
		: read.points;
	return /** @type {SetupCard} */ ({ car: { name }, ...(spec ? { spec } : {}), curves: [{ ...read, name, points }] });
}

/**
 * @param {Points} one @param {Points} other
 * @returns {Gap[]}
 */
function gapsOf(one, other) {
	const speeds = [...new Set([...one, ...other].map(({ engineRPM }) => engineRPM))].sort((a, b) => a - b);
	return speeds.flatMap((engineRPM) => {
		const [here, there] = [at(one, engineRPM), at(other, engineRPM)];
		return here === null || there === null ? [] : [{ engineRPM, one: here, other: there }];
	});
}

/**
 * inWords says what changed: where the second has most more, and most less.
 * @param {Laid} laid @returns {string}
 */
export function inWords({ gaps, error }) {
	if (!gaps.length) return "No speed was read in both.";
	const by = gaps.map(({ engineRPM, one, other }) => ({ engineRPM, by: other - one })).sort((a, b) => b.by - a.by);
	const ends = [by[0], by[by.length - 1]].filter((end, i) => (i === 0 ? end.by > error : end.by < -error));
	if (!ends.length) return `Alike, as far as a reading can tell (${num(error)} crank degrees).`;
	return `The second run has ${ends
		.sort((a, b) => Math.abs(b.by) - Math.abs(a.by))
		.map(
			(end) =>
				`up to ${num(Math.abs(end.by))} crank degrees ${end.by > 0 ? "more" : "less"} at ${rpm(end.engineRPM)} engine rpm`,
		)
		.join(", and ")}.`;
}
