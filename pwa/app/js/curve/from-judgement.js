// From an answer of the judge to the figures that show it: one for the
// distributor by itself (advance above base), one for what the engine gets
// (total before TDC). A figure that has no readings is left out.

import { lineAt } from "../kit/plate/trace.js";

/**
 * @typedef {object} Known everything that is known of one case
 * @property {Spec} spec
 * @property {ReadingSet[]} sets
 * @property {Judgement} judgement
 * @property {BookFigure} total the book with base
 * @property {BookFigure} advance the book without base
 */

/** @param {Spec} spec */
export const ratioOf = (spec) => spec.driveRatio ?? 2;

/**
 * The governor's line in crank degrees at engine rpm, raised by a base.
 * @param {readonly CurvePoint[]} curve @param {number} ratio @param {number} base crank degrees
 */
export function raised(curve, ratio, base) {
	return curve.map(({ distRPM, distDeg }) => ({ engineRPM: distRPM * ratio, crankDeg: base + distDeg * ratio }));
}

/**
 * @param {Known} known @param {"included" | "excluded"} base
 * @returns {PlatePoint[]}
 */
export function readingPoints({ judgement, sets, spec }, base) {
	const points = judgement.points
		.filter((p) => p.base === base)
		.map(
			(p) =>
				/** @type {PlatePoint} */ ({
					engineRPM: p.engineRPM,
					crankDeg: p.measuredCrankDeg,
					direction: p.direction,
					place: sets[p.set]?.place,
					minCrankDeg: p.minCrankDeg,
					maxCrankDeg: p.maxCrankDeg,
					verdict: p.verdict,
					isLone: p.alone,
					isSilent: p.silent,
				}),
		);
	if (base === "excluded") return points;
	return [...sets.flatMap((set) => staticPoint(set, spec)), ...points];
}

/**
 * A static figure has no speed; it stands at 0 rpm against the book's base.
 * @param {ReadingSet} set
 * @param {Spec} spec
 * @returns {PlatePoint[]}
 */
function staticPoint(set, spec) {
	if (set.staticCrankDeg === undefined) return [];
	const book = spec.baseCrankDeg;
	const tolerance = spec.baseToleranceCrankDeg ?? 0;
	const band = book === undefined ? {} : { minCrankDeg: book - tolerance, maxCrankDeg: book + tolerance };
	return [{ engineRPM: 0, crankDeg: set.staticCrankDeg, direction: "static", place: "car", ...band }];
}

/**
 * The base on which a fitted curve passes through the car's readings. A curve
 * fitted to the car's own readings stands on the base that was taken off them,
 * as the fit says; one fitted to bench readings on the base as judged.
 * @param {Pick<Fit, "baseCrankDeg"> | null} fit @param {number | null} judged crank degrees
 * @returns {number | null}
 */
export function baseUnderFit(fit, judged) {
	return fit ? (fit.baseCrankDeg ?? judged) : null;
}

/**
 * @param {Known} known
 * @param {Fit | null} fit
 * @returns {PlateInput[]}
 */
export function figuresOf(known, fit) {
	const { spec, judgement } = known;
	const ratio = ratioOf(spec);
	const bench = readingPoints(known, "excluded");
	const car = readingPoints(known, "included");
	/** @type {PlateInput[]} */
	const figures = [];
	if (bench.length) {
		figures.push({
			title: "The distributor by itself: advance above base, against the book.",
			axis: { quantity: "advance", driveRatio: ratio },
			bands: known.advance.rows,
			range: known.advance.range,
			points: bench,
			curves: fitted(fit, ratio, 0),
			limits: limitOf(spec, 0, ratio),
		});
	}
	if (car.length) {
		const base = judgement.baseCrankDeg;
		const under = baseUnderFit(fit, base);
		figures.push({
			title: "What the engine gets: total timing before TDC, against the book.",
			axis: { quantity: "total", baseCrankDeg: base ?? spec.baseCrankDeg ?? null, driveRatio: ratio },
			bands: known.total.rows,
			range: known.total.range,
			points: car,
			curves: under === null ? [] : fitted(fit, ratio, under),
		});
	}
	return figures.map((figure, i) => ({
		...figure,
		number: i + 1,
		callouts: calloutsOf(judgement.findings, figure, figures.length === 1),
	}));
}

/**
 * The curve to be expected of a mend: as found, after its first step, and at
 * the end. As totals where the base is known, else as advance.
 * @param {Pick<Known, "spec" | "total" | "advance">} known
 * @param {Fit | null} fit
 * @param {number | null} found the base as found, crank degrees
 * @param {MendOption} option
 * @returns {PlateInput}
 */
