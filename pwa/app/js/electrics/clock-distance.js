// The distance on the clock on the day of a visit: what wear is counted by.

import { measuredField } from "../kit/measured-field.js";
import { convert } from "../kit/units.js";
import { parse } from "../kit/format.js";
import { garage } from "../kept/garage.js";
import { changedFact, keepVisitFacts } from "../record/visit-facts.js";
import { isOpenToday } from "../record/visits.js";

export const distanceKey = "odometer";

/**
 * milesOf gives it in miles; null where it is not known.
 * @param {Visit} visit
 */
export function milesOf(visit) {
	const fact = visit.facts?.[distanceKey];
	const x = parse(fact?.value.trim().replace(/^(\d{1,3})[ ,\u202f](\d{3})$/, "$1$2")); // thousands may be set apart
	return x === null || !fact || x < 0 ? null : convert(x, fact.unit || "miles", "miles");
}

/**
 * distanceField asks for today's.
 * @param {Doc<Car>} car @param {string} [note]
 */
export function distanceField(car, note = "Wear is counted by it.") {
	const today = () => garage.visits({ carId: car.id }).find(({ body }) => isOpenToday(body, car))?.body;
	const [last] = garage.visits({ carId: car.id }).flatMap(({ body }) => body.facts?.[distanceKey] ?? []);
	return measuredField({
		label: "Distance on the clock today",
		name: "odometer",
		fact: today()?.facts?.[distanceKey],
		unit: last?.unit || "miles",
		units: ["miles", "km"],
		note,
		onChange: ({ value, unit }) => {
			const fact = changedFact(today()?.facts?.[distanceKey], { value, unit });
			keepVisitFacts(car, { [distanceKey]: value.trim() === "" ? null : fact }).catch(() => {});
		},
	});
}
