// What is undone on a car now, and putting it back: the restore list follows
// from the events.

import { coilWatch, isOf } from "./coil-watch.js";
import { garage } from "../kept/garage.js";
import { eventsOf, noteEvent } from "../record/events.js";
import { standingIn } from "./temporaries.js";

/** standing lists what is undone on a car now. @param {string} carId @param {number} [now] ms */
export const standing = (carId, now = Date.now()) =>
	garage.someVisit(carId, undoes) ? standingIn(eventsOf(carId), now) : [];

/** Of a full garage few visits tell of something undone; only those cars are looked at. @param {Visit} body */
const undoes = ({ events }) => events?.some(({ undone }) => undone?.length > 0) ?? false;

/**
 * putBack ticks things off the restore list; with the ignition goes the coil watch of this car.
 * @param {Doc<Car>} car
 * @param {string[]} ids
 */
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

/**
 * undo puts things on the restore list, unless they stand there already.
 * @param {Doc<Car>} car
 * @param {string[]} ids
 */
export async function undo(car, ids) {
	const have = new Set(standing(car.id).map(({ id }) => id));
	const added = ids.filter((id) => !have.has(id));
	if (added.length > 0) await noteEvent(car, { undone: added });
}
