// What to do next on a car, and the whole chain with its reasons.

import { onReady } from "../calc/client.js";
import { followGarage } from "../data/case.js";
import { orderOfWork, whereTo } from "../data/work-order.js";
import { standing } from "../data/work.js";
import { fill, h } from "../lib/dom.js";
import { address } from "../lib/routes.js";
import { nextButton } from "./field.js";
import { leftOutLines } from "./left-out-lines.js";
import { mark } from "./marks.js";
import { sentence } from "./restore-list.js";

const stateWords = { done: "done", due: "due", again: "again", blocked: "waits", unknown: "unknown" };
/** @type {{[state: string]: "done" | "partly" | "empty" | "watch" | "unknown"}} */
const stateMarks = { done: "done", due: "empty", again: "watch", blocked: "partly", unknown: "unknown" };
/** A step that was judged and is still due was begun. @param {OrderStep} step */
const isBegun = ({ state, verdict }) => state === "due" && Boolean(verdict);
/** @param {OrderStep} step */
const stateWord = (step) => (isBegun(step) ? "begun" : stateWords[step.state]);
/** @param {OrderStep} step */
const stateMark = (step) => (isBegun(step) ? "partly" : stateMarks[step.state]);
const patience = 250; // ms; then the page is shown with the job's own next step meanwhile

/**
 * workOrder draws the next step large and the chain beneath. Until the engine
 * answers, or where it cannot, the job's own next step stands there.
 * @param {Doc<Car>} car @param {{isBookDone: boolean, action: string, href: string}} fallback @param {AbortSignal} signal
 */
export async function workOrder(car, fallback, signal) {
	const next = h("div", { class: "work-next" }, nextButton(fallback.action, fallback.href));
	const chain = h("div");
	let said = "";
	const draw = async () => {
		const order = await orderOfWork(car.id).catch(() => null);
		if (!order || signal.aborted) return;
		const now = JSON.stringify([order.next, order.steps, order.leftOut, standing(car.id).map(({ id }) => id)]);
		if (now === said) return; // nothing is drawn again under a finger
		said = now;
		if (fallback.isBookDone) fill(next, nextOf(car, order));
		fill(chain, chainOf(car, order, (fallback.isBookDone && order.next.step) || ""));
	};
	signal.addEventListener("abort", onReady(() => { draw(); }));
	await Promise.race([followGarage(signal, draw), new Promise((done) => setTimeout(done, patience))]);
	return { next, chain };
}

/** @param {Doc<Car>} car @param {OrderAnswer} order */
function nextOf(car, order) {
	const step = order.steps.find(({ id }) => id === order.next.step);
	if (step) {
		const to = whereTo(car, step);
		return [nextButton(to.label, to.href), h("p", { class: "note work-because" }, mark(stateMark(step)), h("span", null, h("strong", null, `${sentence(step.name)}, ${stateWord(step)}. `), step.because, ` ${sentence(step.why)}.`))];
	}
	if (order.next.restore) return [nextButton("Put back what is undone", address("car", car.id, "restore")), h("p", { class: "note" }, order.next.say)];
	return h("p", { class: "lead work-because" }, mark("done"), h("span", null, "The chain is done. Nothing is left to do."));
}

/** @param {Doc<Car>} car @param {Awaited<ReturnType<typeof orderOfWork>>} order @param {string} next the step that is marked: none while the book comes first */
function chainOf(car, order, next) {
	return h("section", { class: "work-order" },
		h("h2", null, "The order of work"),
		leftOutLines(order.leftOut),
		h("ol", { role: "list" }, order.steps.map((step) => h("li", { class: `is-${step.state}`, "aria-current": step.id === next ? "step" : null },
			h("a", { href: whereTo(car, step).href },
				mark(stateMark(step)),
				h("span", null, h("strong", null, sentence(step.name)), h("span", { class: "work-state" }, ` · ${stateWord(step)}`), h("small", null, step.because)))))),
		order.planned.map((look) => h("p", { class: "note" }, mark("partly"), ` ${look.what}`)),
		h("a", { class: "button", href: address("car", car.id, "do") }, "All guided work"));
}
