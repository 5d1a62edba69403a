// A setup card that came from someone, turned into documents of the garage.

import { eventsOf } from "./card-work.js";
import { garage } from "../kept/garage.js";
import { leftFigures, leftKey, lists, plainName, plainText, said, saidKey } from "./card-facts.js";
import { emptySheet } from "../record/sheet.js";

/**
 * documentsOf gives the bodies for a car, its distributor and its visits. ids
 * are asked for one by one.
 * @param {SetupCard} card @param {() => string} newId
 * @returns {{carId: string, distributorId: string, car: Car, distributor: Distributor, visits: {id: string, body:
 *   Visit}[]}}
 */
export function documentsOf(card, newId) {
	const [carId, distributorId] = [newId(), newId()];
	const car = /** @type {Car} */ ({
		name: plainName(card.car.name),
		owner: plainText(card.car.facts?.owner?.value, 200),
		distributorId,
		facts: { ...factsIn(card.car.facts), ...writtenIn(card) },
		demo: false,
	});
	delete car.facts.owner; // it has a place of its own
	const order = card.distributor?.firingOrder;
	if (order?.length && !car.facts.firingOrder) car.facts.firingOrder = fact(order.join("-"));
	const distributor = /** @type {Distributor} */ ({
		name: plainName(card.distributor?.name || card.car.name),
		typeNumber: card.distributor?.typeNumber ?? "",
		facts: factsIn(card.distributor?.facts),
		sheet: sheetOf(card.spec),
		sheetSource: card.specSource ?? "",
	});
	if (card.distributor?.rotation && !distributor.facts.rotation)
		distributor.facts.rotation = fact(card.distributor.rotation);
	const most = /** @type {any} */ (card.spec)?.vacuumMaxDistDeg;
	if (most !== undefined && !distributor.facts.capsuleMost)
		distributor.facts.capsuleMost = { ...fact(String(most), "distributor degrees"), source: "book" };
	const date = card.date ?? "";
	const visits = (card.curves ?? []).map((set) => ({
		id: newId(),
		body: visitOf(set, { carId, distributorId, date }, newId),
	}));
	for (const { date: day, event } of eventsOf(card.work ?? [], newId)) {
		const found = visits.find(({ body }) => body.date === day);
		const body = found?.body ?? { carId, distributorId, date: day, title: "", notes: "", sets: [] };
		body.events = [...(body.events ?? []), event];
		if (!found) visits.push({ id: newId(), body });
	}
	return { carId, distributorId, car, distributor, visits };
}

/**
 * keepCard puts a card in the garage and gives the car's id.
 * @param {SetupCard} card @param {string} name what to call the car here
 */
export async function keepCard(card, name) {
	const made = documentsOf(card, garage.newId);
	await garage.put("distributor", made.distributorId, made.distributor);
	for (const { id, body } of made.visits) await garage.put("visit", id, body);
	await garage.put("car", made.carId, { ...made.car, name });
	return made.carId;
}

/**
 * freeName gives a name that no car here has: the card's own, or the card's
 * with who it is from and when.
 * @param {SetupCard} card @param {string[]} taken
 */
export function freeName(card, taken) {
	const name = plainName(card.car.name);
	if (!taken.includes(name)) return name;
	const from = [plainName(card.setBy) || "a setup link", card.date].filter(Boolean).join(", ");
	for (let n = 1; ; n++) {
		const mark = ` (from ${from}${n > 1 ? `, ${n}` : ""})`;
		const free = plainText(name, 80 - [...mark].length) + mark;
		if (!taken.includes(free)) return free;
	}
}

/** @param {string} value @param {string} [unit] @returns {Fact} */
const fact = (value, unit = "") => ({ value, unit, source: "", note: "" });

/** @param {CardFacts | undefined} facts @returns {Facts} */
function factsIn(facts = {}) {
	return Object.fromEntries(
		Object.entries(facts).map(([key, { value, unit = "", source = "", note = "" }]) => [
			key,
			{ value, unit, source, note },
		]),
	);
}

/** @param {SetupCard} card @returns {Facts} */
function writtenIn(card) {
	/** @type {Facts} */
	const out = {};
	for (const { field } of said) if (card[field]) out[saidKey(field)] = fact(/** @type {string} */ (card[field]));
	for (const field of lists)
		if (card[field]?.length) out[saidKey(field)] = fact(/** @type {string[]} */ (card[field]).join("\n"));
	if (card.asSet?.gap) out[leftKey("gap")] = { ...factsIn({ gap: card.asSet.gap }).gap };
	for (const { path, kind, unit } of leftFigures) {
		const value = path.split(".").reduce((/** @type {any} */ at, key) => at?.[key], card.asSet);
		if (value === undefined || value === null || value === "") continue;
		out[leftKey(path)] = {
			...fact(kind === "yes-no" ? (value ? "yes" : "no") : String(value), unit),
			source: "measured",
		};
	}
	return out;
}

/** @param {Spec | undefined} spec @returns {Sheet} */
function sheetOf(spec) {
	if (!spec) return emptySheet();
	/** @param {number | undefined} value */
	const text = (value) => (value === undefined ? "" : String(value));
	const base = spec.baseCrankDeg;
	return {
		...emptySheet(),
		angleUnit: spec.angleUnit,
		speedUnit: spec.speedUnit,
		base: spec.base,
		baseCrankDeg: base === undefined ? "" : String(Math.abs(base)),
		baseSide: base !== undefined && base < 0 ? "after" : "before",
		baseToleranceCrankDeg: text(spec.baseToleranceCrankDeg),
		noAdvanceBelow: text(spec.noAdvanceBelowRPM),
		driveRatio: text(spec.driveRatio),
		listedWhile: spec.listedWhile ?? "either",
		limitDistDeg: text(spec.limitDistDeg),
		rows: spec.points.map(({ rpm, minDeg, maxDeg }) => ({
			rpm: String(rpm),
			min: text(minDeg),
			max: text(maxDeg),
		})),
	};
}

/**
 * @param {ReadingSet} set
 * @param {{carId: string, distributorId: string, date: string}} of
 * @param {() => string} newId
 * @returns {Visit}
 */
function visitOf(set, { carId, distributorId, date }, newId) {
	const said = /, (\d{4}-\d{2}-\d{2})$/.exec(set.name ?? "");
	const still = set.staticCrankDeg;
	return {
		carId,
		distributorId,
		date: said?.[1] ?? date,
		title: said ? (set.name ?? "").slice(0, said.index) : (set.name ?? ""),
		notes: set.points.some(({ direction }) => !direction)
			? "The card does not say for every reading whether the speed rose or fell; those stand as rising."
			: "",
		sets: [
			{
				id: newId(),
				place: set.place,
				angleUnit: set.angleUnit,
				speedUnit: set.speedUnit,
				base: set.base,
				vacuum: set.vacuum ?? "",
				readingErrorCrankDeg: set.readingErrorCrankDeg === undefined ? "" : String(set.readingErrorCrankDeg),
				staticCrankDeg: still === undefined ? "" : String(Math.abs(still)),
				staticSide: still !== undefined && still < 0 ? "after" : "before",
				readings: set.points.map(({ rpm, deg, direction }) => ({
					id: newId(),
					rpm: String(rpm),
					deg: String(Math.abs(deg)),
					side: deg < 0 ? "after" : "before",
					direction: direction ?? "rising",
					at: "",
				})),
			},
		],
	};
}
