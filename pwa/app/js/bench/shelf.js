// What is asked of the calculation when a book is held against the distributors
// on the shelf.

import { carOf } from "./units.js";
import { garage } from "../kept/garage.js";
import { judgedSets } from "../record/judged-sets.js";
import { cylindersOf, rotationOf, specOf } from "../record/known.js";
import { toReadingSet } from "../record/sheet.js";
import { parse } from "../kit/format.js";

/** What may be changed on a donor, by what a person answers. */
export const mayChange = /** @type {const} */ ([
	{ key: "springs", label: "Other springs may go in", parts: ["primarySpring", "secondarySpring"] },
	{ key: "posts", label: "Posts may be bent", parts: ["primaryPost", "secondaryPost"] },
	{ key: "stop", label: "The stop may be changed", parts: ["stop"] },
]);

const mostSets = 50; // of one distributor: shelf.nearest's limit

/**
 * shelfInput gives what shelf.nearest takes; null where the book of the car is not known or the shelf is empty.
 * @param {Doc<Car>} car @param {{[key: string]: string}} may "no": it may not be changed
 */
export function shelfInput(car, may) {
	const distributor = garage.get("distributor", car.body.distributorId);
	const given = { car, distributor, answers: {} };
	const spec = specOf(given);
	const units = garage.units().filter(({ id }) => id !== car.body.distributorId);
	if (!spec || !units.length) return null;
	const cylinders = cylindersOf(given);
	const capsule = capsuleOf(distributor?.body.facts ?? {});
	return {
		spec,
		units: units.map(unitInput),
		wanted: {
			rotation: rotationOf(given) || "unknown",
			...(cylinders === null ? {} : { cylinders }),
			...(capsule ? { capsule } : {}),
		},
		allow: Object.fromEntries(
			mayChange.flatMap(({ key, parts }) => parts.map((part) => [part, may[key] !== "no"])),
		),
	};
}

/** @param {Doc<Distributor>} unit */
function unitInput({ id, body }) {
	const as = /** @type {Doc<Car>} */ (garage.get("car", id));
	const given = { car: as, distributor: garage.get("distributor", id), answers: {} };
	const cylinders = cylindersOf(given);
	const drive = parse(body.sheet?.driveRatio);
	const capsule = capsuleOf(body.facts);
	const last = judgedSets(garage.visits({ carId: id }), "bench");
	return {
		id,
		rotation: rotationOf(given) || "unknown",
		...(cylinders === null ? {} : { cylinders }),
		...(drive === null ? {} : { driveRatio: drive }),
		...(capsule ? { capsule } : {}),
		readings: (last?.sets ?? []).slice(-mostSets).map(toReadingSet),
	};
}

/** Only that there is none is known from where its pipe goes. @param {Facts} facts */
const capsuleOf = (facts) => (facts?.vacuumPort?.value === "nowhere" ? "none" : "");

/** Where a donor is, so that nobody robs a car unawares. @param {string} id */
export const inWhichCar = (id) => carOf(id)?.body.name ?? "";
