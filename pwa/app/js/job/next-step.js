// The one thing to do next on a car, the same in the garage, on the car's page
// and on its card.

import { carState, whatToDo } from "../state/car-state.js";
import { stampOf } from "../state/stamp.js";
import { jobOf } from "./job.js";
import { orderOfWork, whereTo } from "./work-order.js";
import { engineState } from "../engine/client.js";
import { garage } from "../kept/garage.js";
import { thisPhone } from "../kept/this-phone.js";
import { address } from "../kit/address.js";

/** @typedef {{label: string, href: string, step?: OrderStep, isFirst?: boolean}} NextAction */
/** @typedef {{state: import("../state/car-state.js").CarState | null, next: NextAction | null}} Standing */

/** Bump it when the rule below changes: what phones have kept is then worked out again. */
const rule = 1;

/**
 * nextAction: while something fails, that comes first (isFirst), and nothing else is moved; then the step of the order
 * of work; then what has to be put back. Null once all is done.
 * @param {Doc<Car>} car @param {OrderAnswer} order @param {import("../state/car-state.js").CarState | null} state
 * @returns {NextAction | null}
 */
export function nextAction(car, order, state) {
	const todo = failing(car, state);
	if (todo && !order.next.restore) return todo;
	const step = order.steps.find(({ id }) => id === order.next.step);
	if (step) return { ...whereTo(car, step), step };
	if (order.next.restore) return { label: "Put everything back", href: address("car", car.id, "restore") };
	return null;
}

/** @param {Doc<Car>} car @param {import("../state/car-state.js").CarState | null} state @returns {NextAction | null} */
function failing(car, state) {
	const todo = whatToDo(car, state);
	return todo && { label: todo.action, href: todo.href, isFirst: true };
}

/** Before the book is written down nothing can be judged: the job's own next step stands. @param {Doc<Car>} car */
function bookFirst(car) {
	const { steps, next } = jobOf(
		car,
		garage.get("distributor", car.body.distributorId),
		garage.visits({ carId: car.id }),
	);
	const isDone = steps.some(({ name, state }) => name === "book" && state === "done");
	return { isDone, next: { label: next.action, href: next.href } };
}

/**
 * standAndNext gives how a car stands and what comes next. Both are kept on the phone until a document of the car
 * changes, the next step until the day is over, so that a long list costs little.
 * @param {Doc<Car>} car
 * @returns {Promise<Standing>}
 */
export async function standAndNext(car) {
	const { isDone, next: first } = bookFirst(car);
	const state = await carState(car);
	if (car.isUnit) return { state, next: failing(car, state) ?? first }; // the bench has an order of its own
	if (!isDone) return { state, next: first };
	const stamp = `${rule} ${new Date().toDateString()} ${stampOf(car)}`;
	const kept = await thisPhone.get(`next/${car.id}`).catch(() => null);
	if (kept?.stamp === stamp) return { state, next: kept.next };
	const order = await orderOfWork(car.id).catch(() => null);
	if (!order) return { state, next: first };
	const next = nextAction(car, order, state);
	if (engineState() === "ready") await thisPhone.put(`next/${car.id}`, { stamp, next }).catch(() => {});
	return { state, next };
}
