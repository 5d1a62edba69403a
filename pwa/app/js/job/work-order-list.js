// What to do next on a car, and the whole chain with its reasons.

import { onReady } from "../engine/client.js";
import { carState } from "../state/car-state.js";
import { beingLookedAt, stateLine } from "../state/state-line.js";
import { nextAction } from "./next-step.js";
import { orderOfWork, whereTo } from "./work-order.js";
import { standing } from "../safety/standing.js";
import { firstAnswer } from "../kit/first-answer.js";
import { fill, h } from "../kit/dom.js";
import { fold } from "../kit/fold.js";
import { address } from "../kit/address.js";
import { breath } from "../kit/platform.js";
import { nextButton } from "../kit/field.js";
import { leftOutLines } from "../record/left-out-lines.js";
import { mark } from "../kit/mark.js";
import { followGarage } from "../kept/follow.js";
import { firstCapital, inEnglish } from "../kit/words.js";

const stateWords = { done: "done", due: "due", again: "again", blocked: "waits", unknown: "unknown" };
/** @type {{[state: string]: "done" | "partly" | "empty" | "watch" | "unknown"}} */
const stateMarks = { done: "done", due: "empty", again: "watch", blocked: "partly", unknown: "unknown" };
/** A step that was judged and is still due was begun. @param {OrderStep} step */
const isBegun = ({ state, verdict }) => state === "due" && Boolean(verdict);
/** @param {OrderStep} step */
const stateWord = (step) => (isBegun(step) ? "begun" : stateWords[step.state]);
/** @param {OrderStep} step */
const stateMark = (step) => (isBegun(step) ? "partly" : stateMarks[step.state]);

/**
 * workOrder draws the next step large and the chain beneath. Until the engine
 * answers, or where it cannot, the job's own next step stands there.
 * @param {Doc<Car>} car
 * @param {{isBookDone: boolean, action: string, href: string}} fallback
 * @param {AbortSignal} signal
 */
export async function workOrder(car, fallback, signal) {
	const next = h("div", { class: "work-next" }, nextButton(fallback.action, fallback.href));
	const content = h("div", { "aria-busy": "true" }, h("p", { class: "note" }, beingLookedAt()));
	const chain = fold("car/order", { title: "The order of work", class: "work-order" }, content);
	// its place is kept, so that nothing moves when the answer comes
	const stands = h("p", { class: "verdict-line", role: "status", "aria-busy": "true" }, beingLookedAt());
	let said = "";
	const draw = async () => {
		const ordered = orderOfWork(car.id).catch(() => null);
		await breath();
		const [order, state] = await Promise.all([ordered, carState(car).catch(() => null)]);
		if (!order || signal.aborted) return;
		const undone = standing(car.id).map(({ id }) => id);
		const now = JSON.stringify([order.next, order.steps, order.leftOut, undone, state]);
		if (now === said) return; // nothing is drawn again under a finger
		said = now;
		for (const late of [stands, content]) late.removeAttribute("aria-busy");
		fill(stands, state ? stateLine(state) : h("span", { class: "note" }, "Nothing is judged yet."));
		if (fallback.isBookDone) fill(next, nextOf(order, nextAction(car, order, state)));
		fill(content, chainOf(car, order, (fallback.isBookDone && order.next.step) || ""));
	};
	signal.addEventListener(
		"abort",
		onReady(() => {
			draw();
		}),
	);
	await firstAnswer(followGarage(signal, draw));
	await breath(); // the page is put together in a turn of its own
	return { head: [stands, next], chain };
}

/** @param {OrderAnswer} order @param {import("./next-step.js").NextAction | null} next */
function nextOf(order, next) {
	if (!next)
		return h(
			"p",
			{ class: "lead work-because" },
			mark("done"),
			h("span", null, "The work is done. Nothing is left to do."),
		);
	const { label, href, step } = next;
	const why = step
		? h(
				"p",
				{ class: "note work-because" },
				mark(stateMark(step)),
				h(
					"span",
					null,
					h("strong", null, inEnglish(`${firstCapital(step.name)}, ${stateWord(step)}. `)),
					inEnglish(step.because),
					inEnglish(` ${firstCapital(step.why)}.`),
				),
			)
		: h("p", { class: "note" }, next.isFirst ? firstThis : inEnglish(order.next.say));
	return [nextButton(label, href), why];
}

const firstThis = "First this. Move nothing else. The order of work goes on when this is repaired.";

/**
 * @param {Doc<Car>} car
 * @param {Awaited<ReturnType<typeof orderOfWork>>} order
 * @param {string} next the step that is marked: none while the book comes first
 */
function chainOf(car, order, next) {
	return [
		leftOutLines(order.leftOut),
		h(
			"ol",
			{ role: "list" },
			order.steps.map((step) =>
				h(
					"li",
					{ class: `is-${step.state}`, "aria-current": step.id === next ? "step" : null },
					h(
						"a",
						{ href: whereTo(car, step).href },
						mark(stateMark(step)),
						h(
							"span",
							null,
							h("strong", null, inEnglish(firstCapital(step.name))),
							h("span", { class: "work-state" }, ` · ${stateWord(step)}`),
							h("small", null, inEnglish(step.because)),
						),
					),
				),
			),
		),
		order.planned.map((look) => h("p", { class: "note" }, mark("partly"), ` ${inEnglish(look.what)}`)),
		h("a", { class: "button", href: address("car", car.id, "do") }, "All guided work"),
	];
}
