// Where a numbered callout may stand: near what it names, on nothing else.

/**
 * @typedef {import("./trace.js").Spot} Spot
 * @typedef {{x: number, y: number, width: number, height: number}} Box
 * @typedef {{number: number, anchor: Spot, at: Spot}} PlacedCallout
 */

const TURNS = [-90, -45, -135, 0, 180, 45, 135, 90, -67, -113, -22, -158, 22, 158, 67, 113];
const REACHES = [2.1, 2.8, 3.8, 5];

/**
 * Puts each callout's circle where it covers least: of sixteen directions and
 * four distances round its anchor the cheapest is taken, in the order given.
 * @param {readonly {number: number, anchor: Spot}[]} wanted
 * @param {readonly Spot[]} busy places that should stay readable (readings, line samples)
 * @param {Box} field the plot's inside
 * @param {number} r radius of the circle, px
 * @returns {PlacedCallout[]}
 */
export function placeCallouts(wanted, busy, field, r) {
	/** @type {PlacedCallout[]} */
	const placed = [];
	for (const { number, anchor } of wanted) {
		let best = { cost: Infinity, at: anchor };
		for (const at of candidates(anchor, r)) {
			const cost = costOf(at, anchor, placed, busy, field, r);
			if (cost < best.cost) best = { cost, at };
		}
		placed.push({ number, anchor, at: keepInside(best.at, field, r) });
	}
	return placed;
}

/** @param {Spot} anchor @param {number} r @returns {Spot[]} */
function candidates(anchor, r) {
	return REACHES.flatMap((reach) =>
		TURNS.map((turn) => {
			const a = (turn * Math.PI) / 180;
			return { x: anchor.x + Math.cos(a) * r * reach, y: anchor.y + Math.sin(a) * r * reach };
		}),
	);
}

/**
 * @param {Spot} at @param {Spot} anchor @param {readonly PlacedCallout[]} placed
 * @param {readonly Spot[]} busy @param {Box} field @param {number} r
 */
function costOf(at, anchor, placed, busy, field, r) {
	let cost = distance(at, anchor) / r;
	const kept = keepInside(at, field, r);
	if (kept.x !== at.x || kept.y !== at.y) cost += 60;
	for (const other of placed) {
		const gap = distance(at, other.at) / (2 * r);
		if (gap < 1.15) cost += 200 * (1.15 - gap) + 100;
		if (crosses(anchor, at, other.anchor, other.at)) cost += 25;
	}
	for (const spot of busy) {
		const gap = distance(at, spot) / r;
		if (gap < 1.7) cost += 12 * (1.7 - gap);
	}
	return cost;
}

/** @param {Spot} at @param {Box} field @param {number} r @returns {Spot} */
function keepInside(at, field, r) {
	return {
		x: Math.min(Math.max(at.x, field.x + r + 1), field.x + field.width - r - 1),
		y: Math.min(Math.max(at.y, field.y + r + 1), field.y + field.height - r - 1),
	};
}

/** @param {Spot} a @param {Spot} b */
export function distance(a, b) {
	return Math.hypot(a.x - b.x, a.y - b.y);
}

/**
 * Do the leaders a–b and c–d cross?
 * @param {Spot} a @param {Spot} b @param {Spot} c @param {Spot} d
 */
function crosses(a, b, c, d) {
	const side = (/** @type {Spot} */ p, /** @type {Spot} */ q, /** @type {Spot} */ s) =>
		Math.sign((q.x - p.x) * (s.y - p.y) - (q.y - p.y) * (s.x - p.x));
	return side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0;
}
