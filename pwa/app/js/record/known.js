// What is known of a car, read from its facts and its book, and for guided work
// from what was answered on the way. Unknown stays unknown: null.

import { parse, parseSpeed } from "../kit/format.js";
import { listOf } from "./fact-checks.js";
import { firingOrderIn } from "./firing-order.js";
import { chosenOf, sheetInUse, toSpec } from "./sheet.js";

/**
 * @typedef {object} Given
 * @property {Doc<Car>} car
 * @property {Doc<Distributor> | null} distributor
 * @property {{[key: string]: string}} answers
 */

/** @param {Given} given @param {string} key @returns {string} the car's fact, else the distributor's */
export function factText({ car, distributor }, key) {
	return (car.body.facts[key]?.value ?? "").trim() || (distributor?.body.facts[key]?.value ?? "").trim();
}

/** @param {Given} given @returns {number | null} */
export function cylindersOf(given) {
	const n = parse(factText(given, "cylinders"));
	return n !== null && Number.isInteger(n) && n >= 2 && n <= 12 ? n : null;
}

/** @param {Given} given @returns {number[] | null} cylinders in firing order, where it is known whole */
export function orderOf(given) {
	const order = firingOrderIn(factText(given, "firingOrder"));
	const count = cylindersOf(given) ?? order.length;
	return order.length >= 2 && order.length === count && new Set(order).size === count ? order : null;
}

/** @param {Given} given @returns {"clockwise" | "anticlockwise" | ""} the rotor's way, from the cap end */
export function rotationOf(given) {
	const found = factText(given, "rotation");
	return found === "clockwise" || found === "anticlockwise" ? found : "";
}

/** The figures to judge by, the book’s or the chosen ones, or null. @param {Given} given @returns {Spec | null} */
export function specOf(given) {
	const sheet = sheetInUse(given);
	return sheet ? toSpec(sheet).spec : null;
}

/**
 * bookStatic is the book's static figure, before TDC positive, with what it
 * allows either side: 0 where it prints none.
 * @param {Given} given
 * @returns {{crankDeg: number, toleranceCrankDeg: number, source: string} | null}
 */
export function bookStatic(given) {
	const sheet = sheetInUse(given);
	const size = sheet ? parse(sheet.baseCrankDeg) : null;
	if (sheet && size !== null)
		return {
			crankDeg: sheet.baseSide === "after" ? -size : size,
			toleranceCrankDeg: parse(sheet.baseToleranceCrankDeg) ?? 0,
			source: chosenOf(given.car) ? "chosen curve" : given.distributor?.body.sheetSource || "book",
		};
	const fact = given.car.body.facts.staticTiming;
	const own = parse(fact?.value);
	return own === null || !fact.unit
		? null
		: {
				crankDeg: fact.unit === "after TDC" ? -own : own,
				toleranceCrankDeg: 0,
				source: fact.source || "source not given",
			};
}

/**
 * partsAtHand are the springs and stops that a repair may choose from, as advance.prescribe takes them.
 * @param {Facts | undefined} facts of the distributor
 */
export function partsAtHand(facts) {
	const found = {
		primarySprings: listOf(facts?.primariesAtHand?.value, 0.1, 10),
		secondarySprings: listOf(facts?.secondariesAtHand?.value, 0.1, 10),
		stopsDistDeg: listOf(facts?.stopsAtHand?.value, 0, 25),
	};
	return Object.fromEntries(
		Object.entries(found).flatMap(([name, list]) => (list.length ? [[name, list.slice(0, 20)]] : [])),
	);
}

/** The idle speed of this car, engine rpm. @param {Given} given */
export function idleOf(given) {
	const rpm = parseSpeed(factText(given, "idleSpeed"));
	return rpm !== null && rpm >= 200 && rpm <= 3000 ? rpm : null;
}