export function mendFigure({ spec, total, advance }, fit, found, { change, curve, stages = [] }) {
	const ratio = ratioOf(spec);
	const isTotal = total.rows.length > 0 && (change.baseCrankDeg ?? found) !== null;
	const book = isTotal ? total : advance;
	const onBase = (/** @type {GovernorChange} */ at) =>
		isTotal ? (at.baseCrankDeg ?? found ?? change.baseCrankDeg ?? 0) : 0;
	/** @type {PlateCurve[]} */
	const curves = [];
	if (fit) curves.push({ kind: "found", name: "as found", points: raised(fit.curve, ratio, onBase({})) });
	if (stages.length > 1)
		curves.push({
			kind: "what-if",
			name: "after the first change",
			points: raised(stages[0].curve, ratio, onBase(stages[0].change)),
		});
	curves.push({ kind: "fitted", name: "at the end", points: raised(curve, ratio, onBase(change)) });
	return {
		title: `What to expect of this repair: ${isTotal ? "total timing before TDC" : "advance above base"}, against the book.`,
		axis: {
			quantity: isTotal ? "total" : "advance",
			baseCrankDeg: isTotal ? onBase(change) : null,
			driveRatio: ratio,
		},
		bands: book.rows,
		range: book.range,
		points: [],
		curves,
	};
}

/** @param {Fit | null} fit @param {number} ratio @param {number} base @returns {PlateCurve[]} */
function fitted(fit, ratio, base) {
	return fit
		? [{ kind: "fitted", name: "the curve that fits the readings", points: raised(fit.curve, ratio, base) }]
		: [];
}

/** @param {Spec} spec @param {number} base @param {number} ratio */
export function limitOf(spec, base, ratio) {
	if (spec.limitDistDeg === undefined) return [];
	return [{ crankDeg: base + spec.limitDistDeg * ratio, text: `stop ${spec.limitDistDeg}` }];
}

/**
 * The callouts of a figure: each finding where it shows. What is wrong with
 * the curve is called out on the distributor's own figure when there is one,
 * because the base hides it on the other.
 * @param {readonly Finding[]} findings
 * @param {PlateInput} figure
 * @param {boolean} isAlone no second figure stands beside it
 */
export function calloutsOf(findings, figure, isAlone) {
	return findings.flatMap((finding, i) => {
		const at = placeOf(finding.code, figure, isAlone);
		return at ? [{ number: i + 1, ...at, text: finding.title }] : [];
	});
}

/** @param {string} code @param {PlateInput} figure @param {boolean} isAlone */
function placeOf(code, figure, isAlone) {
	const isTotal = figure.axis.quantity === "total";
	if (/^(base|idle)-/.test(code)) return isTotal ? basePlace(figure) : null;
	if (/^(wild|one-speed)-/.test(code)) return loneReading(figure);
	if (isTotal && !isAlone) return null;
	if (/^hysteresis/.test(code)) return widestGap(figure);
	if (/^limit-/.test(code)) return farthestOut(figure, 0.5);
	if (/^(curve-|some-out)/.test(code)) return farthestOut(figure, 0);
	if (/^bench-zero/.test(code)) return lowest(figure);
	return null;
}

/** @param {PlateInput} figure */
function loneReading({ points }) {
	const lone = points.find((p) => p.isLone);
	return lone ? { engineRPM: lone.engineRPM, crankDeg: lone.crankDeg } : null;
}

/** @param {PlateInput} figure */
function lowest({ points }) {
	const first = [...points].sort((a, b) => a.engineRPM - b.engineRPM)[0];
	return first ? { engineRPM: first.engineRPM, crankDeg: first.crankDeg } : null;
}

/** @param {PlateInput} figure */
function basePlace({ axis, points, curves }) {
	const still = points.find((p) => p.direction === "static");
	if (still) return { engineRPM: 0, crankDeg: still.crankDeg };
	const base = axis.baseCrankDeg;
	if (base == null) return null;
	const line = curves[0];
	return { engineRPM: 0, crankDeg: (line && lineAt(line.points, 0)) ?? base };
}

/**
 * The reading farthest out of band, above a share of the top speed.
 * @param {PlateInput} figure @param {number} share
 */
function farthestOut({ points }, share) {
	const top = Math.max(...points.map((p) => p.engineRPM));
	const out = points
		.filter((p) => p.engineRPM >= top * share && p.direction !== "static")
		.map((p) => ({ engineRPM: p.engineRPM, crankDeg: p.crankDeg, off: offBand(p) }))
		.filter((p) => p.off > 0.05)
		.sort((a, b) => b.off - a.off)[0];
	return out ? { engineRPM: out.engineRPM, crankDeg: out.crankDeg } : null;
}

/** @param {PlatePoint} p */
function offBand(p) {
	return Math.max(p.crankDeg - (p.maxCrankDeg ?? Infinity), (p.minCrankDeg ?? -Infinity) - p.crankDeg, 0);
}

/** Where falling and rising lie farthest apart. @param {PlateInput} figure */
function widestGap({ points }) {
	const gaps = points
		.filter((p) => p.direction === "falling")
		.flatMap((fall) => {
			const rise = points.find((p) => p.direction === "rising" && Math.abs(p.engineRPM - fall.engineRPM) < 1);
			return rise
				? [{ engineRPM: fall.engineRPM, crankDeg: fall.crankDeg, gap: Math.abs(fall.crankDeg - rise.crankDeg) }]
				: [];
		})
		.sort((a, b) => b.gap - a.gap)[0];
	return gaps ? { engineRPM: gaps.engineRPM, crankDeg: gaps.crankDeg } : null;
}
