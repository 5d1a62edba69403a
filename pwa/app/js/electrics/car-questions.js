// Questions about the car itself that a page cannot do without. They are asked
// where they are needed, kept among the facts, and never guessed.

import { keepFactOf } from "../record/car-electrics.js";
import { h } from "../kit/dom.js";
import { t } from "../kit/words.js";
import { choice } from "../kit/field.js";

/** @typedef {"voltage" | "earth" | "ballast" | "cylinders"} Asked */

/**
 * @returns {{[key in Asked]: {label: string, unit?: string, options: {value: string, label: string, note?: string}[]}}}
 */
const questions = () => ({
	voltage: {
		label: "Which system has this car?",
		unit: "V",
		options: [
			{ value: "6", label: "6 V" },
			{ value: "12", label: "12 V" },
		],
	},
	earth: {
		label: `Which battery terminal is on ${t("earth")}?`,
		options: [
			{ value: "positive", label: "positive (+)" },
			{ value: "negative", label: "negative (−)" },
		],
	},
	ballast: {
		label: "Is there a ballast in the feed to the coil?",
		options: [
			{ value: "none", label: "none" },
			{ value: "block", label: "block" },
			{ value: "resistance wire", label: "resistance wire" },
		],
	},
	cylinders: { label: "How many cylinders?", options: ["4", "6", "8"].map((value) => ({ value, label: value })) },
});

/**
 * carQuestions asks what of these is not known yet; null when all is known.
 * @param {Doc<Car>} car @param {Asked[]} asked @param {() => void} answered
 * @returns {HTMLElement | null}
 */
export function carQuestions(car, asked, answered) {
	const open = asked.filter((key) => (car.body.facts?.[key]?.value ?? "").trim() === "");
	if (open.length === 0) return null;
	const all = questions();
	let isAnswered = false; // answers given quickly one after the other draw the page once
	return h(
		"section",
		{ class: "car-questions" },
		h("h2", null, open.length === 1 ? "A question first" : "Questions first"),
		h(
			"p",
			{ class: "note" },
			"The answer is kept under Facts. It is not guessed: limits and drawing follow from it.",
		),
		open.map(
			(key) =>
				choice({
					label: all[key].label,
					name: key,
					value: "",
					isRow: true,
					options: all[key].options,
					onChange(value) {
						keepFactOf("car", car.id, key, { value, unit: all[key].unit ?? "" });
						open.splice(open.indexOf(key), open.includes(key) ? 1 : 0);
						if (open.length > 0 || isAnswered) return;
						isAnswered = true;
						answered();
					},
				}).element,
		),
	);
}
