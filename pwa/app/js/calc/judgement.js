// Questions the concluding screens ask of the engine, with the last answers
// kept in memory so that coming back to a screen shows it whole at once.

import { call } from "./client.js";

/** @type {Map<string, Promise<any>>} */
const answered = new Map();
const KEPT = 60;

/**
 * ask is call with the answer kept while the app is open. A refusal is not
 * kept: the next try asks again.
 * @param {string} method @param {unknown} input
 * @returns {Promise<any>}
 */
export function ask(method, input) {
	const key = method + JSON.stringify(input);
	const known = answered.get(key);
	if (known) return known;
	const answer = call(method, input);
	answered.set(key, answer);
	answer.catch(() => answered.delete(key));
	if (answered.size > KEPT) answered.delete(/** @type {string} */ (answered.keys().next().value));
	return answer;
}

/**
 * corners lists the engine speeds at which the book's band has a corner.
 * @param {Spec} spec
 * @returns {number[]} engine rpm, ascending
 */
export function corners(spec) {
	const factor = spec.speedUnit === "distributor" ? spec.driveRatio ?? 2 : 1;
	const speeds = spec.points.map((point) => point.rpm);
	if (spec.noAdvanceBelowRPM) speeds.push(spec.noAdvanceBelowRPM);
	return [...new Set(speeds.map((rpm) => rpm * factor))].sort((a, b) => a - b);
}

/**
 * totalBands gives the book's band with the base in it; empty while the
 * book's base is not known. Its first corner says what stands below it.
 * @param {Spec} spec @param {number[]} [engineRPM] the band's own corners unless said
 * @returns {Promise<BandAnswer[]>}
 */
export async function totalBands(spec, engineRPM = corners(spec)) {
	if (spec.base === "excluded" && spec.baseCrankDeg === undefined) return [];
	const [first] = corners(spec);
	const { bands } = /** @type {Expectation} */ (await ask("advance.expect", { spec, engineRPM: [...engineRPM, first / 2] }));
	const below = belowOf(/** @type {BandAnswer} */ (bands.at(-1)));
	return bands.slice(0, -1).map((band) => (band.engineRPM === first ? { ...band, below } : band));
}

/** @param {BandAnswer} band a speed before the first corner @returns {BandBelow} */
function belowOf(band) {
	return { minCrankDeg: band.silent ? band.leastCrankDeg ?? null : band.minCrankDeg, maxCrankDeg: band.maxCrankDeg, isSilent: band.silent === true };
}

/**
 * advanceBands gives the book's band without base: crank degrees of advance,
 * the table's alone. Empty when the table holds a base that is not known.
 * @param {Spec} spec @param {number[]} [engineRPM] the band's own corners unless said
 * @returns {Promise<BandAnswer[]>}
 */
export async function advanceBands(spec, engineRPM = corners(spec)) {
	const alone = { ...spec, baseToleranceCrankDeg: 0 };
	if (spec.base === "excluded") return totalBands({ ...alone, baseCrankDeg: 0 }, engineRPM);
	const base = spec.baseCrankDeg;
	if (base === undefined) return [];
	return (await totalBands(alone, engineRPM)).map((band) => lowered(band, base));
}

/** @param {BandAnswer} band @param {number} base @returns {BandAnswer} */
function lowered({ below, leastCrankDeg, ...band }, base) {
	return {
		...band, minCrankDeg: band.minCrankDeg - base, maxCrankDeg: band.maxCrankDeg - base,
		...(leastCrankDeg === undefined ? {} : { leastCrankDeg: leastCrankDeg - base }),
		...(below && { below: { ...below, minCrankDeg: below.minCrankDeg === null ? null : below.minCrankDeg - base, maxCrankDeg: below.maxCrankDeg - base } }),
	};
}
