// Is the engine fit to tune, is the distributor fit to set: how far each of
// these two steps of the order of work has come.

import { phaseOf, phases, standing } from "./condition.js";

/** @typedef {{step: "fit" | "wear", verdict: Verdict, what: string, partly?: boolean}} Fitness */

/**
 * fitness gives a step for each of the two that was begun. It is whole once
 * every check of it was looked at or skipped with a reason; what could not be
 * judged is still open.
 * @param {ConditionCheck[]} checks
 * @param {JudgedMeasure[]} judged
 * @param {Facts} facts of the visit, where the reasons for skipping stand
 * @returns {Fitness[]}
 */
export function fitness(checks, judged, facts) {
	return /** @type {const} */ ([
		["fit", phases[0]],
		["wear", phases[1]],
	]).flatMap(([step, phase]) => {
		const own = checks.filter((check) => phaseOf(check) === phase);
		const stands = own.map((check) => standing(check, judged, facts));
		const count = (/** @type {string[]} */ ...which) => stands.filter((one) => which.includes(one)).length;
		const [looked, skipped] = [count("pass", "watch", "fail"), count("skipped")];
		if (stands.every((one) => one === "due")) return [];
		const whole = looked + skipped === own.length;
		const verdict =
			/** @type {const} */ (["fail", "watch", "pass"]).find((one) => stands.includes(one)) ?? "unknown";
		const what = `${looked} of ${own.length} checks looked at${skipped ? `, ${skipped} skipped` : ""}`;
		return [{ step, verdict, what, ...(whole ? {} : { partly: true }) }];
	});
}
