// The points of one distributor as the calculation takes them: as found, as
// left, over speed and vacuum, and the pairs from which its own slope of dwell
// against gap is learned.

import { inputs } from "../../made/shapes.js";
import { isIn } from "../record/figure-limits.js";
import { asWritten, parse, parseSpeed } from "../kit/format.js";
import { text, under } from "../record/visit-facts.js";
import { convert, figureIn, rangeIn } from "../kit/units.js";

/** @typedef {import("../record/car-electrics.js").Electrics} Electrics */

/** The runs of dwell over speed, in the order they are read. */
export const runs = [
	{ key: "idle", label: "Idle", suggested: "the speed it idles at" },
	{ key: "fast", label: "About 1500", suggested: "about 1500 engine rpm" },
	{ key: "again", label: "Idle again", suggested: "back at idle" },
	{ key: "high", label: "High, only to look for bounce", suggested: "3000 or more, 20 seconds at most" },
];

/** How many pairs for learning fit on the page, besides those as left. */
export const pairSlots = [1, 2, 3, 4];

/**
 * dwellOf reads a dwell in distributor degrees; null where it cannot be read
 * or would never open.
 * @param {Fact | undefined} fact @param {number} cylinders
 */
export function dwellOf(fact, cylinders) {
	const x = parse(fact?.value);
	if (x === null || x <= 0) return null;
	const degrees = fact?.unit === "%" ? (x * 360) / cylinders / 100 : x;
	return degrees < 360 / cylinders ? degrees : null;
}

/** gapOf reads a gap in mm. @param {Fact | undefined} fact */
export function gapOf(fact) {
	const mm = figureIn(fact, "mm");
	return mm !== null && mm > 0 && mm <= 2 ? mm : null;
}

/**
 * bookOf gives the book's ranges of gap (mm) and dwell (distributor degrees).
 * One figure alone gets the trade's tolerance, said in `taken`.
 * @param {Facts} distributor @param {number} cylinders
 */
export function bookOf(distributor, cylinders) {
	const { gap, dwell } = distributor;
	const few = cylinders >= 8 ? 1 : 2;
	return {
		gap: gap?.unit
			? rangeIn(
					gap.value,
					(x) => convert(x, gap.unit, "mm"),
					0.0254,
					"one figure only: 1 thou either side is taken, common practice",
				)
			: null,
		dwell: dwellRange(dwell, cylinders, few),
		each: dwellRange(distributor.dwellEach, cylinders, few),
		pair: dwellRange(distributor.dwellPair, cylinders, few),
	};
}

/** @param {Fact | undefined} fact @param {number} cylinders @param {number} few */
function dwellRange(fact, cylinders, few) {
	if (!fact) return null;
	const scale = fact.unit === "%" ? 3.6 / cylinders : 1;
	const range = rangeIn(
		fact.value,
		(x) => x * scale,
		few,
		`one figure only: ${few}° either side is taken, common practice`,
	);
	return range && range.min > 0 && range.max < 360 / cylinders ? range : null;
}

/**
 * pointsIn gives what points.judge takes; null while the number of cylinders
 * is not known.
 * @param {Electrics} electrics
 * @param {Facts} facts of the points
 * @param {Facts} distributor
 * @param {number | null} slope learned, degrees for a mm
 */
export function pointsIn(electrics, facts, distributor, slope) {
	const { cylinders } = electrics;
	if (electrics.electronic) return { cylinders: cylinders ?? 4, trigger: "electronic" };
	if (cylinders === null) return null;
	const book = bookOf(distributor, cylinders);
	const [gap, dwell] = [gapOf(facts.gap), dwellOf(facts.dwell, cylinders)];
	const state = text(facts, "state");
	const pivot = text(facts, "pivot");
	return {
		...(electrics.driveRatio === undefined ? {} : { driveRatio: electrics.driveRatio }),
		cylinders,
		trigger: "points",
		state: state || "unknown",
		platePivot: pivot || "unknown",
		...(gap === null ? {} : { gapMm: gap }),
		...(dwell === null ? {} : { dwellDistDeg: dwell }),
		...(book.gap ? { gapBookMm: ends(book.gap) } : {}),
		...(book.dwell ? { dwellBookDistDeg: ends(book.dwell) } : {}),
		...(slope !== null && slope < 0 ? { slopeDistDegPerMm: slope } : {}),
		...speedRuns(facts, cylinders),
		...vacuumRuns(facts, cylinders),
		...(electrics.twin ? twinOf(facts, cylinders, book) : {}),
	};
}

/**
 * leftIn gives what points.judge takes of the points as left; null while
 * neither gap nor dwell was read after setting. One of them alone is judged
 * alone: the other as found is no longer true. What wanders over speed or
 * vacuum stays, since no setting cures it.
 * @param {Electrics} electrics
 * @param {Facts} facts of the points
 * @param {Facts} distributor
 * @param {number | null} slope learned, degrees for a mm
 */
export function leftIn(electrics, facts, distributor, slope) {
	if (electrics.electronic || electrics.cylinders === null) return null;
	if (gapOf(facts.gapLeft) === null && dwellOf(facts.dwellLeft, electrics.cylinders) === null) return null;
	const { gap: _gap, dwell: _dwell, gapLeft, dwellLeft, ...rest } = facts;
	return pointsIn(
		electrics,
		{ ...rest, ...(gapLeft ? { gap: gapLeft } : {}), ...(dwellLeft ? { dwell: dwellLeft } : {}) },
		distributor,
		slope,
	);
}

