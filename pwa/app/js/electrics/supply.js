// The way from the battery to the points and back as this car has it, and the
// volts typed along it.

import { parse } from "../kit/format.js";
import { text } from "../record/visit-facts.js";

/** @typedef {import("../record/car-electrics.js").Electrics} Electrics */
/** @typedef {"closed" | "cranking"} State ignition on with the points closed, or the starter turning */
/** @typedef {{id: string, name: string, note?: string}} Place */

/** More than any battery here; a reading beyond is left out. As supply.judge takes it. */
const mostVolts = 30;

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
	battery: "lead",
	switchIn: "switch",
	switchOut: "lead",
	ballastIn: "ballast",
	ballastOut: "lead",
	coilFeed: "coil",
	coilPoints: "lead",
	distributor: "points",
	body: "clamp",
	engine: "strap",
});

/** @type {{[part: string]: string}} */
export const partNames = {
	lead: "lead",
	switch: "switch",
	ballast: "ballast",
	coil: "coil",
	points: "points",
	clamp: "clamp",
	strap: "strap and earth lead",
};

/**
 * placesOf lists the places of this car: no ballast where there is none, and
 * while cranking only up to the coil, because beyond it a meter shows a mean.
 * @param {boolean} ballasted @param {State} state @returns {Place[]}
 */
export function placesOf(ballasted, state) {
	const own = way.filter(({ id }) => ballasted || !id.startsWith("ballast"));
	return state === "cranking" ? own.slice(0, own.findIndex(({ id }) => id === "coilFeed") + 1) : own;
}

/** Volts below this have no sign to go by: two readings of a meter differ so much. As supply.judge takes it. */
const noSign = 0.02;

/**
 * turnedRound names the readings whose sign is against the others: the meter's
 * leads were changed over on the way, or a sign was slipped in. Where they
 * are as many either way, the battery's sign counts.
 * @param {boolean} ballasted @param {State} state @param {(place: string) => string} typed @returns {Set<string>}
 */
export function turnedRound(ballasted, state, typed) {
	const signed = placesOf(ballasted, state)
		.map(({ id }) => ({ id, volts: parse(typed(id)) ?? 0 }))
		.filter(({ volts }) => Math.abs(volts) > noSign && Math.abs(volts) <= mostVolts);
	const below = signed.filter(({ volts }) => volts < 0);
	const isMostlyBelow = 2 * below.length === signed.length ? signed[0]?.volts < 0 : 2 * below.length > signed.length;
	return new Set(signed.filter(({ volts }) => volts < 0 !== isMostlyBelow).map(({ id }) => id));
}

/**
 * supplyIn gives what supply.judge takes; null while the battery and one more
 * place are not measured.
 * @param {Electrics} electrics @param {State} state @param {Facts} facts of the volts @param {Facts} car
 */
export function supplyIn({ nominalV, earth, ballasted }, state, facts, car) {
	if (nominalV === null || earth === null || ballasted === null) return null;
	const turned = turnedRound(ballasted, state, (id) => text(facts, `${state}.${id}`));
	const readings = placesOf(ballasted, state).flatMap(({ id }) => {
		const volts = parse(text(facts, `${state}.${id}`));
		return volts === null || Math.abs(volts) > mostVolts || turned.has(id) ? [] : [{ at: id, volts }];
	});
	if (readings.length < 2 || readings[0].at !== "battery") return null;
	const [coilOhm, ballastOhm] = [ohms(car.coilOhm), ballasted ? ohms(car.ballastOhm) : null];
	return {
		nominalV,
		earth,
		ballasted,
		state,
		readings,
		...(coilOhm === null ? {} : { coilOhm }),
		...(ballastOhm === null ? {} : { ballastOhm }),
	};
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

/**
 * crankingFigures gives the volts of battery and coil with the starter turning,
 * by the input of coil.sweep, where both were read on the volts page.
 * @param {Facts} facts of the volts @param {string} day when they were read
 * @returns {{[path: string]: {value: number, words: string}}}
 */
export function crankingFigures(facts, day) {
	const [battery, feed] = ["battery", "coilFeed"].map((place) =>
		Math.abs(parse(text(facts, `cranking.${place}`)) ?? 0),
	);
	if (battery < 0.5 || feed < 0.5 || battery > mostVolts || feed > battery + 0.1) return {};
	const words = (/** @type {number} */ volts) =>
		`${volts} V read on the volts page, starter turning${
			day
				? `,
		${day}`
				: ""
		}`;
	return {
		"cranking.batteryV": { value: battery, words: words(battery) },
		"feed.crankingV": { value: feed, words: words(feed) },
	};
}

/** Findings after which a reading tells neither resistance nor volts to go by. */
const untrue = ["volts-rise", "points-open", "open-circuit", "battery-high"];

/**
 * measuredFigures gives what the walk tells of the coil's circuit, by the input
 * of coil.sweep: the ohms of all connections together, once every one of them
 * lies in a stretch that was measured; coil and ballast where they were
 * measured alone and are not what the current was told by; the battery's volts
 * with the ignition on and nothing charging. hints say what is still to be measured.
 * @param {SupplyJudgement} judged @param {boolean} ballasted @param {string} day when it was measured
 * @returns {{figures: {[path: string]: {value: number, words: string}}, hints: {[path: string]: string}}}
 */
export function measuredFigures(judged, ballasted, day) {
	const known = judged.stretches.filter(({ ohm }) => ohm !== null);
	if (known.length === 0 || judged.findings.some(({ code }) => untrue.includes(code)))
		return { figures: {}, hints: {} };
	const order = [...placesOf(ballasted, "closed").map(({ id }) => id), "earthPost"];
	const loads = /** @type {{[from: string]: string}} */ ({
		coilFeed: "coil.primaryOhm",
		...(ballasted ? { ballastIn: "coil.ballastOhm" } : {}),
	});
	const ends = new Set(known.flatMap(({ from, to }) => [from, to]));
	const missing = ["ballastIn", "ballastOut", "coilFeed", "coilPoints", "earthPost"].filter(
		(id) => order.includes(id) && !ends.has(id),
	);
	/** @type {{[path: string]: {value: number, words: string}}} */
	const figures = {};
	const keep = (/** @type {string} */ path, /** @type {number} */ value, unit = "Ω", places = 2) => {
		figures[path] = {
			value,
			words: `${Number(value.toPrecision(places))} ${unit} measured on the volts page${day ? `, ${day}` : ""}`,
		};
	};
	// all drops together
	keep("stoppedV", Number(judged.stretches.reduce((sum, { dropV }) => sum + dropV, 0).toFixed(3)), "V", 3);
	let lead = 0;
	for (const { from, to, ohm } of known) {
		const within = order.slice(order.indexOf(from), order.indexOf(to));
		// its ohms were given, not found
		const gaveCurrent = judged.currentBy.includes(from === "coilFeed" ? "across the coil" : "across the ballast");
		if (within.length === 1 && from in loads && !gaveCurrent) keep(loads[from], Number(ohm));
		if (!within.some((id) => id in loads)) lead += Number(ohm);
	}
	if (missing.length === 0) keep("coil.leadOhm", lead);
	else if (typeof judged.feedV === "number")
		keep("feed.closedV", Number(judged.feedV.toFixed(3)), "V at the coil", 3);
	const names = missing.map((id) => (way.find((place) => place.id === id)?.name ?? "earth").toLowerCase());
	return {
		figures,
		hints: names.length
			? { "coil.leadOhm": `The volts page tells it once these are measured too: ${names.join("; ")}.` }
			: {},
	};
}
