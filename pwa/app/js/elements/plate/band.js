// The book's band as the figure needs it: a straight line between the given
// speeds, the end value held above them and marked as held. Below them stands
// what the first corner says of it: rest, or only what is possible where the
// book is silent.

/**
 * @typedef {object} BandPoint
 * @property {number} engineRPM
 * @property {number} minCrankDeg
 * @property {number} maxCrankDeg
 * @property {BandBelow} [below] at the first corner: what stands before it
 *
 * @typedef {object} BandPiece
 * @property {boolean} held true where the book gives no figure and the end value is held
 * @property {boolean} [isSilent] the book says nothing here: the edges are those of what is possible
 * @property {{engineRPM: number, minCrankDeg: number | null, maxCrankDeg: number}[]} points ascending in speed, at least two
 */

/**
 * @param {readonly BandPoint[]} band
 * @returns {BandPoint[]}
 */
export function sortedBand(band) {
	return [...band].sort((a, b) => a.engineRPM - b.engineRPM);
}

/**
 * The band at one speed; null without a band.
 * @param {readonly BandPoint[]} band ascending in speed
 * @param {number} engineRPM
 * @returns {{engineRPM: number, minCrankDeg: number | null, maxCrankDeg: number, held: boolean} | null}
 */
export function bandAt(band, engineRPM) {
	const first = band[0];
	const last = band[band.length - 1];
	if (!first || !last) return null;
	if (engineRPM < first.engineRPM) return { ...edgesBelow(first), engineRPM, held: true };
	if (engineRPM === first.engineRPM) return { ...first, held: false };
	if (engineRPM >= last.engineRPM) return { ...last, engineRPM, held: engineRPM > last.engineRPM };
	const i = band.findIndex((p) => p.engineRPM >= engineRPM);
	const a = /** @type {BandPoint} */ (band[i - 1]);
	const b = /** @type {BandPoint} */ (band[i]);
	const t = (engineRPM - a.engineRPM) / (b.engineRPM - a.engineRPM);
	return {
		engineRPM,
		minCrankDeg: a.minCrankDeg + t * (b.minCrankDeg - a.minCrankDeg),
		maxCrankDeg: a.maxCrankDeg + t * (b.maxCrankDeg - a.maxCrankDeg),
		held: false,
	};
}

/**
 * The band cut into what the book gives and what is only held, between two speeds.
 * @param {readonly BandPoint[]} band ascending in speed
 * @param {number} fromRPM @param {number} toRPM
 * @returns {BandPiece[]}
 */
export function bandPieces(band, fromRPM, toRPM) {
	const first = band[0];
	const last = band[band.length - 1];
	if (!first || !last) return [];
	/** @type {BandPiece[]} */
	const pieces = [];
	if (first.engineRPM > fromRPM) {
		const edges = edgesBelow(first);
		pieces.push({ held: true, ...(first.below?.isSilent ? { isSilent: true } : {}), points: [{ ...edges, engineRPM: fromRPM }, { ...edges, engineRPM: first.engineRPM }] });
	}
	if (band.length > 1) pieces.push({ held: false, points: [...band] });
	if (last.engineRPM < toRPM) pieces.push({ held: true, points: [last, { ...last, engineRPM: toRPM }] });
	return pieces;
}

/** @param {BandPoint} first @returns {{minCrankDeg: number | null, maxCrankDeg: number}} */
function edgesBelow({ below, minCrankDeg, maxCrankDeg }) {
	return below ? { minCrankDeg: below.minCrankDeg, maxCrankDeg: below.maxCrankDeg } : { minCrankDeg, maxCrankDeg };
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
