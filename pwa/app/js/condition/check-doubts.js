// Doubts about what is measured in the condition checks.

import { doubt, unreadable } from "../kit/doubt.js";
import { compressionBounds, compressions } from "../record/compressions.js";

/** @typedef {import("../kit/doubt.js").Doubt} Doubt */

/**
 * checkDoubt looks at a figure of a condition check.
 * @param {Pick<Measure, "id" | "unit" | "possible">} measure
 * @param {{value: string, unit: string}} fact
 * @param {number | null} figure in the measure's unit
 * @returns {Doubt | null}
 */
export function checkDoubt({ id, unit = "", possible }, { value, unit: typedIn }, figure) {
	if (value.trim() === "") return null;
	if (figure === null) return id === "B27" ? compressionsDoubt(value, typedIn) : unreadable(value);
	if (possible && (figure < possible.low || figure > possible.high))
		return doubt(
			`${Number(figure.toPrecision(4))} ${unit} cannot be right here`,
			`${possible.low} to ${possible.high} ${unit}`,
			"Look at the unit and the meter’s range, and correct it. It is kept as typed, and not judged.",
		);
	if (id === "B27" && figure > 25)
		return {
			level: "stop",
			problem: `the lowest is ${Math.round(figure)} % under the highest`,
			limit: "25 %",
			do: "Stop tuning: find the cause of the low compression first.",
		};
	return null;
}

/** @param {string} value @param {string} unit @returns {Doubt} */
function compressionsDoubt(value, unit) {
	const most = compressionBounds[unit]?.[1];
	const high = Math.max(...compressions(value));
	if (most !== undefined && high > most)
		return doubt(
			`${high} ${unit} is no compression`,
			`0 to ${most} ${unit}`,
			"Is the unit right? It is kept as typed, and not judged.",
		);
	return doubt(
		"the compressions cannot be read",
		"two or more figures with a dash or a space between, or one figure in %",
		"Type them cylinder by cylinder: 158-162-155-160. It is kept as typed, and not judged.",
	);
}
