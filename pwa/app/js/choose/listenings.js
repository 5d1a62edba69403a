// What was heard and tried on the road: as it was typed, and as the calculations
// take it. A heard knock is kept as it was said, with what was in the tank.

import { figures } from "../../made/shapes.js";
import { garage } from "../kept/garage.js";
import { parse, parseSpeed } from "../kit/format.js";
import { convert } from "../kit/units.js";
import { inWords, isIn } from "../record/figure-limits.js";
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

/** The figures of one, in the order of the form, and their units. */
const figureUnits = /** @type {const} */ ({
	rpm: "engine rpm",
	deg: "crank degrees before TDC",
	octane: "octane",
	airC: "°C",
	earliest: "crank degrees",
});

/** Those that have to be there. @type {Set<string>} */
const neededFigures = new Set(["rpm", "deg", "octane"]);

const leastLoadKPa = 80; // vacuum beyond which the calculation refuses: a fifth of the air at the sea, 101.3 kPa

/**
 * listeningProblem says what of one cannot stand, or null: the first field that is wrong.
 * @param {Listening} one @returns {FieldProblem | null}
 */
export function listeningProblem(one) {
	for (const field of /** @type {(keyof typeof figureUnits)[]} */ (Object.keys(figureUnits))) {
		const text = one[field].trim();
		const value = field === "rpm" ? parseSpeed(text) : parse(text);
		const limit = figures[`listening.${field}`];
		if (text === "" ? !neededFigures.has(field) : value !== null && isIn(value, limit)) continue;
		const what = text === "" ? "is not filled in" : value === null ? `“${text}” is no number` : "is out of range";
		return {
			field,
			problem: what,
			limit: `${inWords(limit)} ${figureUnits[field]}`,
			do: "Type it as it was read.",
		};
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
