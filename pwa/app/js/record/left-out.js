// Figures that stand in the garage and cannot be used: they are left out of
// the verdict and of the order of work, and named here with their place.

import { figures } from "../../made/shapes.js";
import { num, parse, rpm } from "../kit/format.js";
import { address } from "../kit/address.js";
import { eitherSide, inWords, isUsable, isUsableError, isUsableStatic } from "./figure-limits.js";
import { complete } from "./sheet.js";
import { dayName } from "./visits.js";

/**
 * @typedef {{text: string, href: string, set?: string}} LeftOut what is left out and why; where it stands; set: among
 *   what is said of that set, before its readings
 */

/**
 * leftOut lists what is left out of a car's readings.
 * @param {Doc<Visit>[]} visits @param {string} carId under whose address they stand
 * @returns {LeftOut[]}
 */
export function leftOut(visits, carId) {
	return visits.flatMap(({ id, body }) =>
		(body.sets ?? [])
			.filter(({ removed }) => !removed)
			.flatMap((set) => {
				const href = address("car", carId, "readings", id, set.id);
				return reasons(set).map(({ text, ofSet }) => ({
					text: `${text} Left out, ${dayName(body.date)}.`,
					href,
					...(ofSet ? { set: set.id } : {}),
				}));
			}),
	);
}

/** @param {VisitSet} set @returns {{text: string, ofSet: boolean}[]} */
function reasons(set) {
	const out = [];
	const size = parse(set.staticCrankDeg);
	if (size !== null && !isUsableStatic(set.staticSide === "after" ? -size : size))
		out.push({
			ofSet: true,
			text: `Static figure ${set.staticCrankDeg.trim()}° ${set.staticSide || "before"} TDC cannot be: ${eitherSide(figures["visitSet.staticCrankDeg"])}.`,
		});
	for (const reading of complete(set)) {
		if (!isUsable(reading))
			out.push({
				ofSet: false,
				text: `Reading ${num(reading.deg)}° at ${rpm(reading.rpm)} cannot be: up to ${rpm(figures["reading.rpm"].max)} rpm, ${inWords(figures["reading.deg"])} degrees.`,
			});
	}
	const error = parse(set.readingErrorCrankDeg);
	if (error !== null && !isUsableError(error))
		out.push({
			ofSet: true,
			text: `A reading error of ${set.readingErrorCrankDeg.trim()} cannot be: ${inWords(figures["visitSet.readingErrorCrankDeg"])} degrees.`,
		});
	return out;
}
