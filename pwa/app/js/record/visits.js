// Visits, their sets and their readings, changed one small step at a time.

import { garage } from "../kept/garage.js";
import { dateWords } from "../kit/format.js";

/** today as the person's calendar has it, "YYYY-MM-DD" */
export function today(now = new Date()) {
	return [
		now.getFullYear(),
		String(now.getMonth() + 1).padStart(2, "0"),
		String(now.getDate()).padStart(2, "0"),
	].join("-");
}

/** What each place is read in, unless the person says otherwise: it is shown and can be changed. */
const usual = {
	bench: /** @type {const} */ ({ angleUnit: "distributor", speedUnit: "distributor", base: "excluded" }),
	car: /** @type {const} */ ({ angleUnit: "crank", speedUnit: "engine", base: "included" }),
};

/**
 * startSet begins a set of readings, in today's visit where there is one.
 * @param {Doc<Car>} car
 * @param {"bench" | "car"} place
 * @returns {Promise<{visit: string, set: string}>}
 */
export async function startSet(car, place) {
	const set = /** @type {VisitSet} */ ({
		id: garage.newId(),
		place,
		...usual[place],
		vacuum: "",
		readingErrorCrankDeg: "",
		staticCrankDeg: "",
		staticSide: "before",
		readings: [],
	});
	const visit = visitOfToday(car);
	const unused = garage
		.visits({ carId: car.id })
		.find(({ id }) => id === visit)
		?.body.sets.find((one) => one.place === place && isUnused(one));
	if (unused) return { visit, set: unused.id };
	await garage.update("visit", visit, (body) => {
		body.sets.push(set);
	});
	return { visit, set: set.id };
}

/** Begun, and nothing said or read in it yet. @param {VisitSet} set */
const isUnused = ({ removed, readings, staticCrankDeg, vacuum }) =>
	!removed && readings.length === 0 && staticCrankDeg === "" && vacuum === "";

/**
 * visitOfToday gives the id of today's visit of a car, begun if there is none. It waits for nothing, so that of two
 * keys typed fast the later one is kept last; that the phone has no room is told by what is then put in.
 * @param {Doc<Car>} car
 */
export function visitOfToday(car) {
	const open = garage.visits({ carId: car.id }).find(({ body }) => isOpenToday(body, car));
	if (open) return open.id;
	const visit = garage.newId();
	garage.put("visit", visit, newVisit(car)).catch(() => {});
	return visit;
}

/**
 * isOpenToday tells the visits that what is done now belongs to: today's, of the distributor that is worked on.
 * @param {Visit} body @param {Doc<Car>} car
 */
export const isOpenToday = ({ date, distributorId }, car) =>
	date === today() && (!distributorId || distributorId === car.body.distributorId);

/**
 * newVisit is today's visit, empty; of a distributor by itself it names no car.
 * @param {Doc<Car>} car @returns {Visit}
 */
export const newVisit = (car) => ({
	carId: garage.isUnit(car.id) ? "" : car.id,
	distributorId: car.body.distributorId,
	date: today(),
	title: "",
	notes: "",
	sets: [],
});

/**
 * updateSet changes one set of a visit.
 * @param {string} visit @param {string} set @param {(set: VisitSet) => void} edit
 */
export function updateSet(visit, set, edit) {
	return garage.update("visit", visit, (/** @type {Visit} */ body) => {
		const found = body.sets.find(({ id }) => id === set);
		if (found) edit(found);
	});
}

/**
 * saveReading keeps a reading: a new one, or the one with the same id.
 * @param {string} visit @param {string} set @param {Reading} reading
 */
export function saveReading(visit, set, reading) {
	return updateSet(visit, set, (found) => {
		const index = found.readings.findIndex(({ id }) => id === reading.id);
		if (index < 0) found.readings.push(reading);
		else found.readings[index] = { ...found.readings[index], ...reading };
	});
}

/**
 * setRemoved removes a reading or brings it back. It stays in the visit,
 * marked, so that two phones do not bring it back to each other.
 * @param {string} visit @param {string} set @param {string} reading @param {boolean} removed
 */
export function setRemoved(visit, set, reading, removed) {
	return updateSet(visit, set, (found) => {
		const at = found.readings.find(({ id }) => id === reading);
		if (!at) return;
		if (removed) at.removed = true;
		else delete at.removed;
	});
}

/** placeName says where a set was read. @param {VisitSet} set */
export function placeName(set) {
	return set.place === "bench" ? "On the bench" : "On the car";
}

/** dayName writes a visit's date. @param {string} date "YYYY-MM-DD" */
export function dayName(date) {
	return date === today() ? "today" : dateWords(date);
}
