// Doubts about what is measured of the points and along the feed.

import { doubt, unreadable } from "../kit/doubt.js";
import { parse } from "../kit/format.js";
import { convert, figureIn } from "../kit/units.js";

/** @typedef {import("../kit/doubt.js").Doubt} Doubt */

/** gapDoubt asks outside 0.2 to 0.8 mm. @param {string} value @param {string} unit @returns {Doubt | null} */
export function gapDoubt(value, unit) {
	if (value.trim() === "") return null;
	const bad = unreadable(value);
	if (bad) return bad;
	if (!unit)
		return doubt("the unit of the gap is not chosen", "thou, mm or in", "Choose what your feeler is marked in.");
	const mm = figureIn({ value, unit }, "mm");
	if (mm !== null && mm >= 0.2 && mm <= 0.8) return null;
	return doubt(
		`${value.trim()} ${unit} is unusual for points`,
		`0.2 to 0.8 mm: ${Number((convert(0.2, "mm", unit) ?? 0).toFixed(3))} to ${Number((convert(0.8, "mm", unit) ?? 0).toFixed(3))} ${unit}`,
		"Is the unit right?",
	);
}

/**
 * dwellDoubt asks outside 25 to 75 % of the way from one spark to the next,
 * and refuses a dwell that never opens.
 * @param {string} value @param {string} unit @param {number | null} cylinders @returns {Doubt | null}
 */
export function dwellDoubt(value, unit, cylinders) {
	if (value.trim() === "") return null;
	const dwell = parse(value);
	if (dwell === null) return unreadable(value);
	const share = unit === "%" ? dwell : cylinders ? (dwell * cylinders) / 3.6 : null;
	if (share === null || (share >= 25 && share <= 75)) return null;
	if (dwell <= 0 || share >= 100)
		return {
			level: "stop",
			problem: dwell <= 0 ? "a dwell of nothing gives no spark" : "with that dwell the points would never open",
			limit: `more than 0, less than ${unit === "%" ? "100 %" : `${Number((360 / (cylinders ?? 1)).toFixed(1))} distributor degrees`}`,
			do: "Check the number of cylinders and the scale of the meter. It is kept as typed, and not counted.",
		};
	return doubt(
		`that is ${Math.round(share)} % of the way from one spark to the next`,
		"25 to 75 %",
		"Is the meter on the scale for another number of cylinders, or does it show the open angle?",
	);
}

/** speedDoubt asks about speeds that are no idle and no test. @param {string} value @returns {Doubt | null} */
export function speedDoubt(value) {
	const speed = parse(value.replace(/[\s\u202f]/g, ""));
	if (value.trim() === "") return null;
	if (speed === null) return unreadable(value);
	return speed >= 200 && speed <= 8000
		? null
		: doubt(
				`${value.trim()} is unusual`,
				"200 to 8000 engine rpm",
				"On a bench, type twice what the distributor turns.",
			);
}

/**
 * voltsDoubt asks about volts that this system does not have.
 * @param {string} value @param {6 | 12 | null} nominalV @param {boolean} isCranking @returns {Doubt | null}
 */
export function voltsDoubt(value, nominalV, isCranking) {
	const bad = unreadable(value);
	const volts = Math.abs(parse(value) ?? 0);
	if (bad || value.trim() === "" || nominalV === null) return bad;
	const most = nominalV === 6 ? 8 : 15.5;
	if (volts > 30)
		return doubt(
			`${value.trim()} V cannot be right here`,
			`at most ${most} V`,
			"Look at the meter’s range, and correct it. It is kept as typed, and not judged.",
		);
	if (volts <= most) return null;
	return doubt(
		`${value.trim()} V is much for a ${nominalV} V car ${isCranking ? "while cranking" : "with the engine still"}`,
		`at most ${most} V`,
		"Is the meter on the wrong range, or another battery in it? Nothing is passed on it.",
	);
}

/** signDoubt names a reading whose sign is against the others'. @param {string} value @returns {Doubt} */
export function signDoubt(value) {
	return doubt(
		`${value.trim()} V is the odd one out: some readings are positive and some negative`,
		"all of one sign",
		"Leave the meter’s one lead on the battery’s earth post throughout, and read this one again. It is kept as typed and left out; the rest is judged.",
	);
}
