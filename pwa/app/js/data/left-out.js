// Figures that stand in the garage and cannot be used: they are left out of
// the verdict and of the order of work, and named here with their place.

import { num, parse, rpm } from "../lib/format.js";
import { address } from "../lib/routes.js";
import { errorLimit, isUsable, isUsableStatic, readingLimits, staticLimits } from "./figure-limits.js";
import { complete } from "./sheet.js";
import { dayName } from "./visits.js";

/** @typedef {{text: string, href: string}} LeftOut what is left out and why; where it stands */

/**
 * leftOut lists what is left out of a car's readings.
 * @param {Doc<Visit>[]} visits
 * @returns {LeftOut[]}
 */
export function leftOut(visits) {
	return visits.flatMap(({ id, body }) => (body.sets ?? []).filter(({ removed }) => !removed).flatMap((set) => {
		const href = address("car", body.carId, "readings", id, set.id);
		return reasons(set).map((reason) => ({ text: `${reason} Left out, ${dayName(body.date)}.`, href }));
	}));
}

/** @param {VisitSet} set @returns {string[]} */
function reasons(set) {
	const out = [];
	const size = parse(set.staticCrankDeg);
	if (size !== null && !isUsableStatic(set.staticSide === "after" ? -size : size)) out.push(`Static figure ${set.staticCrankDeg.trim()}° ${set.staticSide || "before"} TDC cannot be: at most ${staticLimits.most} before, ${-staticLimits.least} after.`);
	for (const reading of complete(set)) {
		if (!isUsable(reading)) out.push(`Reading ${num(reading.deg)}° at ${rpm(reading.rpm)} cannot be: up to ${rpm(readingLimits.mostRPM)} rpm, ${num(readingLimits.leastDeg, 0)} to ${readingLimits.mostDeg} degrees.`);
	}
	const error = parse(set.readingErrorCrankDeg);
	if (error !== null && (error < 0 || error > errorLimit)) out.push(`A reading error of ${set.readingErrorCrankDeg.trim()} cannot be: 0 to ${errorLimit} degrees.`);
	return out;
}
