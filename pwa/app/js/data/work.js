// What was judged, changed, undone and put back on a car: the events that the
// order of work and the restore list follow from.

import { coilWatch, isOf } from "./coil-watch.js";
import { garage } from "./garage.js";
import { standingIn } from "./temporaries.js";
import { visitOfToday } from "./visits.js";

/** @type {Omit<WorkEvent, "id" | "at">} */
const blank = { step: "", verdict: "", what: "", changed: "", undone: [], restored: [], odometer: "" };

/**
 * noteEvent keeps an event in today's visit of the car.
 * @param {Doc<Car>} car
 * @param {Partial<WorkEvent>} event
 */
export async function noteEvent(car, event) {
	const visit = await visitOfToday(car);
	const whole = { ...blank, ...event, id: garage.newId(), at: event.at ?? new Date().toISOString() };
	whole.what = short(whole.what);
	await garage.update("visit", visit, (body) => { body.events = [...(body.events ?? []), whole]; });
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
	return garage.visits({ carId }).flatMap(({ body }) => body.events ?? []).filter((event) => !event.removed && Number.isFinite(Date.parse(event.at)))
		.sort((a, b) => Date.parse(a.at) - Date.parse(b.at));
}

/** standing lists what is undone on a car now. @param {string} carId @param {number} [now] ms */
export const standing = (carId, now = Date.now()) => standingIn(eventsOf(carId), now);

/** putBack ticks things off the restore list; with the ignition goes the coil watch of this car. @param {Doc<Car>} car @param {string[]} ids */
export function putBack(car, ids) {
	const watch = coilWatch.now();
	if (watch && ids.includes("ignition-on") && isOf(watch, car)) coilWatch.end();
	return noteEvent(car, { restored: ids });
}

/**
 * ignitionOff ends the coil watch and ticks the ignition off the restore list
 * of its car. It gives what coilWatch.end gives at once.
 */
export function ignitionOff() {
	const watch = coilWatch.now();
	const ended = coilWatch.end();
	for (const car of watch ? garage.cars().filter((each) => isOf(watch, each)) : []) {
		if (standing(car.id).some(({ id }) => id === "ignition-on")) putBack(car, ["ignition-on"]).catch(() => {});
	}
	return ended;
}

/** undo puts things on the restore list, unless they stand there already. @param {Doc<Car>} car @param {string[]} ids */
export async function undo(car, ids) {
	const have = new Set(standing(car.id).map(({ id }) => id));
	const added = ids.filter((id) => !have.has(id));
	if (added.length > 0) await noteEvent(car, { undone: added });
}

/**
 * keepVisitFacts keeps figures among the facts of today's visit.
 * @param {Doc<Car>} car
 * @param {{[key: string]: Fact | null}} facts null takes one out
 */
export async function keepVisitFacts(car, facts) {
	const visit = await visitOfToday(car);
	await garage.update("visit", visit, (body) => {
		body.facts = { ...body.facts };
		for (const [key, fact] of Object.entries(facts)) {
			if (fact) body.facts[key] = fact;
			else delete body.facts[key];
		}
	});
}

/**
 * changedFact is a fact with a change to it; what is new was measured, unless
 * it says otherwise.
 * @param {Fact | undefined} before @param {Partial<Fact>} change
 * @returns {Fact}
 */
export function changedFact(before, change) {
	const { value, unit, source, note } = { value: "", unit: "", source: /** @type {Source} */ ("measured"), note: "", ...(before ?? {}), ...change };
	return { value, unit, source, note };
}

/**
 * lastFact finds the newest of a visit's facts with this name.
 * @param {string} carId @param {string} key
 * @returns {{fact: Fact, date: string} | null}
 */
export function lastFact(carId, key) {
	for (const { body } of garage.visits({ carId })) {
		const fact = body.facts?.[key];
		if (fact && fact.value.trim() !== "") return { fact, date: body.date };
	}
	return null;
}
