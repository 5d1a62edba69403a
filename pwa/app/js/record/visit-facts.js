// What is measured on a visit besides the curve: checks of condition, points,
// volts. Each subject has a prefix; its facts stay together in one visit until
// it is begun anew.

import { garage } from "../kept/garage.js";
import { asWritten } from "../kit/format.js";
import { isOpenToday, newVisit, visitOfToday } from "./visits.js";

/** @typedef {"check" | "points" | "volts" | "hunt"} Subject */

/** When a subject was begun: the visit that was begun last is the one worked on. @param {Subject} subject */
const begun = (subject) => `${subject}.begun`;

/**
 * workedOn finds the visit in which a subject was begun last.
 * @param {Doc<Visit>[]} visits @param {Subject} subject
 * @returns {Doc<Visit> | null}
 */
export function workedOn(visits, subject) {
	const at = (/** @type {Doc<Visit>} */ visit) => visit.body.facts?.[begun(subject)]?.value ?? "";
	const found = visits.filter((visit) => at(visit) !== "").sort((a, b) => asWritten(at(b), at(a)));
	return found[0] ?? null;
}

/**
 * factsOf gives the facts of a subject as they now stand, keyed without its
 * prefix.
 * @param {Doc<Visit>[]} visits @param {Subject} subject
 * @returns {Facts}
 */
export function factsOf(visits, subject) {
	return under(workedOn(visits, subject)?.body.facts ?? {}, subject);
}

/** @param {Facts} facts @param {Subject} subject @returns {Facts} */
export function under(facts, subject) {
	const prefix = `${subject}.`;
	return Object.fromEntries(
		Object.entries(facts)
			.filter(([key]) => key.startsWith(prefix) && key !== begun(subject))
			.map(([key, fact]) => [key.slice(prefix.length), fact]),
	);
}

/** text gives the value of a fact, trimmed; "" where it is not known. @param {Facts} facts @param {string} key */
export const text = (facts, key) => facts[key]?.value.trim() ?? "";

/**
 * keepFact keeps a fact the moment it is typed, in the visit worked on or in
 * today's. It resolves when the phone has it.
 * @param {Doc<Car>} car @param {Subject} subject @param {string} key @param {Partial<Fact>} change
 */
export function keepFact(car, subject, key, change) {
	const visit = workedOn(garage.visits({ carId: car.id }), subject)?.id ?? openToday(car, subject);
	return garage
		.update("visit", visit, (/** @type {Visit} */ body) => {
			const name = `${subject}.${key}`;
			body.facts = {
				...body.facts,
				[name]: { value: "", unit: "", source: "measured", note: "", ...body.facts?.[name], ...change },
			};
		})
		.catch(() => {});
}

/** beginAnew leaves the last figures in their visit and starts empty. @param {Doc<Car>} car @param {Subject} subject */
export function beginAnew(car, subject) {
	openToday(car, subject);
}

/**
 * Today's visit where it does not hold the subject yet, else a new one.
 * @param {Doc<Car>} car @param {Subject} subject
 */
function openToday(car, subject) {
	const mark = {
		[begun(subject)]: { value: new Date().toISOString(), unit: "", source: /** @type {Source} */ (""), note: "" },
	};
	const open = garage
		.visits({ carId: car.id })
		.find(({ body }) => isOpenToday(body, car) && !body.facts?.[begun(subject)]);
	if (open) {
		garage
			.update("visit", open.id, (body) => {
				body.facts = { ...body.facts, ...mark };
			})
			.catch(() => {});
		return open.id;
	}
	const id = garage.newId();
	garage.put("visit", id, { ...newVisit(car), facts: mark }).catch(() => {});
	return id;
}

const subjectWords = {
	check: "condition checks",
	points: "points",
	volts: "volts along the feed",
	hunt: "the fault hunt",
};

/** notedWords says which subjects a visit holds: "points, volts along the feed". @param {Visit} body */
export function notedWords(body) {
	return Object.entries(subjectWords)
		.filter(([subject]) => body.facts?.[begun(/** @type {Subject} */ (subject))])
		.map(([, words]) => words)
		.join(", ");
}

/**
 * keepVisitFacts keeps figures among the facts of today's visit.
 * @param {Doc<Car>} car
 * @param {{[key: string]: Fact | null}} facts null takes one out
 */
export async function keepVisitFacts(car, facts) {
	await garage.update("visit", visitOfToday(car), (body) => {
		body.facts = { ...body.facts };
		for (const [key, fact] of Object.entries(facts)) {
			if (fact) body.facts[key] = fact;
			else delete body.facts[key];
		}
	});
}

/**
 * changedFact is a fact with a change to it; what is new was measured, unless
 * it says otherwise.
 * @param {Fact | undefined} before @param {Partial<Fact>} change
 * @returns {Fact}
 */
export function changedFact(before, change) {
	const { value, unit, source, note } = {
		value: "",
		unit: "",
		source: /** @type {Source} */ ("measured"),
		note: "",
		...(before ?? {}),
		...change,
	};
	return { value, unit, source, note };
}

/**
 * lastFact finds the newest of a visit's facts with this name.
 * @param {string} carId @param {string} key
 * @returns {{fact: Fact, date: string} | null}
 */
export function lastFact(carId, key) {
	for (const { body } of garage.visits({ carId })) {
		const fact = body.facts?.[key];
		if (fact && fact.value.trim() !== "") return { fact, date: body.date };
	}
	return null;
}
