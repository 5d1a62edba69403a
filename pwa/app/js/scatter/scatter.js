// The spread between cylinders as it was typed, cylinder by cylinder, and as
// the calculation takes it.

import { parse } from "../kit/format.js";
import { driveOf } from "../record/car-electrics.js";
import { firingOf, setsOf } from "./firing.js";
import { garage } from "../kept/garage.js";
import { cylindersOf, orderOf } from "../record/known.js";
import { ask } from "../engine/ask.js";

/** @typedef {import("../record/known.js").Given} Given */

/** Runs round the ring that fit on the page. Chosen. */
export const mostRuns = 5;

/** @param {string} carId @returns {Doc<Visit> | null} the newest visit in which cylinders were read */
export function scatterVisit(carId) {
	return (
		garage
			.visits({ carId })
			.find(({ body }) => Object.keys(body.facts ?? {}).some((key) => key.startsWith("scatter."))) ?? null
	);
}

/** @param {number} run from 1 @param {number} flash from 1 */
export const scatterKey = (run, flash) => `scatter.run${run}.${flash}`;

/**
 * scatterInput makes what scatter.analyse takes: null while the first run is
 * not whole. Runs that are begun and not whole are left out.
 * @param {Given} given @param {Facts} facts
 */
export function scatterInput(given, facts) {
	const cylinders = cylindersOf(given);
	if (cylinders === null) return null;
	const place = facts["scatter.place"]?.value === "car" ? "car" : "bench";
	const isCrank = facts["scatter.unit"]?.value === "crank";
	const said = { ...firingOf(given.car.body.facts, cylinders), ...setsOf(given.distributor?.body.facts ?? {}) };
	const drive = driveOf(given.distributor?.body.sheet);
	const turns =
		drive.driveRatio ??
		(said.firing && Math.abs(said.firing.intervalsCrankDeg.reduce((sum, one) => sum + one, 0) - 360) < 1 ? 1 : 2);
	const runs = Array.from({ length: mostRuns }, (_, run) =>
		Array.from({ length: cylinders }, (_, i) => {
			const fact = facts[scatterKey(run + 1, i + 1)];
			const typed = fact?.value.trim() === "" || !fact ? (i === 0 ? 0 : null) : parse(fact.value);
			return typed === null ? null : (isCrank ? typed / turns : typed) * (fact?.note === "late" ? -1 : 1);
		}),
	);
	const whole = /** @type {number[][]} */ (runs.filter((run) => run.every((error) => error !== null)));
	if (whole.length === 0 || cylinders < 2) return null;
	const order = orderOf(given);
	const margin = parse(facts["scatter.margin"]?.value);
	const against = facts["scatter.against"]?.value;
	return {
		...said,
		...drive,
		...(said.firing && (against === "even" || against === "own") ? { against } : {}),
		cylinders,
		place,
		errorsDistDeg: whole[0],
		...(whole.length > 1 ? { repeats: whole.slice(1) } : {}),
		...(order ? { firingOrder: order } : {}),
		...(margin !== null ? { marginCrankDeg: margin } : {}),
	};
}

/** @param {Given} given @returns {Promise<any>} */
export async function scatterJudgement(given) {
	const visit = scatterVisit(given.car.id);
	const input = visit ? scatterInput(given, visit.body.facts ?? {}) : null;
	return input ? ask("scatter.analyse", input) : null;
}