/** @param {{min: number, max: number}} range */
const ends = ({ min, max }) => ({ min, max });

/** @param {Facts} facts @param {number} cylinders */
function speedRuns(facts, cylinders) {
	const speeds = runs.flatMap(({ key }) => {
		const [engineRPM, dwellDistDeg] = [
			parseSpeed(facts[`${key}.rpm`]?.value),
			dwellOf(facts[`${key}.dwell`], cylinders),
		];
		return engineRPM === null ||
			!isIn(engineRPM, inputs["points.judge"]["speeds.engineRPM"]) ||
			dwellDistDeg === null
			? []
			: [{ engineRPM, dwellDistDeg }];
	});
	return speeds.length ? { speeds } : {};
}

/** @param {Facts} facts @param {number} cylinders */
function vacuumRuns(facts, cylinders) {
	const vacuum = ["still", "drawn"].flatMap((key) => {
		const vacuumKPa = key === "still" ? 0 : figureIn(facts["drawn.vacuum"], "kPa");
		const dwellDistDeg = dwellOf(facts[`${key}.dwell`], cylinders);
		return vacuumKPa === null || vacuumKPa < 0 || vacuumKPa > 101 || dwellDistDeg === null
			? []
			: [{ vacuumKPa, dwellDistDeg }];
	});
	return vacuum.length ? { vacuum } : {};
}

/** @param {Facts} facts @param {number} cylinders @param {ReturnType<typeof bookOf>} book */
function twinOf(facts, cylinders, book) {
	const [first, second, pair] = ["twinFirst", "twinSecond", "twinPair"].map((key) => dwellOf(facts[key], cylinders));
	if (first === null || second === null || pair === null) return {};
	return {
		twin: {
			firstDistDeg: first,
			secondDistDeg: second,
			pairDistDeg: pair,
			...(book.each ? { each: ends(book.each) } : {}),
			...(book.pair ? { pair: ends(book.pair) } : {}),
		},
	};
}

/**
 * pairsOf gathers the pairs of gap and dwell of one distributor over all its
 * visits: those written down to learn from, those as left, and those as found
 * on new points. On used points a feeler reads pits, so they do not count.
 * @param {Doc<Visit>[]} visits of the distributor @param {number} cylinders
 */
export function pairsOf(visits, cylinders) {
	const pairs = visits.flatMap(({ body }) => {
		const facts = under(body.facts ?? {}, "points");
		const names = [
			...pairSlots.map((n) => [`pair${n}.gap`, `pair${n}.dwell`]),
			["gapLeft", "dwellLeft"],
			...(text(facts, "state") === "new" ? [["gap", "dwell"]] : []),
		];
		return names.flatMap(([gap, dwell]) => {
			const [gapMm, dwellDistDeg] = [gapOf(facts[gap]), dwellOf(facts[dwell], cylinders)];
			return gapMm === null || dwellDistDeg === null ? [] : [{ gapMm, dwellDistDeg }];
		});
	});
	const seen = new Set();
	return pairs.filter((pair) => !seen.has(JSON.stringify(pair)) && seen.add(JSON.stringify(pair))).slice(0, 50);
}

/**
 * dwellChange gives dwell as found and as left; null while one is not known.
 * @param {Facts} facts @param {number} cylinders
 */
export function dwellChange(facts, cylinders) {
	const [from, to] = [dwellOf(facts.dwell, cylinders), dwellOf(facts.dwellLeft, cylinders)];
	return from === null || to === null ? null : { from, to };
}

/**
 * perDegree is what a degree of dwell was measured to do to the timing here; null where 1 for 1 is taken.
 * @param {Facts} facts
 */
export function perDegree(facts) {
	const k = parse(text(facts, "perDegree"));
	return k !== null && k >= 0 && k <= 2 ? k : null;
}

/**
 * dwellNow is the dwell as it stands and where it comes from: as left, as
 * found, from the facts, or the middle of the book's range.
 * @param {Facts} facts of the points @param {Facts} distributor @param {number} cylinders
 * @returns {{dwell: number, from: string} | null}
 */
export function dwellNow(facts, distributor, cylinders) {
	const [left, found, idle] = [
		dwellOf(facts.dwellLeft, cylinders),
		dwellOf(facts.dwell, cylinders),
		dwellOf(distributor.dwellIdle, cylinders),
	];
	if (left !== null) return { dwell: left, from: "measured, as left" };
	if (found !== null) return { dwell: found, from: "measured, as found" };
	if (idle !== null)
		return {
			dwell: idle,
			from: `${distributor.dwellIdle.source || "source not given"}, dwell at idle in the facts`,
		};
	const book = bookOf(distributor, cylinders).dwell;
	return book ? { dwell: (book.min + book.max) / 2, from: "middle of the book’s range; not measured" } : null;
}

/**
 * The last change of points that undoes the timing, over a car's visits.
 * @param {Doc<Visit>[]} visits
 * @returns {{at: string, note: string} | null}
 */
export function lastChange(visits) {
	const changes = visits
		.map(({ body }) => body.facts?.["points.changed"])
		.filter((fact) => fact && fact.value !== "")
		.map((fact) => /** @type {Fact} */ (fact));
	const last = changes.sort((a, b) => asWritten(b.value, a.value))[0];
	return last ? { at: last.value, note: last.note } : null;
}
