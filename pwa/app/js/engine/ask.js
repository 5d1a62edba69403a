// Questions the concluding screens ask of the engine, with the last answers
// kept in memory so that coming back to a screen shows it whole at once.

import { call } from "./client.js";

/** @type {Map<string, Promise<any>>} */
const answered = new Map();
const KEPT = 60;

/**
 * ask is call with the answer kept while the app is open. A refusal is not
 * kept: the next try asks again.
 * @param {string} method @param {unknown} input
 * @returns {Promise<any>}
 */
export function ask(method, input) {
	const key = method + JSON.stringify(input);
	const known = answered.get(key);
	if (known) return known;
	const answer = call(method, input);
	answered.set(key, answer);
	answer.catch(() => answered.delete(key));
	if (answered.size > KEPT) answered.delete(/** @type {string} */ (answered.keys().next().value));
	return answer;
}
