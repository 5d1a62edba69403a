// A fault hunt as it is kept in a visit: what the car does, what was changed
// last, and every test with its answer, in the order they were given.

import { beginAnew, factsOf, keepFact, text } from "../record/visit-facts.js";

/** @typedef {"expected" | "not" | "undone" | ""} Result */
/**
 * @typedef {object} Observation
 * @property {string} id of the test
 * @property {Result} result "" where the figure says it
 * @property {string} seen which of the test's answers
 * @property {string} says in words
 * @property {number} [value] the figure read @property {string} [unit]
 */
/**
 * @typedef {object} Hunt
 * @property {string[]} symptoms
 * @property {string[] | null} changed causes whose part was changed before the trouble began; null: not asked yet
 * @property {Observation[]} trail
 * @property {string} found the cause it was, or ""
 * @property {boolean} isTold whether the symptoms are all told
 */

/** huntOf reads the hunt worked on. @param {Doc<Visit>[]} visits @returns {Hunt} */
export function huntOf(visits) {
	const facts = factsOf(visits, "hunt");
	const list = (/** @type {string} */ key) => text(facts, key).split(" ").filter(Boolean);
	return {
		symptoms: list("symptoms"),
		isTold: text(facts, "told") === "yes",
		changed: facts.changed ? list("changed").filter((id) => id !== "none") : null,
		trail: list("trail").flatMap((id) => {
			const fact = facts[id];
			if (!fact?.value) return [];
			const [result, seen = ""] = fact.value.split(" ");
			if (result === "read")
				return [
					{
						id,
						result: /** @type {Result} */ (""),
						seen: "",
						says: fact.note,
						value: Number(seen),
						unit: fact.unit,
					},
				];
			return [{ id, result: /** @type {Result} */ (result), seen, says: fact.note }];
		}),
		found: text(facts, "found"),
	};
}

/**
 * keepHunt keeps a part of it the moment it is said.
 * @param {Doc<Car>} car @param {string} key @param {string} value @param {string} [note]
 */
export const keepHunt = (car, key, value, note = "") => keepFact(car, "hunt", key, { value, note, source: "measured" });

/** answered adds the answer to a test. @param {Doc<Car>} car @param {Hunt} hunt @param {Observation} one */
export async function answered(car, hunt, { id, result, seen, says, value, unit = "" }) {
	if (value === undefined) await keepHunt(car, id, [result, seen].filter(Boolean).join(" "), says);
	else await keepFact(car, "hunt", id, { value: `read ${value}`, unit, note: says, source: "measured" });
	await keepHunt(car, "trail", [...hunt.trail.map((each) => each.id).filter((each) => each !== id), id].join(" "));
}

/** toObservation gives it as faults.rank takes it. @param {Observation} one */
export const toObservation = ({ id, result, seen, value, unit }) => ({
	id,
	...(result ? { result } : {}),
	...(seen ? { seen } : {}),
	...(value === undefined ? {} : { value, unit }),
});

/** takenBack takes the answer to a test out again. @param {Doc<Car>} car @param {Hunt} hunt @param {string} id */
export const takenBack = (car, hunt, id) =>
	keepHunt(
		car,
		"trail",
		hunt.trail
			.map((each) => each.id)
			.filter((each) => each !== id)
			.join(" "),
	);

/** another leaves the hunt in its visit and begins a new one. @param {Doc<Car>} car */
export const another = (car) => beginAnew(car, "hunt");
