// What figures.read has to ask: one question at a time, each answer with the
// first rows it would give.

import { h } from "../kit/dom.js";
import { button, selectField } from "../kit/field.js";
import { fold } from "../kit/fold.js";
import { inEnglish } from "../kit/words.js";

/** @typedef {import("./put-in.js").ReadTable} ReadTable @typedef {import("./put-in.js").Ask} Ask */

/** What a column may be, in words. */
const kinds = {
	skip: "not read",
	speed: "speed",
	deg: "degrees",
	minDeg: "least degrees",
	maxDeg: "most degrees",
	risingDeg: "degrees, rising",
	fallingDeg: "degrees, falling",
	direction: "direction",
	place: "place",
	vacuum: "vacuum",
	note: "note",
};

/**
 * askBox shows the first question.
 * @param {ReadTable} table @param {(id: string, answer: string) => void} onAnswer
 */
export function askBox({ asks }, onAnswer) {
	const [ask] = asks;
	const more = asks.length - 1;
	return h(
		"section",
		{ class: "figures-ask" },
		h("h3", { tabindex: -1, id: "figures-question" }, inEnglish(ask.question)),
		h("p", { class: "note" }, inEnglish(ask.why)),
		ask.choices.map(({ answer, text, preview }) => {
			const row = button(
				h(
					"span",
					null,
					h("strong", null, inEnglish(text)),
					preview.map((line) => h("small", { class: "figures-preview" }, inEnglish(line))),
				),
				() => onAnswer(ask.id, answer),
			);
			row.dataset.answer = answer;
			return row;
		}),
		more > 0 ? h("p", { class: "note" }, `${more} more question${more === 1 ? "" : "s"} after this one.`) : null,
	);
}

/**
 * columnsFold lets a person name the columns.
 * @param {ReadTable} table @param {(id: string, answer: string) => void} onAnswer
 */
export function columnsFold({ columns }, onAnswer) {
	if (columns.length === 0) return null;
	const chosen = columns.map(({ is }) => is);
	return fold(
		"figures/columns",
		{ title: "Name the columns yourself", level: "h3" },
		columns.map(({ head }, index) =>
			selectField({
				label: [`Column ${index + 1}`, ...(head ? [": ", h("bdi", null, head.slice(0, 60))] : [])],
				value: chosen[index],
				options: Object.entries(kinds).map(([value, text]) => ({ value, text })),
				onChange: (is) => {
					chosen[index] = is;
				},
			}),
		),
		button("Take these columns", () => onAnswer("columns", chosen.join(","))),
	);
}
