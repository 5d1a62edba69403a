// The rules of a figure: a linear scale, round steps, and where the ticks fall.

/**
 * @typedef {object} Scale
 * @property {number} lo value at `from`
 * @property {number} hi value at `to`
 * @property {number} from drawing position of `lo`, px
 * @property {number} to drawing position of `hi`, px
 * @property {(value: number) => number} at value to px
 * @property {(px: number) => number} value px to value
 */

/** Steps a person counts in: engine speed by hundreds, degrees by ones, twos, fives. */
export const RPM_STEPS = [100, 200, 250, 500, 1000, 2000, 2500, 5000];
export const DEGREE_STEPS = [1, 2, 5, 10, 20, 50];

/**
 * A straight-line scale from [lo, hi] onto [from, to].
 * @param {number} lo @param {number} hi @param {number} from @param {number} to
 * @returns {Scale}
 */
export function linear(lo, hi, from, to) {
	const span = hi === lo ? 1 : hi - lo;
	return {
		lo,
		hi,
		from,
		to,
		at: (value) => from + ((value - lo) / span) * (to - from),
		value: (px) => lo + ((px - from) / (to - from)) * span,
	};
}

/**
 * The smallest step whose ticks stand at least `gap` px apart over `room` px.
 * @param {number} span value span @param {number} room px @param {number} gap px
 * @param {readonly number[]} steps ascending
 */
export function tickStep(span, room, gap, steps) {
	const fits = steps.find((step) => (step / span) * room >= gap);
	return fits ?? /** @type {number} */ (steps[steps.length - 1]);
}

/**
 * Every multiple of step inside [lo, hi], both ends included.
 * @param {number} lo @param {number} hi @param {number} step
 */
export function ticks(lo, hi, step) {
	const out = [];
	const slack = step * 1e-9;
	for (let i = Math.ceil((lo - slack) / step); i * step <= hi + slack; i++) out.push(i === 0 ? 0 : i * step);
	return out;
}

/**
 * [lo, hi] moved outward to whole steps, never empty.
 * @param {number} lo @param {number} hi @param {number} step
 * @returns {[number, number]}
 */
export function roundOut(lo, hi, step) {
	const low = Math.floor(lo / step + 1e-9) * step;
	const high = Math.ceil(hi / step - 1e-9) * step;
	return [low === 0 ? 0 : low, high > low ? high : low + step];
}

/**
 * Lowest and highest of the finite numbers in a list; null when there are none.
 * @param {Iterable<number | null | undefined>} values
 * @returns {[number, number] | null}
 */
export function extent(values) {
	let lo = Infinity;
	let hi = -Infinity;
	for (const value of values) {
		if (value == null || !Number.isFinite(value)) continue;
		lo = Math.min(lo, value);
		hi = Math.max(hi, value);
	}
	return lo <= hi ? [lo, hi] : null;
}
