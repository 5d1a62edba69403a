// What is done with whole distributors: taken on the bench, fitted to a car,
// taken out, handed back.

import { garage } from "../kept/garage.js";
import { emptyDistributor, isBlank } from "../record/sheet.js";
import { noteEvent } from "../record/events.js";
import { factsOf, keepVisitFacts } from "../record/visit-facts.js";
import { today } from "../record/visits.js";
import { ofUnit } from "../kept/stand-in.js";

/** addUnit takes a distributor on the bench. @param {string} name @returns {Promise<string>} its id */
export async function addUnit(name) {
	const id = garage.newId();
	await garage.put("distributor", id, { ...emptyDistributor(name.trim()), bench: true });
	return id;
}

/** carOf gives the car a distributor is in, or null. @param {string} unitId @returns {Doc<Car> | null} */
export const carOf = (unitId) => garage.cars().find(({ body }) => body.distributorId === unitId) ?? null;

/**
 * whereIs says where a distributor is, in words.
 * @param {Doc<Distributor>} unit
 */
export function whereIs({ id, body }) {
	const car = carOf(id);
	if (car) return `In ${car.body.name}`;
	if (body.back) return `Handed back${body.owner ? ` to ${body.owner}` : ""}`;
	return body.where?.trim() || "On the bench";
}

/**
 * fit puts a distributor into a car. What was in it comes on the bench; what was in another car leaves that empty. What
 * hangs on the distributor is to be done again on each car.
 * @param {Doc<Distributor>} unit @param {Doc<Car>} car
 */
export async function fit(unit, car) {
	const from = carOf(unit.id);
	if (from?.id === car.id) return;
	const before = garage.get("distributor", car.body.distributorId);
	if (before && !before.deleted && isKnown(before)) await onBench(before.id);
	if (from) await takeOut(from);
	await garage.update("distributor", unit.id, (body) => {
		body.bench = true;
		body.where = "";
		body.back = "";
	});
	await garage.update("car", car.id, (body) => {
		body.distributorId = unit.id;
	});
	await fittedVisit(/** @type {Doc<Car>} */ (garage.get("car", car.id)), unit);
}

/**
 * The visit that begins with it: what was checked of the engine and of the distributor stands in it together, and what
 * hangs on the fitting is to be done again.
 * @param {Doc<Car>} car @param {Doc<Distributor>} unit
 */
async function fittedVisit(car, unit) {
	const of = (/** @type {string} */ id, /** @type {boolean} */ isUnits) =>
		Object.entries(factsOf(garage.visits({ carId: id }), "check"))
			.map(([key, fact]) => [`check.${key}`, fact])
			.filter(([key]) => ofUnit.test(String(key)) === isUnits);
	const checks = Object.fromEntries([...of(car.id, false), ...of(unit.id, true)]);
	const begun = { value: new Date().toISOString(), unit: "", source: /** @type {Source} */ (""), note: "" };
	await keepVisitFacts(car, Object.keys(checks).length ? { ...checks, "check.begun": begun } : {});
	await noteEvent(car, { changed: "distributor-fitted", what: `${nameOf(unit)} fitted` });
}

/**
 * takeOut leaves a car with a distributor of which nothing is known, so that its pages go on; the unit stays on the
 * bench.
 * @param {Doc<Car>} car
 */
export async function takeOut(car) {
	const unit = garage.get("distributor", car.body.distributorId);
	const id = garage.newId();
	await garage.put("distributor", id, emptyDistributor(car.body.name));
	await garage.update("car", car.id, (body) => {
		body.distributorId = id;
	});
	if (unit) await onBench(unit.id);
}

/**
 * Whether anything is known of it: what came with a car by its name alone does not lie about.
 * @param {Doc<Distributor>} unit
 */
const isKnown = ({ id, body }) =>
	body.bench === true ||
	body.typeNumber.trim() !== "" ||
	Object.values(body.facts).some(({ value }) => value.trim() !== "") ||
	body.sheet.rows.some((row) => !isBlank(row)) ||
	garage.visits({ carId: id }).length > 0;

/** @param {string} id */
const onBench = (id) =>
	garage.update("distributor", id, (body) => {
		body.bench = true;
		body.back = "";
	});

/** handBack notes that its owner has it again, or takes that back. @param {string} id @param {boolean} isBack */
export const handBack = (id, isBack) =>
	garage.update("distributor", id, (body) => {
		body.back = isBack ? today() : "";
	});

/** @param {Doc<Distributor>} unit */
export const nameOf = ({ body }) => body.name || body.typeNumber || "A distributor";
