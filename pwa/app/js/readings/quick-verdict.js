// A verdict on single readings as they are entered. It never holds up entry:
// where nothing can calculate it says nothing.

import { call } from "../engine/client.js";
import { isUsable } from "../record/figure-limits.js";
import { complete, driveRatio, toReadingSet, toSpec } from "../record/sheet.js";
import { num } from "../kit/format.js";

/**
 * @typedef {{verdict: "pass" | "watch" | "fail" | "unknown", text: string}} QuickVerdict
 */

/**
 * judgeSet judges every complete reading of a set that can be used and gives
 * verdicts by the index of the reading in complete(set).
 * @param {Sheet} sheet
 * @param {VisitSet} set
 * @returns {Promise<Map<number, QuickVerdict>>}
 */
export async function judgeSet(sheet, set) {
	const { spec } = toSpec(sheet);
	const readings = toReadingSet(set);
	const found = new Map();
	if (!spec || readings.points.length === 0) return found;
	const { points } = await call("advance.judge", { spec, readings: [readings] });
	const places = complete(set).flatMap((reading, place) => (isUsable(reading) ? [place] : []));
	for (const point of points) found.set(places[point.point], inWords(point, driveRatio(sheet)));
	return found;
}

/**
 * inWords says where one judged point lies, in crank and distributor degrees.
 * @param {JudgedPoint} point
 * @param {number} ratio
 * @returns {QuickVerdict}
 */
export function inWords({ verdict, deviationCrankDeg, minCrankDeg, maxCrankDeg, base, silent }, ratio) {
	const band = `${num(minCrankDeg)}–${num(maxCrankDeg)}° crank${base === "excluded" ? " over base" : ""}`;
	if (verdict === "unknown") return { verdict, text: "cannot be compared with the book yet" };
	if (deviationCrankDeg === 0)
		return {
			verdict,
			text: silent ? `no figure in the book at this speed; ${band} is possible` : `in band, ${band}`,
		};
	const off = `${deviationCrankDeg > 0 ? "high" : "low"} by ${num(Math.abs(deviationCrankDeg))}° crank, ${num(Math.abs(deviationCrankDeg) / ratio)}° distributor`;
	return {
		verdict,
		text: `${off}${verdict === "watch" ? " (within reading error)" : ""}; ${silent ? `no figure in the book here, only ${band} is possible` : `band ${band}`}`,
	};
}
