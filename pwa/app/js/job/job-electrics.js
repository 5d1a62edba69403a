// The electric part of the chain: condition, volts, points, spark; and whether
// a change of the points has undone the timing.

import { address } from "../kit/address.js";
import { parse } from "../kit/format.js";
import { electricsOf } from "../record/car-electrics.js";
import { dwellNow, lastChange } from "../electrics/points.js";
import { factsOf, text } from "../record/visit-facts.js";

/**
 * @typedef {{name: string, chapter: string, title: string, state: "done" | "partly" | "empty" | "again", detail:
 *   string, href: string, action: string}} Step
 */

/** How many condition checks there are: B1 to B30; of a distributor on the bench those of the distributor alone. */
const checkCount = { car: 30, unit: 10 };

/**
 * electricSteps gives condition, volts, points and spark, in the trade's order.
 * @param {Doc<Car>} car @param {Doc<Distributor> | null} distributor @param {Doc<Visit>[]} visits
 * @returns {[condition: Step, volts: Step, points: Step, spark: Step]}
 */
export function electricSteps(car, distributor, visits) {
	return [
		conditionStep(car, visits),
		voltsStep(car, visits),
		pointsStep(car, distributor, visits),
		sparkStep(car, distributor, visits),
	];
}

/** @param {Doc<Car>} car @param {Doc<Visit>[]} visits @returns {Step} */
function conditionStep(car, visits) {
	const facts = factsOf(visits, "check");
	const known = Object.keys(facts).filter((key) => text(facts, key) !== "");
	const skipped = new Set(known.filter((key) => key.endsWith(".skipped")).map((key) => key.split(".")[0]));
	const looked = new Set(known.filter((key) => !key.endsWith(".skipped")).map((key) => key.split(".")[0]));
	for (const check of looked) skipped.delete(check);
	const settled = looked.size + skipped.size;
	const all = car.isUnit ? checkCount.unit : checkCount.car;
	const words = [`${looked.size} of ${all} looked at`, skipped.size ? `${skipped.size} skipped` : ""]
		.filter(Boolean)
		.join(", ");
	return {
		name: "condition",
		chapter: "3",
		title: "Condition",
		href: address("car", car.id, "condition"),
		action: settled ? "Go on with the condition" : "Check the condition",
		state: settled === 0 ? "empty" : settled >= all ? "done" : "partly",
		detail: settled === 0 ? "Not looked at. No setting cures wear." : words,
	};
}

/** @param {Doc<Car>} car @param {Doc<Visit>[]} visits @returns {Step} */
function voltsStep(car, visits) {
	const facts = factsOf(visits, "volts");
	const count = Object.keys(facts).filter((key) => parse(text(facts, key)) !== null).length;
	return {
		name: "volts",
		chapter: "4",
		title: "Volts along the feed",
		href: address("car", car.id, "volts"),
		action: "Walk the feed with the meter",
		state: count === 0 ? "empty" : count < 4 ? "partly" : "done",
		detail:
			count === 0
				? "Not measured. Battery to points and back."
				: `${count} ${count === 1 ? "place" : "places"} measured`,
	};
}

/** @param {Doc<Car>} car @param {Doc<Distributor> | null} distributor @param {Doc<Visit>[]} visits @returns {Step} */
function pointsStep(car, distributor, visits) {
	const facts = factsOf(visits, "points");
	const step = {
		name: "points",
		chapter: "5",
		title: "The points",
		href: address("car", car.id, "points"),
		action: "Set the points",
	};
	if (electricsOf(car.body.facts, distributor?.body.facts ?? {}).electronic)
		return { ...step, state: "done", detail: "Electronic trigger: no dwell to set" };
	const said = [
		["gap", "gap"],
		["dwell", "dwell"],
	].flatMap(([key, name]) => {
		const last = text(facts, `${key}Left`) ? facts[`${key}Left`] : facts[key];
		return last?.value.trim()
			? [
					`${name} ${last.value.trim()} ${last.unit === "distributor degrees" ? "°" : last.unit}`.replace(
						" °",
						"°",
					),
				]
			: [];
	});
	const hasDwell = text(facts, "dwell") !== "" || text(facts, "dwellLeft") !== "";
	return {
		...step,
		state: hasDwell ? "done" : said.length ? "partly" : "empty",
		detail: said.length ? said.join(", ") : "Not measured. Dwell first, timing second.",
	};
}

/** @param {Doc<Car>} car @param {Doc<Distributor> | null} distributor @param {Doc<Visit>[]} visits @returns {Step} */
function sparkStep(car, distributor, visits) {
	const of = distributor?.body.facts ?? {};
	const { nominalV, cylinders, electronic } = electricsOf(car.body.facts, of);
	const isReady =
		!electronic &&
		nominalV !== null &&
		cylinders !== null &&
		dwellNow(factsOf(visits, "points"), of, cylinders) !== null;
	return {
		name: "spark",
		chapter: "6",
		title: "The spark",
		href: address("car", car.id, "spark"),
		action: "Look at the spark",
		state: isReady ? "done" : "empty",
		detail: electronic
			? "Electronic trigger: its own charge"
			: isReady
				? "What the coil can give, what the plug may ask"
				: "Needs voltage, cylinders and dwell",
	};
}

/**
 * timingUndone says which change of the points came after the last timing on
 * the car; "" where none did, or no timing was taken.
 * @param {Doc<Visit>[]} visits
 */
export function timingUndone(visits) {
	const change = lastChange(visits);
	if (!change) return "";
	const timed = visits
		.flatMap(({ body }) =>
			body.sets
				.filter((set) => set.place === "car" && !set.removed)
				.flatMap((set) =>
					set.readings.filter(({ removed, deg }) => !removed && parse(deg) !== null).map(({ at }) => at),
				),
		)
		.filter(Boolean)
		.sort()
		.at(-1);
	return timed && timed < change.at ? change.note : "";
}
