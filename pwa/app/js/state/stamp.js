// What was worked out of a car holds until one of its documents changes.

import { garage } from "../kept/garage.js";

/** stampOf names the documents of a car as they are. @param {Doc<Car>} car */
export function stampOf(car) {
	const documents = [car, garage.get("distributor", car.body.distributorId), ...garage.visits({ carId: car.id })];
	return JSON.stringify(documents.map((doc) => doc && [doc.id, doc.changedAt]));
}
