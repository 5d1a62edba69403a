// The state of a car, from one place: the worst of all that is known of it, with
// its reason and what to do about it. List, job page, order of work, guided work
// and card ask here, so that none of them says otherwise than another.

import { checksVerdict } from "./checks-verdict.js";
import { curveFails, lastVerdict } from "./last-verdict.js";
import { pageVerdicts } from "./page-verdicts.js";
import { stampOf } from "./stamp.js";
import { engineState } from "../engine/client.js";
import { garage } from "../kept/garage.js";
import { thisPhone } from "../kept/this-phone.js";
import { address } from "../kit/address.js";
import { factsOf, text } from "../record/visit-facts.js";
import { worst } from "../kit/finding/worst.js";
import { firstCapital } from "../kit/words.js";

/**
 * @typedef {object} CarState
 * @property {Verdict} verdict the worst there is
 * @property {string} summary why, in a sentence
 * @property {string} part whose verdict it is
 * @property {boolean} [curveFails] whether the curve itself fails: then the body is not turned
 */

/**
 * In the order of the job: what the summary of a part is about, what is done about a fail, and where.
 * @type {{[part: string]: {about: string, action: string, page: string}}}
 */
const parts = {
	condition: { about: "Condition: ", action: "See what failed in the checks", page: "condition" },
	volts: { about: "Feed: ", action: "See where the volts are lost", page: "volts" },
	points: { about: "Points: ", action: "See what is wrong with the points", page: "points" },
	polarity: { about: "Coil: ", action: "See how the coil is connected", page: "spark" },
	spark: { about: "Spark: ", action: "See why the spark is weak", page: "spark" },
	scatter: { about: "Cylinders: ", action: "See which cylinder is off", page: "scatter" },
	vacuum: { about: "Capsule: ", action: "See what is wrong with the capsule", page: "vacuum" },
	hunt: { about: "Fault hunt: ", action: "Go on with the hunt", page: "hunt" },
	verdict: { about: "", action: "See what to do about the curve", page: "verdict" },
};

/** Bump it when the rule below changes: what phones have kept is then worked out again. */
const rule = 5;

/**
 * carState gives the worst of what is known, or null where nothing is. It is
 * kept on the phone until a document of the car changes.
 * @param {Doc<Car>} car
 * @returns {Promise<CarState | null>}
 */
export async function carState(car) {
	const distributor = garage.get("distributor", car.body.distributorId);
	const stamp = `${rule} ${stampOf(car)}`;
	const kept = await thisPhone.get(`state/${car.id}`).catch(() => null);
	if (kept?.stamp === stamp) return kept.answer;
	const given = { car, distributor, answers: {} };
	const [verdict, pages, condition] = await Promise.all([
		lastVerdict(car),
		pageVerdicts(given),
		checksVerdict(given).catch(() => null),
	]);
	const found = worstOf({ condition, ...pages, hunt: openHunt(garage.visits({ carId: car.id })), verdict });
	const answer = found && { ...found, curveFails: curveFails(verdict) };
	// without an engine a part may be missing: it is asked again
	if (answer && engineState() === "ready") await thisPhone.put(`state/${car.id}`, { stamp, answer }).catch(() => {});
	return answer;
}

/**
 * openHunt says that the car runs badly and nobody knows why yet; null where no hunt was begun, or where its cause was
 * found.
 * @param {Doc<Visit>[]} visits newest first
 */
export function openHunt(visits) {
	const facts = factsOf(visits, "hunt");
	if (text(facts, "told") !== "yes" || text(facts, "found")) return null;
	const tests = text(facts, "trail").split(" ").filter(Boolean).length;
	const done = tests === 0 ? "no test done yet" : tests === 1 ? "1 test done" : `${tests} tests done`;
	return { verdict: "watch", summary: `it runs badly, the cause is not found. ${firstCapital(done)}.` };
}

/**
 * worstOf picks the worst of the parts. What is unknown of another part does
 * not hide what was passed; a curve that is not known does: the car is not right
 * before it is.
 * @param {{[part: string]: {verdict: string, summary: string} | null | undefined}} found
 * @returns {CarState | null}
 */
export function worstOf(found) {
	const said = Object.keys(parts).flatMap((part) => (found[part] ? [{ ...found[part], part }] : []));
	const known = said.filter(({ verdict, part }) => verdict !== "unknown" || part === "verdict");
	const first = worst(known.length ? known : said); // of two alike the earlier page of the job
	if (!first) return null;
	if (first.verdict !== "pass") return told(first);
	// what passed elsewhere passes no car: only the curve does that
	const curve = known.find(({ part }) => part === "verdict");
	return curve ? told(curve) : { verdict: "unknown", part: "verdict", summary: soFar };
}

const soFar = "Nothing wrong is found so far. The curve is not judged yet.";

/** @param {{verdict: string, part: string, summary: string}} one @returns {CarState} */
const told = ({ verdict, part, summary }) => ({
	verdict: /** @type {Verdict} */ (verdict),
	part,
	summary: firstCapital(`${parts[part].about}${summary}`),
});

/**
 * whatToDo is the one thing to do about a state that fails; null where the order
 * of work goes on.
 * @param {Doc<Car>} car @param {CarState | null} state
 */
export function whatToDo(car, state) {
	if (state?.verdict !== "fail") return null;
	const { action, page } = parts[state.part];
	return { action, href: address("car", car.id, page) };
}
