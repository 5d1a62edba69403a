// What is done with whole cars: a car comes with a distributor of its own.

import { longest } from "../../made/shapes.js";
import { emptyDistributor } from "../record/sheet.js";
import { garage } from "../kept/garage.js";

const longestName = longest["car.name"]; // characters

/** @param {string} name @returns {Promise<string>} the id of the new car */
export async function addCar(name) {
	const [carId, distributorId] = [garage.newId(), garage.newId()];
	await garage.put("distributor", distributorId, emptyDistributor(name.trim()));
	await garage.put("car", carId, { name: name.trim(), owner: "", distributorId, facts: {}, demo: false });
	return carId;
}

/**
 * duplicateCar makes a second car with the same facts and book figures, and no
 * visits: readings belong to one car only.
 * @param {string} id
 */
export async function duplicateCar(id) {
	const car = garage.get("car", id);
	if (!car) return null;
	const distributor = garage.get("distributor", car.body.distributorId);
	const name = [...`Copy of ${car.body.name}`].slice(0, longestName).join("");
	const [carId, distributorId] = [garage.newId(), garage.newId()];
	await garage.put("distributor", distributorId, { ...(distributor?.body ?? emptyDistributor(name)), name });
	await garage.put("car", carId, { ...car.body, name, distributorId, demo: car.body.demo });
	return carId;
}
