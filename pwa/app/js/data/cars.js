// What is done with whole cars: a car comes with a distributor of its own.

import { emptySheet } from "./sheet.js";
import { garage } from "./garage.js";

const longest = 80; // characters, as the server has it

/**
 * nameProblem says what is wrong with a name, or null.
 * @param {string} name
 * @returns {FieldProblem | null}
 */
export function nameProblem(name) {
	const text = name.trim();
	if (text === "") return { field: "name", problem: "the car has no name yet", limit: `1 to ${longest} characters`, do: "Type the name you call it by." };
	if ([...text].length > longest) return { field: "name", problem: `the name has ${[...text].length} characters`, limit: `${longest} characters`, do: "Shorten it; more can go in the notes among the facts." };
	if (/[<>]/.test(text)) return { field: "name", problem: "the name contains < or >", limit: "letters, digits, spaces and other signs", do: "Take the < and > out." };
	if (/[\u0000-\u001f\u007f]/.test(text)) return { field: "name", problem: "the name contains a control character", limit: "one line of ordinary text", do: "Type it again without line breaks or tabs." };
	return null;
}

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
	const name = [...`Copy of ${car.body.name}`].slice(0, longest).join("");
	const [carId, distributorId] = [garage.newId(), garage.newId()];
	await garage.put("distributor", distributorId, { ...(distributor?.body ?? emptyDistributor(name)), name });
	await garage.put("car", carId, { ...car.body, name, distributorId, demo: car.body.demo });
	return carId;
}

/** @param {string} name @returns {Distributor} */
function emptyDistributor(name) {
	return { name, typeNumber: "", facts: {}, sheet: emptySheet(), sheetSource: "" };
}
