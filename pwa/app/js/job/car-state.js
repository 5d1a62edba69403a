// The state of a car, from one place: the worst of all that is known of it, with
// its reason and what to do about it. List, job page and order of work ask here,
// so that none of them says otherwise than another.

import { fitnessOf } from "./work-order.js";
import { lastVerdict } from "./last-verdict.js";
import { pageVerdicts } from "./page-verdicts.js";
import { engineState } from "../engine/client.js";
import { garage } from "../kept/garage.js";
import { thisPhone } from "../kept/this-phone.js";
import { address } from "../kit/address.js";

/**
 * @typedef {object} CarState
 * @property {string} verdict the worst there is
 * @property {string} summary why, in a sentence
 * @property {string} page whose verdict it is
 */

/**
 * What the summary of a page is about, and what is done about a fail.
 * @type {{[page: string]: [about: string, action: string]}}
 */
const words = {
	verdict: ["", "See what to do about the curve"],
	volts: ["Feed: ", "See where the volts are lost"],
	points: ["Points: ", "See what is wrong with the points"],
	vacuum: ["Capsule: ", "See what is wrong with the capsule"],
	condition: ["Condition: ", "See what failed in the checks"],
};

/** Worst first. Where two are alike the earlier page of the job stands. */
const order = ["fail", "watch", "unknown", "pass"];

/** Bump it when the rule below changes: what phones have kept is then worked out again. */
const rule = 2;

/**
 * carState gives the worst of what is known, or null where nothing is. It is
 * kept on the phone until a document of the car changes.
 * @param {Doc<Car>} car
 * @returns {Promise<CarState | null>}
 */
export async function carState(car) {
	const distributor = garage.get("distributor", car.body.distributorId);
	const visits = garage.visits({ carId: car.id });
	const stamp = JSON.stringify([rule, [car, distributor, ...visits].map((doc) => doc && [doc.id, doc.changedAt])]);
	const kept = await thisPhone.get(`state/${car.id}`).catch(() => null);
	if (kept?.stamp === stamp) return kept.answer;
	const given = { car, distributor, answers: {} };
	const [verdict, pages, condition] = await Promise.all([
		lastVerdict(car),
		pageVerdicts(given),
		fitnessOf(given).catch(() => null),
	]);
	const answer = worstOf({ condition, volts: pages.volts, points: pages.points, vacuum: pages.vacuum, verdict });
	// without an engine a part may be missing: it is asked again
	if (answer && engineState() === "ready") await thisPhone.put(`state/${car.id}`, { stamp, answer }).catch(() => {});
	return answer;
}

/**
 * worstOf picks the worst of the pages. What is unknown on another page does
 * not hide what was passed; a curve that is not known does: the car is not right
 * before it is.
 * @param {{[page: string]: {verdict: string, summary: string} | null | undefined}} found in the order of the job
 * @returns {CarState | null}
 */
export function worstOf(found) {
	const said = Object.entries(found).flatMap(([page, one]) => (one ? [{ page, ...one }] : []));
	const known = said.filter(({ verdict, page }) => verdict !== "unknown" || page === "verdict");
	const weight = (/** @type {{verdict: string}} */ one) => order.indexOf(one.verdict);
	const worst = [...(known.length ? known : said)].sort((a, b) => weight(a) - weight(b)).at(0);
	if (!worst) return null;
	// a pass is told by the curve, where there is one
	const told = worst.verdict === "pass" ? (known.find(({ page }) => page === "verdict") ?? worst) : worst;
	return { verdict: told.verdict, page: told.page, summary: `${words[told.page][0]}${told.summary}` };
}

/**
 * whatToDo is the one thing to do about a state that fails; null where the order
 * of work goes on.
 * @param {Doc<Car>} car @param {CarState | null} state
 */
export function whatToDo(car, state) {
	if (state?.verdict !== "fail") return null;
	return { action: words[state.page][1], href: address("car", car.id, state.page) };
}
