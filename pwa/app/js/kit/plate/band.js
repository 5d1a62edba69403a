// The book as a figure needs it: its rows, as they are printed, and the range
// that a sound distributor through them can show at every speed. Readings are
// judged by the range; the rows are all that the book says.

/**
 * @typedef {BookRow} BandPoint
 *
 * @typedef {object} RangePiece
 * @property {boolean} isOutside beside the table, where the book gives no figure
 * @property {RangePoint[]} points ascending in speed, at least two
 */

/**
 * The book's row at a speed; null where it has none.
 * @param {readonly BandPoint[]} rows
 * @param {number} engineRPM
 */
export function rowAt(rows, engineRPM) {
	return rows.find((row) => Math.abs(row.engineRPM - engineRPM) < 1) ?? null;
}

/**
 * The range cut into what lies between the book's rows and what lies beside
 * them, between two speeds. Neighbours share their end, so that no gap shows.
 * @param {readonly RangePoint[]} range ascending in speed
 * @param {number} fromRPM @param {number} toRPM
 * @returns {RangePiece[]}
 */
export function rangePieces(range, fromRPM, toRPM) {
	const seen = range.filter(({ engineRPM }) => engineRPM >= fromRPM && engineRPM <= toRPM);
	const inside = seen.filter(({ isOutside }) => !isOutside);
	const [first, last] = [inside[0]?.engineRPM ?? Infinity, inside.at(-1)?.engineRPM ?? -Infinity];
	const pieces = [
		{ isOutside: true, points: seen.filter(({ engineRPM }) => engineRPM <= first) },
		{ isOutside: false, points: inside },
		{ isOutside: true, points: seen.filter(({ engineRPM }) => engineRPM >= last) },
	];
	return pieces.filter(({ points }) => points.length > 1);
}

/**
 * How far a value stands outside the band at its speed: positive above, negative below, 0 inside.
 * @param {{minCrankDeg?: number | null, maxCrankDeg?: number | null}} band
 * @param {number} crankDeg
 */
export function outside(band, crankDeg) {
	if (band.maxCrankDeg != null && crankDeg > band.maxCrankDeg) return crankDeg - band.maxCrankDeg;
	if (band.minCrankDeg != null && crankDeg < band.minCrankDeg) return crankDeg - band.minCrankDeg;
	return 0;
}
