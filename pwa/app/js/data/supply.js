// The way from the battery to the points and back as this car has it, and the
// volts typed along it.

import { parse } from "../lib/format.js";
import { text } from "./visit-facts.js";

/** @typedef {import("./electrics.js").Electrics} Electrics */
/** @typedef {"closed" | "cranking"} State ignition on with the points closed, or the starter turning */
/** @typedef {{id: string, name: string, note?: string}} Place */

/** @type {Place[]} */
const way = [
	{ id: "battery", name: "Battery, live post", note: "on the lead post itself, not on the clamp" },
	{ id: "switchIn", name: "Ignition switch, in" },
	{ id: "switchOut", name: "Ignition switch, out" },
	{ id: "ballastIn", name: "Ballast, in" },
	{ id: "ballastOut", name: "Ballast, out" },
	{ id: "coilFeed", name: "Coil, feed terminal" },
	{ id: "coilPoints", name: "Coil, distributor terminal" },
	{ id: "distributor", name: "Distributor terminal" },
	{ id: "body", name: "Distributor body" },
	{ id: "engine", name: "Engine block" },
];

/** What lies after each place, as it is drawn. */
export const parts = /** @type {const} */ ({
	battery: "lead", switchIn: "switch", switchOut: "lead", ballastIn: "ballast", ballastOut: "lead", coilFeed: "coil", coilPoints: "lead", distributor: "points", body: "clamp", engine: "strap",
});

/** @type {{[part: string]: string}} */
export const partNames = { lead: "lead", switch: "switch", ballast: "ballast", coil: "coil", points: "points", clamp: "clamp", strap: "strap and earth lead" };

/**
 * placesOf lists the places of this car: no ballast where there is none, and
 * while cranking only up to the coil, because beyond it a meter shows a mean.
 * @param {boolean} ballasted @param {State} state @returns {Place[]}
 */
export function placesOf(ballasted, state) {
	const own = way.filter(({ id }) => ballasted || !id.startsWith("ballast"));
	return state === "cranking" ? own.slice(0, own.findIndex(({ id }) => id === "coilFeed") + 1) : own;
}

/**
 * supplyIn gives what supply.judge takes; null while the battery and one more
 * place are not measured.
 * @param {Electrics} electrics @param {State} state @param {Facts} facts of the volts @param {Facts} car
 */
export function supplyIn({ nominalV, earth, ballasted }, state, facts, car) {
	if (nominalV === null || earth === null || ballasted === null) return null;
	const readings = placesOf(ballasted, state).flatMap(({ id }) => {
		const volts = parse(text(facts, `${state}.${id}`));
		return volts === null || Math.abs(volts) > 30 ? [] : [{ at: id, volts }];
	});
	if (readings.length < 2 || readings[0].at !== "battery") return null;
	const [coilOhm, ballastOhm] = [ohms(car.coilOhm), ballasted ? ohms(car.ballastOhm) : null];
	return { nominalV, earth, ballasted, state, readings, ...(coilOhm === null ? {} : { coilOhm }), ...(ballastOhm === null ? {} : { ballastOhm }) };
}

/** @param {Fact | undefined} fact */
function ohms(fact) {
	const x = parse(fact?.value);
	return x !== null && x > 0 && x <= 20 ? x : null;
}

/** shownVolts writes a reading for the drawing. @param {Facts} facts @param {State} state @param {string} place */
export function shownVolts(facts, state, place) {
	return text(facts, `${state}.${place}`);
}
