// What a car, and a phone, may be called.

import { longest } from "../../made/shapes.js";

const longestName = longest["car.name"]; // characters

/**
 * nameProblem says what is wrong with a name, or null.
 * @param {string} name
 * @returns {FieldProblem | null}
 */
export function nameProblem(name) {
	const text = name.trim();
	if (text === "")
		return {
			field: "name",
			problem: "the car has no name yet",
			limit: `1 to ${longestName} characters`,
			do: "Type the name you call it by.",
		};
	if ([...text].length > longestName)
		return {
			field: "name",
			problem: `the name has ${[...text].length} characters`,
			limit: `${longestName} characters`,
			do: "Shorten it. More can go in the notes under Facts.",
		};
	if (/[<>]/.test(text))
		return {
			field: "name",
			problem: "the name contains < or >",
			limit: "letters, digits, spaces and other signs",
			do: "Take the < and > out.",
		};
	if (/[\u0000-\u001f\u007f-\u009f]/.test(text))
		return {
			field: "name",
			problem: "the name contains a control character",
			limit: "one line of ordinary text",
			do: "Type it again without line breaks or tabs.",
		};
	return null;
}
