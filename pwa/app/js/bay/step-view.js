// How one step is drawn: on the page, and large for busy hands.

import { fill, h } from "../kit/dom.js";
import { fold } from "../kit/fold.js";
import { hasFigures } from "./procedure-run.js";
import { mark, verdictWord } from "../kit/mark.js";
import { problemLine } from "../kit/field.js";
import { working } from "../kit/finding/working.js";
import { inEnglish } from "../kit/words.js";

/** @type {{[state in EngineState]: string}} */
export const engineWords = {
	off: "engine off",
	hand: "turned by hand",
	ignition: "ignition on, engine still",
	running: "engine running",
	fast: "engine running fast",
	bench: "on the bench",
	road: "on the road",
};

/** unbroken keeps “No.” and its number on one line. @param {string} text */
export const unbroken = (text) => text.replace(/No\. (\d)/g, "No.\u00a0$1");

const longTitle = 50; // letters; more stand in smaller type: chosen, so that a step has room on 390 by 844 px

/** The instruction of a step; a long one in smaller type. @param {ProcedureStep} step */
export const stepTitle = ({ title }) =>
	h("h2", { class: `step-title ${title.length > longTitle ? "is-long" : ""}`.trim() }, unbroken(title));

/** doneLabel is what the button that confirms a step says. @param {ProcedureStep} step */
export function doneLabel(step) {
	if (step.done) return step.done;
	if (step.startsEngine) return "It runs: next step";
	if (step.putsBack) return "Put back: next step";
	return step.asks ? "Next step" : "Done: next step";
}

/**
 * progress says where the step stands, in words and in ticks.
 * @param {string} title of the procedure @param {number} at from 0 @param {number} count
 * @param {EngineState | null} engine null: the step cannot be done yet
 */
export function progress(title, at, count, engine) {
	return h(
		"p",
		{ class: "step-place" },
		h("span", { class: "step-of" }, title),
		h("span", { class: "figures" }, `${at + 1} of ${count}`),
		engine ? h("span", { class: "engine-state" }, engineWords[engine]) : null,
	);
}

/**
 * stepText explains a step: open where nothing is asked, after the question where something is, folded after figures.
 * @param {ProcedureStep} step @param {boolean} isAsking
 */
export function stepText(step, isAsking) {
	const lines = (step.text ?? []).map((line) => h("p", null, line));
	if (!isAsking || !hasFigures(step) || !lines.length) return lines;
	return fold("do/more", { title: "More on this step", level: "h3" }, lines);
}

/**
 * great draws the figure the step is about; unknown is said.
 * @param {import("./procedure-figures.js").Figure | null} figure
 */
export function great(figure) {
	if (!figure)
		return h(
			"p",
			{ class: "note step-unknown" },
			mark("unknown"),
			" This car’s own figure is not entered: take it from the manual.",
		);
	const length = figure.value.length > 9 ? "is-longer" : figure.value.length > 6 ? "is-long" : "";
	return h(
		"div",
		{ class: `step-figure ${length}` },
		h("p", { class: "step-number figures" }, figure.value),
		h(
			"p",
			{ class: "step-number-words" },
			inEnglish(figure.words),
			figure.source ? h("span", { class: "note" }, ` ${figure.source}`) : null,
		),
	);
}

/**
 * verdictRoom shows the live verdict of a step.
 * @returns {{element: HTMLElement, show: (outcome: Outcome | null, step: ProcedureStep) => void, refuse: (problem:
 *   Problem) => void}}
 */
export function verdictRoom() {
	const element = h("div", { class: "step-verdict-room", "aria-live": "polite" });
	return {
		element,
		show(outcome, step) {
			if (!outcome) return fill(element);
			fill(
				element,
				h(
					"p",
					{ class: "step-judged" },
					mark(outcome.verdict),
					h("span", null, h("strong", null, verdictWord(outcome.verdict)), ` ${inEnglish(outcome.text)}`),
				),
				outcome.verdict === "fail" || outcome.verdict === "watch"
					? h(
							"div",
							{ class: "on-fail" },
							outcome.do ? h("p", null, inEnglish(outcome.do)) : null,
							outcome.verdict === "fail" && step.onFail?.length
								? h(
										"ul",
										null,
										step.onFail.map((line) => h("li", null, line)),
									)
								: null,
						)
					: outcome.do
						? h("p", { class: "on-fail" }, inEnglish(outcome.do))
						: null,
				working("this verdict", outcome.working, outcome.sources),
			);
		},
		refuse: (problem) => fill(element, problemLine(problem)),
	};
}
