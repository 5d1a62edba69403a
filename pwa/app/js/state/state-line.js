// How a car stands, in the same words wherever it is said.

import { h } from "../kit/dom.js";
import { verdictMark } from "../kit/mark.js";
import { inEnglish } from "../kit/words.js";

/** @param {import("./car-state.js").CarState} state */
export const stateLine = ({ verdict, summary }) => [
	h("span", { class: "verdict-word" }, verdictMark(verdict)),
	h("span", { class: "note" }, ` ${inEnglish(summary)}`),
];

/** Keeps the place of the line until it is known. */
export const beingLookedAt = () => h("span", { class: "note" }, "How it stands is being worked out …");
