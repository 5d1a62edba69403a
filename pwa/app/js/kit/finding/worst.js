// Verdicts side by side.

/** Worst first. What is unknown may hide anything. */
const order = ["fail", "watch", "unknown", "pass"];

/**
 * worst gives the one with the worst verdict, the first of two alike; null where there is none.
 * @template {{verdict: string}} T
 * @param {readonly (T | null | undefined)[]} found
 */
export function worst(found) {
	const all = /** @type {T[]} */ (found.filter(Boolean));
	return all.sort((a, b) => order.indexOf(a.verdict) - order.indexOf(b.verdict)).at(0) ?? null;
}

/**
 * known leaves out what is unknown.
 * @template {{verdict: string}} T @param {readonly (T | null | undefined)[]} found
 */
export const known = (found) => found.filter((one) => one && one.verdict !== "unknown");
