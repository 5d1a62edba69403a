// The chain of the job for one car: what is there, and the one next step.

import { enoughReadings, judgedSets } from "../record/judged-sets.js";
import { complete, isBlank, toSpec } from "../record/sheet.js";
import { address } from "../kit/address.js";
import { electricSteps, timingUndone } from "./job-electrics.js";
import { factCount } from "../record/facts.js";
import { withMeasured } from "../record/measured-facts.js";

/** @typedef {import("./job-electrics.js").Step} Step */

/**
 * jobOf gives the steps in order and the one to do next.
 * @param {Doc<Car>} car
 * @param {Doc<Distributor> | null} distributor
 * @param {Doc<Visit>[]} visits
 * @returns {{steps: Step[], next: Step}}
 */
export function jobOf(car, distributor, visits) {
	const book = bookStep(car, distributor);
	const readings = readingsStep(car, visits);
	const verdict = verdictStep(car, book, readings);
	const facts = factsStep(car, distributor, visits);
	const [condition, volts, points, spark] = electricSteps(car, distributor, visits);
	if (car.isUnit) {
		const steps = [facts, book, condition, points, readings, verdict];
		return { steps, next: nextOf({ book, condition, points, readings, verdict }) };
	}
	const steps = [facts, book, condition, volts, points, spark, readings, verdict];
	return { steps, next: nextOf({ book, condition, points, readings, verdict }) };
}

/**
 * The one next step: the book; what was changed later in the chain undone;
 * then wear before setting, unless readings were begun already.
 * @param {{book: Step, condition: Step, points: Step, readings: Step, verdict: Step}} steps
 */
function nextOf({ book, condition, points, readings, verdict }) {
	if (book.state !== "done") return book;
	if (readings.state === "empty") {
		if (condition.state !== "done") return condition;
		if (points.state !== "done") return points;
	}
	return readings.state !== "done" ? readings : verdict;
}

/** @param {Doc<Car>} car @param {Doc<Distributor> | null} distributor @param {Doc<Visit>[]} visits @returns {Step} */
function factsStep(car, distributor, visits) {
	const { known, asked } = factCount(
		withMeasured("car", car.body.facts, visits),
		withMeasured("distributor", distributor?.body.facts ?? {}, visits),
		distributor?.body.sheet,
		car.isUnit,
	);
	return {
		name: "facts",
		chapter: "1",
		title: car.isUnit ? "Facts of the distributor" : "Facts of the car",
		href: address("car", car.id, "facts"),
		action: "Enter the facts",
		state: known === 0 ? "empty" : "partly",
		detail: known === 0 ? "None yet. Enter what you know; unknown stays unknown." : `${known} of ${asked} known`,
	};
}

/** @param {Doc<Car>} car @param {Doc<Distributor> | null} distributor @returns {Step} */
function bookStep(car, distributor) {
	const step = {
		name: "book",
		chapter: "2",
		title: "The book’s figures",
		href: address("car", car.id, "book"),
		action: "Enter the book’s figures",
	};
	const sheet = distributor?.body.sheet;
	const rows = sheet?.rows.filter((row) => !isBlank(row)).length ?? 0;
	if (!sheet || rows === 0) return { ...step, state: "empty", detail: "None yet. Type the table as it is printed." };
	const { problem } = toSpec(sheet);
	if (problem)
		return {
			...step,
			state: "partly",
			detail: `${count(rows, "speed")}; still open: ${problem.problem}`,
			action: "Finish the book’s figures",
		};
	const base = sheet.base === "included" ? "base included" : "base apart";
	return {
		...step,
		state: "done",
		detail: `${count(rows, "speed")}, ${sheet.angleUnit} degrees at ${sheet.speedUnit} rpm, ${base}`,
	};
}

/** @param {Doc<Car>} car @param {Doc<Visit>[]} visits @returns {Step} */
function readingsStep(car, visits) {
	const step = {
		name: "readings",
		chapter: "7",
		title: "Readings",
		href: address("car", car.id, "readings"),
		action: "Take readings",
	};
	const counts = { bench: 0, car: 0 };
	for (const place of /** @type {const} */ (["bench", "car"])) {
		for (const set of judgedSets(visits, place)?.sets ?? []) counts[place] += complete(set).length;
	}
	const total = counts.bench + counts.car;
	if (total === 0) return { ...step, state: "empty", detail: "None yet. On the bench or on the car." };
	const undone = timingUndone(visits);
	if (undone)
		return {
			...step,
			state: "again",
			detail: `Timing is to be done again: ${undone}`,
			action: "Do the timing again",
		};
	const parts = [
		counts.bench ? `${counts.bench} on the bench` : "",
		counts.car ? `${counts.car} on the car` : "",
	].filter(Boolean);
	return {
		...step,
		state: total >= enoughReadings ? "done" : "partly",
		detail: parts.join(", "),
		action: "Take more readings",
	};
}

/** @param {Doc<Car>} car @param {Step} book @param {Step} readings @returns {Step} */
function verdictStep(car, book, readings) {
	const isReady = book.state === "done" && readings.state !== "empty";
	return {
		name: "verdict",
		chapter: "8",
		title: "Verdict",
		href: address("car", car.id, "verdict"),
		action: "Read the verdict",
		state: isReady ? "done" : "empty",
		detail: isReady ? "Which part to touch, and which way" : "Needs the book’s figures and readings",
	};
}

/** @param {number} n @param {string} what */
export function count(n, what) {
	return `${n} ${what}${n === 1 ? "" : "s"}`;
}
