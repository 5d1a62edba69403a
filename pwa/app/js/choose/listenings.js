// What was heard and tried on the road: as it was typed, and as the calculations
// take it. A heard knock is kept as it was said, with what was in the tank.

import { garage } from "../kept/garage.js";
import { parse, parseSpeed } from "../kit/format.js";
import { convert } from "../kit/units.js";
import { visitOfToday } from "../record/visits.js";

/** @typedef {{visit: string, date: string, one: Listening}} Listened */

/** listened lists all of a car, the newest first. @param {string} carId @returns {Listened[]} */
export const listened = (carId) =>
	garage.visits({ carId }).flatMap((visit) =>
		(visit.body.heard ?? [])
			.filter(({ removed }) => !removed)
			.map((one) => ({ visit: visit.id, date: visit.body.date, one }))
			.reverse(),
	);

/** @returns {Listening} */
export const blankListening = () => ({
	id: garage.newId(),
	at: new Date().toISOString(),
	kind: "knock",
	rpm: "",
	deg: "",
	vacuum: "",
	vacuumUnit: "inHg",
	heard: "",
	how: "",
	octane: "",
	scale: "",
	airC: "",
	distributor: "",
	earliest: "",
	by: "",
});

/** keepListening puts one into today's visit. @param {Doc<Car>} car @param {Listening} one */
export const keepListening = (car, one) =>
	garage.update("visit", visitOfToday(car), (body) => {
		body.heard = [...(body.heard ?? []).filter((/** @type {Listening} */ { id }) => id !== one.id), one];
	});

/** setListeningRemoved takes one out, or brings it back. @param {Listened} listened @param {boolean} removed */
export const setListeningRemoved = ({ visit, one }, removed) =>
	garage.update("visit", visit, (body) => {
		const found = (body.heard ?? []).find((/** @type {Listening} */ { id }) => id === one.id);
		if (!found) return;
		if (removed) found.removed = true;
		else delete found.removed;
	});

/** Limits of combustion.best, records. */
export const limits = {
	rpm: { min: 300, max: 8000, unit: "engine rpm" },
	deg: { min: -20, max: 70, unit: "crank degrees before TDC" },
	octane: { min: 55, max: 115, unit: "octane" },
	airC: { min: -30, max: 60, unit: "°C" },
	earliest: { min: 0, max: 20, unit: "crank degrees" },
};

const leastLoadKPa = 80; // vacuum beyond which the calculation refuses: a fifth of the air at the sea, 101.3 kPa

/**
 * listeningProblem says what of one cannot stand, or null: the first field that is wrong.
 * @param {Listening} one @returns {FieldProblem | null}
 */
export function listeningProblem(one) {
	const figures = /** @type {const} */ ([
		["rpm", parseSpeed(one.rpm), true],
		["deg", parse(one.deg), true],
		["octane", parse(one.octane), true],
		["airC", parse(one.airC), false],
		["earliest", parse(one.earliest), false],
	]);
	for (const [field, value, isNeeded] of figures) {
		const { min, max, unit } = limits[field];
		const isEmpty = one[field].trim() === "";
		if (isEmpty ? !isNeeded : value !== null && value >= min && value <= max) continue;
		const what = isEmpty ? "is not filled in" : value === null ? `“${one[field]}” is no number` : "is out of range";
		return { field, problem: what, limit: `${min} to ${max} ${unit}`, do: "Type it as it was read." };
	}
	const kPa = vacuumKPa(one);
	if (one.vacuum.trim() !== "" && (kPa === null || kPa < 0 || kPa > leastLoadKPa))
		return {
			field: "vacuum",
			problem: kPa === null ? `“${one.vacuum}” is no number` : "is out of range",
			limit: `0 to ${leastLoadKPa} kPa, 0 to 23.6 inHg`,
			do: "Leave it empty for full throttle.",
		};
	const asked = one.kind === "best" ? (one.how ? "" : "how") : one.heard ? "" : "heard";
	if (asked || !one.scale)
		return {
			field: asked || "scale",
			problem: "is not chosen",
			limit: "one of the answers",
			do: "Tap the one that is true.",
		};
	return null;
}

/** @param {Listening} one */
function vacuumKPa({ vacuum, vacuumUnit }) {
	const typed = parse(vacuum);
	return typed === null ? null : convert(typed, vacuumUnit || "inHg", "kPa");
}

/** recordsOf gives them as the calculations take them; one that is not whole is left out. @param {string} carId */
export function recordsOf(carId) {
	const good = listened(carId)
		.map(({ one }) => one)
		.filter((one) => listeningProblem(one) === null);
	const knock = good.filter(({ kind }) => kind !== "best").slice(0, 40); // limits of the method
	const best = good.filter(({ kind }) => kind === "best").slice(0, 20);
	return { knock: knock.map(knockRecord), best: best.map((one) => ({ ...placeOf(one), how: one.how })) };
}

/** @param {Listening} one */
function knockRecord(one) {
	const earliest = one.distributor === "scattered" ? parse(one.earliest) : null;
	return {
		...placeOf(one),
		heard: one.heard,
		...(one.distributor ? { distributor: one.distributor } : {}),
		...(earliest === null ? {} : { earliestCrankDeg: earliest }),
		...(one.by ? { by: one.by } : {}),
	};
}

/** @param {Listening} one */
function placeOf(one) {
	const [kPa, airC] = [vacuumKPa(one), parse(one.airC)];
	return {
		engineRPM: parseSpeed(one.rpm),
		...(kPa === null || kPa === 0 ? { load: 1 } : { vacuumKPa: kPa }),
		crankDeg: parse(one.deg),
		fuel: { octane: parse(one.octane), scale: one.scale },
		...(airC === null ? {} : { air: { temperatureC: airC } }),
	};
}

/** @type {{[heard: string]: string}} */
const heardWords = {
	none: "no knock heard",
	trace: "a trace of knock",
	rattle: "a rattle",
	heavy: "heavy knock",
};

/** listenedWords says one in a line. @param {Listening} one */
export function listenedWords(one) {
	const where = one.vacuum.trim() ? `${one.vacuum} ${one.vacuumUnit || "inHg"}` : "full throttle";
	const what =
		one.kind === "best"
			? `best by ${one.how === "idle-vacuum" ? "vacuum at idle" : "the time up a hill"}`
			: (heardWords[one.heard] ?? "knock");
	return `${one.rpm} rpm, ${where}, ${one.deg} degrees: ${what}`;
}
