// What was judged, changed, undone and put back on a car: the events that the
// order of work and the restore list follow from.

import { garage } from "../kept/garage.js";
import { visitOfToday } from "./visits.js";

/** @type {Omit<WorkEvent, "id" | "at">} */
const blank = { step: "", verdict: "", what: "", changed: "", undone: [], restored: [], odometer: "" };

/**
 * noteEvent keeps an event in today's visit of the car.
 * @param {Doc<Car>} car
 * @param {Partial<WorkEvent>} event
 */
export async function noteEvent(car, event) {
	const visit = visitOfToday(car);
	const whole = { ...blank, ...event, id: garage.newId(), at: event.at ?? new Date().toISOString() };
	whole.what = short(whole.what);
	await garage.update("visit", visit, (body) => {
		body.events = [...(body.events ?? []), whole];
	});
	return whole;
}

/** short is what an event may say: cut at a word where it is longer. @param {string} text */
export const short = (text) => (text.length <= 200 ? text : `${text.slice(0, 199).replace(/\s+\S*$/, "")}…`);

/**
 * eventsOf lists the events of a car, the earliest first.
 * @param {string} carId
 * @returns {WorkEvent[]}
 */
export function eventsOf(carId) {
	return garage
		.visits({ carId })
		.flatMap(({ body }) => body.events ?? [])
		.filter((event) => !event.removed && Number.isFinite(Date.parse(event.at)))
		.sort((a, b) => Date.parse(a.at) - Date.parse(b.at));
}
