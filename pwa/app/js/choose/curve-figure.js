// The figure of a chosen curve: the band of the target, where knock may begin,
// and the present curve as it was read.

import { num, rpm } from "../kit/format.js";
import { xyPlate } from "../kit/plate/xy-plate.js";

/**
 * @param {{target: any, places: any[], present: {name: string, curve: {points: {engineRPM: number, crankDeg:
 *   number}[]}} | null}} of
 */
export function curveFigure({ target, places, present }) {
	const open = places.filter(({ name }) => name === "full throttle");
	const last = target.points.at(-1);
	const band = [
		{ x: 500, lo: target.baseCrankDeg - 1, hi: target.baseCrankDeg + 1 },
		{ x: 900, lo: target.baseCrankDeg - 1, hi: target.baseCrankDeg + 1 },
		...target.points.map((/** @type {any} */ p) => ({ x: p.engineRPM, lo: p.minCrankDeg, hi: p.maxCrankDeg })),
		{ x: Math.max(5000, last.engineRPM + 200), lo: last.minCrankDeg, hi: last.maxCrankDeg },
	];
	const knock = open
		.filter(({ hasKnockLimit }) => hasKnockLimit)
		.map((p) => ({ x: p.engineRPM, y: p.knockLimitLowCrankDeg }));
	const marks = (present?.curve.points ?? []).map(({ engineRPM, crankDeg }) => ({
		x: engineRPM,
		y: crankDeg,
		words: `${rpm(engineRPM)} rpm ${present?.name}: ${num(crankDeg)} degrees`,
	}));
	const all = [...band.flatMap(({ lo, hi }) => [lo, hi]), ...knock.map(({ y }) => y), ...marks.map(({ y }) => y)];
	return xyPlate({
		number: 1,
		title: `Timing over speed, full throttle, vacuum off. Band: the target.${marks.length ? ` Marks: as read ${present?.name}.` : ""}`,
		lineWords: knock.length > 1 ? "Line: where knock may begin, its low end." : "No knock limit within reach.",
		x: { label: "engine rpm", lo: 400, hi: 5200 },
		y: {
			label: "crank degrees before TDC",
			lo: Math.min(0, Math.floor(Math.min(...all) / 5) * 5),
			hi: Math.max(40, Math.ceil(Math.max(...all) / 5) * 5),
		},
		band,
		line: knock,
		marks,
	});
}
