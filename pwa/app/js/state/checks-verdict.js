// The condition checks as steps of the order of work, and what they come to in
// one word.

import { carIn, resultsOf } from "../condition/condition.js";
import { fitness } from "../condition/fitness.js";
import { ask } from "../engine/ask.js";
import { garage } from "../kept/garage.js";
import { figureIn } from "../kit/units.js";
import { known, worst } from "../kit/finding/worst.js";
import { electricsOf } from "../record/car-electrics.js";
import { compressions } from "../record/compressions.js";
import { factsOf, workedOn } from "../record/visit-facts.js";

/** @typedef {import("../record/known.js").Given} Given */

/**
 * When facts were measured is not noted; they count as measured on the day of
 * the first visit, before everything noted since, so nothing stays done that
 * a later change undid.
 * @param {Doc<Visit>[]} visits newest first @param {Given} given
 */
export const firstDay = (visits, given) =>
	visits
		.map(({ body }) => body.date)
		.filter(Boolean)
		.sort()[0] || given.car.changedAt.slice(0, 10);

/**
 * What was looked at, judged; null where nothing was.
 * @param {Given} given @param {Doc<Visit>[]} visits
 */
async function looked(given, visits) {
	const [of, unit] = [given.car.body.facts, given.distributor?.body.facts ?? {}];
	const car = carIn(electricsOf(of, unit));
	const { checks } = await ask("condition.list", { car });
	const facts = factsOf(visits, "check");
	const measured = resultsOf(checks, facts, { car: of, distributor: unit });
	const have = new Set(measured.map(({ measure }) => measure));
	const stated = knownFacts(of, unit).filter(({ measure }) => !have.has(measure));
	if (measured.length + stated.length === 0) return null;
	const { results } = await ask("condition.judge", { car, results: [...measured, ...stated] });
	return { checks, results, facts };
}

/**
 * checkedSteps gives the steps of the order of work that the checks come to, each with its day.
 * @param {Given} given @param {Doc<Visit>[]} visits
 */
export async function checkedSteps(given, visits) {
	const found = await looked(given, visits);
	if (!found) return [];
	const day = workedOn(visits, "check")?.body.date || firstDay(visits, given);
	return fitness(found.checks, found.results, found.facts).map((one) => ({ at: day, ...one }));
}

/**
 * checkResults gives each check that was looked at with its verdict.
 * @param {Given} given @param {Doc<Visit>[]} visits
 * @returns {Promise<{id: string, result: string}[]>}
 */
export async function checkResults(given, visits) {
	const found = await looked(given, visits);
	return (found?.results ?? []).map((/** @type {JudgedMeasure} */ { measure, verdict }) => ({
		id: measure,
		result: verdict,
	}));
}

/**
 * checksVerdict is the worst of all checks, in its own words. Null while nothing was looked at.
 * @param {Given} given
 * @returns {Promise<{verdict: string, summary: string} | null>}
 */
export async function checksVerdict(given) {
	const found = await looked(given, garage.visits({ carId: given.car.id }));
	const first = worst(known(/** @type {JudgedMeasure[]} */ (found?.results ?? [])));
	if (!first) return null;
	if (first.verdict === "pass") return { verdict: "pass", summary: "what was looked at is in order." };
	return { verdict: first.verdict, summary: `${first.title}: ${first.text}` };
}

/** Figures of condition that stand among the facts. @param {Facts} of @param {Facts} unit */
function knownFacts(of, unit) {
	const out = [];
	const each = compressions(of.compression?.value ?? "");
	if (of.compression?.source === "measured" && each.length >= 2)
		out.push({ measure: "B27", value: ((Math.max(...each) - Math.min(...each)) / Math.max(...each)) * 100 });
	const play = unit.sidePlay?.source === "measured" ? figureIn(unit.sidePlay, "in") : null;
	if (play !== null) out.push({ measure: "B1", value: play });
	return out;
}
