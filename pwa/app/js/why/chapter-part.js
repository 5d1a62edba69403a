// A chapter on the page: its text, its question, what is moved for it, and
// whether it is answered. And the list of all of them.

import { address } from "../kit/address.js";
import { fill, h } from "../kit/dom.js";
import { button } from "../kit/field.js";
import { fold } from "../kit/fold.js";
import { short } from "../kit/format.js";
import { mark } from "../kit/mark.js";
import { stepper } from "../kit/stepper.js";
import { convert } from "../kit/units.js";
import { inEnglish } from "../kit/words.js";
import { chapters, parts } from "./chapters.js";

/** @typedef {import("./turn-input.js").State} State */
/** @typedef {import("../kit/stepper.js").Stepper} Stepper */

/**
 * chapterPart gives the head of the page: draw after every turn that is worked out, check at every angle.
 * @param {State} state @param {number} number from 1; 0 is none @param {() => void} work
 */
export function chapterPart(state, number, work) {
	const chapter = chapters[number - 1];
	if (!chapter) return { head: h("p", { class: "lead" }, inEnglish(lead)), draw() {}, check() {} };
	const [question, answer, figure, place] = [
		h("p", { class: "why-question" }, inEnglish(chapter.question)),
		h("span", { role: "status" }),
		h("span"), // not said at every step: the sentence under the figure is
		h("div", { class: "why-knob" }),
	];
	let said = "";
	/** @type {import("./moment.js").Turn | null} */
	let first = null;
	/** @type {Stepper | null} */
	let moved = null;
	return {
		head: h(
			"section",
			{ class: "why-chapter", "aria-labelledby": "why-chapter" },
			h("h2", { id: "why-chapter" }, `${number}. ${inEnglish(chapter.title)}`),
			h("p", null, inEnglish(chapter.text)),
			question,
		),
		/** What the question is answered by stands beneath the figure. */
		asks: h("div", null, place, h("p", { class: "why-answer" }, answer, figure)),
		knob: chapter.knob,
		draw() {
			const { turn } = state;
			const canAnswer = turn !== null && parts[chapter.needs](turn);
			first ??= turn;
			question.toggleAttribute("hidden", !canAnswer);
			if (!canAnswer) return fill(answer, "It cannot be asked yet: see beneath the figure what is not drawn.");
			const make = knobs[chapter.knob];
			if (moved || !make) return;
			moved = make(state, work);
			fill(place, moved.element);
		},
		check() {
			const { turn } = state;
			if (!turn || question.hasAttribute("hidden")) return;
			const now = { deg: state.deg, shift: state.shift, first: first ?? turn };
			const isRight = chapter.isRight(turn, now);
			fill(figure, isRight ? null : inEnglish(` ${chapter.now(turn, now)}`));
			const words = isRight ? chapter.right : "Not answered yet.";
			if (words === said) return;
			said = words;
			fill(answer, isRight ? [mark("done"), " "] : null, inEnglish(words));
		},
	};
}

const lead = "One cycle of this engine, at full throttle. Turn it by hand, or let it play.";

/** The timing in place of this car's own. @param {State} state @param {() => void} work */
function timingKnob(state, work) {
	const own = state.turn?.timing?.sparkCrankDeg ?? 0;
	return stepper({
		name: "Timing",
		min: -10,
		max: 60,
		step: 1,
		value: own,
		rest: own,
		words: (deg) => `${short(Math.abs(deg))} crank degrees ${deg < 0 ? "after" : "before"} TDC`,
		less: "1 degree later",
		more: "1 degree earlier",
		onChange: (deg) => {
			state.spark = deg;
			work();
		},
	});
}

/** The dwell as the heel wears. @param {State} state @param {() => void} work */
function dwellKnob(state, work) {
	const own = state.known?.dwell ?? 0;
	return stepper({
		name: "Dwell",
		min: own - 6,
		max: own + 6,
		step: 1,
		value: own,
		rest: own,
		words: (deg) => inEnglish(`${short(deg)} distributor degrees${deg > own ? ", the heel worn" : ""}`),
		less: "1 degree less, a wider gap",
		more: "1 degree more, a closer gap",
		onChange: (deg) => {
			state.dwell = deg;
			work();
		},
	});
}

const mostVacuum = 20; // inHg; no engine idles deeper

/** The vacuum in the manifold as the throttle closes. @param {State} state @param {() => void} work */
const vacuumKnob = (state, work) =>
	stepper({
		name: "Manifold vacuum",
		min: 0,
		max: mostVacuum,
		step: 1,
		value: 0,
		rest: 0,
		words: (inHg) => (inHg ? `${short(inHg)} inHg` : "0 inHg, full throttle"),
		less: "1 inHg less, the throttle opened",
		more: "1 inHg more, the throttle closed",
		onChange: (inHg) => {
			state.vacuumKPa = Number(convert(inHg, "inHg", "kPa"));
			work();
		},
	});

/** @type {{[knob: string]: (state: State, work: () => void) => Stepper}} */
const knobs = { dwell: dwellKnob, timing: timingKnob, vacuum: vacuumKnob };

/** The next chapter, and all of them folded. @param {string} carId @param {number} number */
export function chapterList(carId, number) {
	const href = (/** @type {number} */ n) => address("car", carId, "why", String(n));
	const list = h(
		"ol",
		{ class: "chain", role: "list" },
		chapters.map(({ title }, i) =>
			h(
				"li",
				null,
				h(
					"a",
					{ href: href(i + 1), "aria-current": i + 1 === number ? "page" : null },
					h("span", { class: "chapter figures" }, `${i + 1}`),
					h("span", { class: "chain-text" }, h("strong", null, inEnglish(title))),
					mark("next"),
				),
			),
		),
	);
	const next = chapters[number];
	return [
		next ? button(`${number ? "Next" : "Begin"}: ${next.title.toLowerCase()}`, href(number + 1)) : null,
		fold("why/chapters", { title: "Chapters", answer: `${chapters.length}, each with a question` }, list),
	];
}
