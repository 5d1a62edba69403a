// What to do next on a car, and the whole chain with its reasons.

import { onReady } from "../engine/client.js";
import { carState, whatToDo } from "./car-state.js";
import { beingLookedAt, stateLine } from "./state-line.js";
import { orderOfWork, whereTo } from "./work-order.js";
import { standing } from "../safety/standing.js";
import { firstAnswer } from "../kit/first-answer.js";
import { fill, h } from "../kit/dom.js";
import { fold } from "../kit/fold.js";
import { address } from "../kit/address.js";
import { nextButton } from "../kit/field.js";
import { leftOutLines } from "../record/left-out-lines.js";
import { mark } from "../kit/mark.js";
import { sentence } from "../safety/restore-list.js";
import { followGarage } from "../kept/follow.js";
import { inEnglish } from "../kit/words.js";

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
	const content = h("div");
	const chain = fold("car/order", { title: "The order of work", class: "work-order" }, content);
	// its place is kept, so that nothing moves when the answer comes
	const stands = h("p", { class: "verdict-line", role: "status", "aria-busy": "true" }, beingLookedAt());
	let said = "";
	const draw = async () => {
		const [order, state] = await Promise.all([
			orderOfWork(car.id).catch(() => null),
			carState(car).catch(() => null),
		]);
		if (!order || signal.aborted) return;
		const undone = standing(car.id).map(({ id }) => id);
		const now = JSON.stringify([order.next, order.steps, order.leftOut, undone, state]);
		if (now === said) return; // nothing is drawn again under a finger
		said = now;
		stands.removeAttribute("aria-busy");
		fill(stands, state ? stateLine(state) : h("span", { class: "note" }, "Nothing is judged yet."));
		if (fallback.isBookDone) fill(next, nextOf(car, order, whatToDo(car, state)));
		fill(content, chainOf(car, order, (fallback.isBookDone && order.next.step) || ""));
	};
	signal.addEventListener(
		"abort",
		onReady(() => {
			draw();
		}),
	);
	await firstAnswer(followGarage(signal, draw));
	return { head: [stands, next], chain };
}

/**
 * While something fails, that comes first, and nothing else is moved.
 * @param {Doc<Car>} car @param {OrderAnswer} order @param {{action: string, href: string} | null} todo
 */
function nextOf(car, order, todo) {
	if (todo && !order.next.restore)
		return [
			nextButton(todo.action, todo.href),
			h("p", { class: "note" }, "First this. Move nothing else. The order of work goes on when it is repaired."),
		];
	const step = order.steps.find(({ id }) => id === order.next.step);
	if (step) {
		const to = whereTo(car, step);
		return [
			nextButton(to.label, to.href),
			h(
				"p",
				{ class: "note work-because" },
				mark(stateMark(step)),
				h(
					"span",
					null,
					h("strong", null, inEnglish(`${sentence(step.name)}, ${stateWord(step)}. `)),
					inEnglish(step.because),
					inEnglish(` ${sentence(step.why)}.`),
				),
			),
		];
	}
	if (order.next.restore)
		return [
			nextButton("Put back what is undone", address("car", car.id, "restore")),
			h("p", { class: "note" }, inEnglish(order.next.say)),
		];
	return h(
		"p",
		{ class: "lead work-because" },
		mark("done"),
		h("span", null, "The work is done. Nothing is left to do."),
	);
}

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
							h("strong", null, inEnglish(sentence(step.name))),
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
