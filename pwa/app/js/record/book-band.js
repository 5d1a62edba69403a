// What the book allows at a speed, as the calculation says it, and as a figure
// draws it.

import { inputs } from "../../made/shapes.js";
import { ask } from "../engine/ask.js";

/**
 * corners lists the engine speeds at which the book's band has a corner.
 * @param {Spec} spec
 * @returns {number[]} engine rpm, ascending
 */
export function corners(spec) {
	const factor = spec.speedUnit === "distributor" ? (spec.driveRatio ?? 2) : 1;
	const speeds = spec.points.map((point) => point.rpm);
	if (spec.noAdvanceBelowRPM) speeds.push(spec.noAdvanceBelowRPM);
	return [...new Set(speeds.map((rpm) => rpm * factor))].sort((a, b) => a - b);
}

/**
 * allowed is what a sound distributor through the book's rows can show at a speed: what the judge judges by.
 * @param {BandAnswer} band
 */
export const allowed = ({ leastCrankDeg, mostCrankDeg, minCrankDeg, maxCrankDeg }) => ({
	least: leastCrankDeg ?? minCrankDeg,
	most: mostCrankDeg ?? maxCrankDeg,
});

/**
 * totalBands gives the book with the base in it; empty while the book's base
 * is not known.
 * @param {Spec} spec @param {number[]} [engineRPM] the table's own corners unless said
 * @returns {Promise<BandAnswer[]>}
 */
export async function totalBands(spec, engineRPM = corners(spec)) {
	if (spec.base === "excluded" && spec.baseCrankDeg === undefined) return [];
	return /** @type {Expectation} */ (await ask("advance.expect", { spec, engineRPM })).bands;
}

/**
 * advanceBands gives the book without base: crank degrees of advance, the
 * table's alone. Empty when the table holds a base that is not known.
 * @param {Spec} spec @param {number[]} [engineRPM] the table's own corners unless said
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
function lowered(band, base) {
	const { least, most } = allowed(band);
	return {
		...band,
		minCrankDeg: band.minCrankDeg - base,
		maxCrankDeg: band.maxCrankDeg - base,
		leastCrankDeg: least - base,
		mostCrankDeg: most - base,
	};
}

/**
 * Steps from one row to the next at which the range is drawn: its edges bend between rows. Chosen: a figure a hand wide
 * shows no finer bend.
 */
const stepsBetween = 6;

/** No speed above this is asked of the calculation, engine rpm: its own limit. */
const fastest = /** @type {number} */ (inputs["advance.expect"].engineRPM.max);

/**
 * drawnSpeeds lists the speeds at which the range is drawn: the rows, some
 * between, and on both sides of the table.
 * @param {Spec} spec @param {number} toRPM the figure reaches this far
 */
export function drawnSpeeds(spec, toRPM) {
	const own = corners(spec);
	const [first, last] = [own[0], /** @type {number} */ (own.at(-1))];
	const ends = [
		first / 8,
		first / 2,
		(first * 3) / 4,
		...own,
		...[0.25, 0.5, 1].map((share) => last + share * (Math.max(toRPM, last * 1.1) - last)),
	];
	const between = own
		.slice(1)
		.flatMap((rpm, i) =>
			Array.from({ length: stepsBetween - 1 }, (_, k) => own[i] + ((rpm - own[i]) * (k + 1)) / stepsBetween),
		);
	return [
		...new Set([...ends, ...between].filter((rpm) => rpm <= fastest).map((rpm) => Math.round(rpm * 100) / 100)),
	].sort((a, b) => a - b);
}

/**
 * bookFigure gives the book as a figure draws it: its rows as printed, and the
 * range between them and beside them.
 * @param {Spec} spec @param {"total" | "advance"} quantity @param {number} [toRPM] the figure reaches at least this far
 * @returns {Promise<BookFigure>}
 */
export async function bookFigure(spec, quantity, toRPM = 0) {
	const own = corners(spec);
	const bands = await (quantity === "total" ? totalBands : advanceBands)(spec, drawnSpeeds(spec, toRPM));
	const [first, last] = [own[0], /** @type {number} */ (own.at(-1))];
	return {
		rows: bands
			.filter(({ engineRPM }) => own.some((rpm) => Math.abs(rpm - engineRPM) < 0.01))
			.map((band) => ({ ...band, ...namedEdges(spec, band) })),
		range: bands.map((band) => {
			const { least, most } = allowed(band);
			return {
				engineRPM: band.engineRPM,
				minCrankDeg: least,
				maxCrankDeg: most,
				isOutside: band.engineRPM < first - 0.01 || band.engineRPM > last + 0.01,
			};
		}),
	};
}

/**
 * namedEdges gives the edges that the book names at one of its own speeds.
 * @param {Spec} spec @param {BandAnswer} band @returns {{minCrankDeg: number | null, maxCrankDeg: number | null}}
 */
export function namedEdges(spec, { engineRPM, minCrankDeg, maxCrankDeg }) {
	const factor = spec.speedUnit === "distributor" ? (spec.driveRatio ?? 2) : 1;
	const row = spec.points.find((point) => Math.abs(point.rpm * factor - engineRPM) < 0.01);
	return {
		minCrankDeg: row && row.minDeg === undefined ? null : minCrankDeg,
		maxCrankDeg: row && row.maxDeg === undefined ? null : maxCrankDeg,
	};
}
