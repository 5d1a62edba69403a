// The way from "this reading would decide" to entering that very reading.

import { drafts } from "../kept/drafts.js";
import { changedSince, judgedSets } from "./judged-sets.js";
import { startSet } from "./visits.js";

/**
 * @typedef {{isStatic: true} | {isStatic?: false, rpm: number, direction: "rising" | "falling"}} Wanted the reading
 *   that is to be taken in a set
 */

/** @param {string} setId */
const wantedKey = (setId) => `wanted/${setId}`;

/** wantedIn gives the reading that is wanted in a set. @param {string} setId @returns {Promise<Wanted | undefined>} */
export const wantedIn = (setId) => drafts.get(wantedKey(setId)).catch(() => undefined);

/** wantedTaken forgets it. @param {string} setId */
export const wantedTaken = (setId) => drafts.put(wantedKey(setId), undefined);

/**
 * setToContinue gives the judged set that the reading belongs to: the same
 * place, and nothing changed since it was read. null: a new set is begun.
 * @param {Doc<Visit>[]} visits newest first @param {NextReading["place"]} place
 * @returns {{visit: Doc<Visit>, set: VisitSet} | null}
 */
export function setToContinue(visits, place) {
	const judged = judgedSets(visits, place === "bench" ? "bench" : "car");
	if (!judged || judged.main.vacuum === "connected" || changedSince(visits, judged.visit.body, judged.main))
		return null;
	return { visit: /** @type {Doc<Visit>} */ (judged.visit), set: judged.main };
}

/**
 * beginReading makes ready to take a reading and says where it is entered. Its
 * cautions are shown first.
 * @param {Doc<Car>} car @param {Doc<Visit>[]} visits newest first @param {NextReading} next in the units of the set
 * @returns {Promise<{visit: string, set: string}>}
 */
export async function beginReading(car, visits, next) {
	const found = setToContinue(visits, next.place);
	const { visit, set } = found
		? { visit: found.visit.id, set: found.set.id }
		: await startSet(car, next.place === "bench" ? "bench" : "car");
	/** @type {Wanted} */
	const wanted =
		next.place === "lamp" ? { isStatic: true } : { rpm: Math.round(next.rpm), direction: next.direction };
	await Promise.all([drafts.put(wantedKey(set), wanted), drafts.put(`stage/${set}`, "start")]);
	return { visit, set };
}
