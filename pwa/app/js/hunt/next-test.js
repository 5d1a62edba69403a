// One test of the hunt: the caution first, how it is done, what to expect on
// this car, and its answers: in words, or the figure itself.

import { answered } from "./hunt.js";
import { caution } from "../kit/caution.js";
import { h } from "../kit/dom.js";
import { button, textField } from "../kit/field.js";
import { parse } from "../kit/format.js";
import { firstCapital, inEnglish } from "../kit/words.js";
import { cautions } from "../safety/cautions.js";

/**
 * @typedef {object} Asked
 * @property {Doc<Car>} car @property {import("./hunt.js").Hunt} hunt
 * @property {any} test of faults.rank
 * @property {() => void} again draws the hunt anew
 * @property {(one: import("./hunt.js").Observation) => Promise<unknown>} judge fails where the figure tells nothing
 */

/** @param {Asked} asked */
export function nextTest(asked) {
	const { car, hunt, test, again } = asked;
	const { id, name, minutes, engine, how, expected, answers, cautions: hazards } = test;
	const texts = /** @type {{[id: string]: string}} */ (cautions());
	const lines = hazards.map((/** @type {string} */ one) => texts[one]).filter(Boolean);
	const answer =
		(/** @type {string} */ result, /** @type {string} */ seen, /** @type {string} */ says) => async () => {
			await answered(car, hunt, {
				id,
				result: /** @type {any} */ (result),
				seen,
				says: `${name}: ${says}`.slice(0, 2000),
			});
			again();
		};
	return h(
		"section",
		{ class: "next-test" },
		h("h2", null, inEnglish(firstCapital(name))),
		h("p", { class: "note" }, `About ${minutes} ${minutes === 1 ? "minute" : "minutes"}, engine ${engine}.`),
		lines.length ? caution("before this test", lines) : null,
		h("p", null, inEnglish(how)),
		h("p", { class: "lead" }, h("strong", null, "Expect: "), inEnglish(expected)),
		test.unit ? figure(asked) : null,
		answers.map((/** @type {any} */ one) =>
			button(firstCapital(inEnglish(one.says)), answer(one.result, one.id, one.says)),
		),
		button("Could not do it", answer("undone", "", "not done")),
	);
}

/** The figure as it was read, kept only where it tells something on this car. @param {Asked} asked */
function figure({ car, hunt, test: { id, name, unit }, again, judge }) {
	let typed = "";
	const take = async () => {
		const value = parse(typed);
		if (value === null)
			return field.setProblem({
				field: "figure",
				problem: typed.trim() ? `“${typed.trim()}” is no figure` : "no figure is typed",
				limit: `a number in ${unit}`,
				do: "Type what was read, or tap what was seen.",
			});
		/** @type {import("./hunt.js").Observation} */
		const one = { id, result: "", seen: "", value, unit, says: `${name}: ${typed.trim()} ${unit}`.slice(0, 2000) };
		try {
			await judge(one);
		} catch (problem) {
			return field.setProblem(/** @type {any} */ (problem));
		}
		await answered(car, hunt, one);
		again();
	};
	const field = textField({
		label: "The figure read",
		name: `figure-${id}`,
		value: "",
		unit,
		isNumber: true,
		maxLength: 20,
		onInput: (text) => {
			typed = text;
			field.setProblem(null);
		},
		onEnter: take,
	});
	return [field.element, button("Judge this figure", take)];
}
