// The verdict on a car as it now stands, worked out again only when a figure
// has changed. Results are never stored as facts: the inputs are.

import { ask } from "../engine/ask.js";
import { garage } from "../kept/garage.js";
import { thisPhone } from "../kept/this-phone.js";
import { readingsForVerdict } from "../record/judged-sets.js";
import { specOf } from "../record/known.js";

/** Bump it when what is kept of a judgement changes. */
const rule = 2;

/** What is wrong when the curve is, once the base is set aside. As advance.judge has it. */
const sound = ["in-band", "base-only"];

/** Does the curve itself fail, and not the base alone? @param {{verdict: string, shape: string} | null} found */
export const curveFails = (found) => found?.verdict === "fail" && !sound.includes(found.shape);

/**
 * lastVerdict gives the verdict and one sentence, or null where there is
 * nothing to judge or nothing to judge it with.
 * @param {Doc<Car>} car
 * @returns {Promise<{verdict: string, summary: string, shape: string} | null>}
 */
export async function lastVerdict(car) {
	const distributor = garage.get("distributor", car.body.distributorId);
	const spec = specOf({ car, distributor, answers: {} });
	const readings = readingsForVerdict(garage.visits({ carId: car.id }));
	if (!spec || readings.length === 0) return null;
	const input = JSON.stringify({ spec, readings, rule });
	const kept = await thisPhone.get(`verdict/${car.id}`);
	if (kept?.input === input) return kept.answer;
	try {
		const { verdict, summary, shape } = await ask("advance.judge", { spec, readings });
		const answer = { verdict: String(verdict), summary: String(summary ?? ""), shape: String(shape) };
		await thisPhone.put(`verdict/${car.id}`, { input, answer });
		return answer;
	} catch {
		return null; // refused or no engine: the car's own pages say why
	}
}
