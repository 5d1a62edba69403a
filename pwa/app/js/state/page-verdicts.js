// What the pages beside the curve say in one word, for all who tell how a car
// stands: a fail on one page is a fail everywhere.

import { capsuleJudgement } from "../vacuum/capsule.js";
import { electricsOf } from "../record/car-electrics.js";
import { garage } from "../kept/garage.js";
import { dwellNow, leftIn, pointsIn } from "../electrics/points.js";
import { groundOf, isOwnCoil, polarityOf } from "../electrics/spark-ground.js";
import { supplyIn } from "../electrics/supply.js";
import { factsOf } from "../record/visit-facts.js";
import { scatterJudgement } from "../scatter/scatter.js";
import { ask } from "../engine/ask.js";
import { breath } from "../kit/platform.js";
import { worst } from "../kit/finding/worst.js";

/** @typedef {{verdict: string, summary: string}} PageVerdict */

/**
 * voltsVerdict is the worse of the two walks along the feed, or null while
 * there is nothing to judge.
 * @param {import("../record/known.js").Given} given
 * @returns {Promise<PageVerdict | null>}
 */
export async function voltsVerdict({ car, distributor }) {
	const facts = factsOf(garage.visits({ carId: car.id }), "volts");
	const electrics = electricsOf(car.body.facts, distributor?.body.facts ?? {});
	const found = await Promise.all(
		/** @type {const} */ (["closed", "cranking"]).map((state) => {
			const input = supplyIn(electrics, state, facts, car.body.facts);
			return input ? /** @type {Promise<PageVerdict>} */ (ask("supply.judge", input)) : null;
		}),
	);
	return worst(found);
}

/**
 * pointsVerdict judges the points as left, else as found; null where the page
 * has no dwell and no gap.
 * @param {import("../record/known.js").Given} given
 * @returns {Promise<PageVerdict | null>}
 */
export async function pointsVerdict({ car, distributor }) {
	const unit = distributor?.body.facts ?? {};
	const facts = factsOf(garage.visits({ carId: car.id }), "points");
	const electrics = electricsOf(car.body.facts, unit, distributor?.body.sheet);
	if (
		electrics.electronic ||
		![facts.gap, facts.dwell, facts.gapLeft, facts.dwellLeft].some((fact) => fact?.value.trim())
	)
		return null;
	const input = leftIn(electrics, facts, unit, null) ?? pointsIn(electrics, facts, unit, null);
	return input ? ask("points.judge", input) : null;
}

/**
 * polarityVerdict says which way round the spark jumps, where that was looked at.
 * @param {import("../record/known.js").Given} given
 * @returns {Promise<PageVerdict | null>}
 */
export async function polarityVerdict({ car, distributor }) {
	const { earth, electronic } = electricsOf(car.body.facts, distributor?.body.facts ?? {});
	return electronic ? null : polarityOf(car.body.facts, earth);
}

/**
 * sparkVerdict is what the page of the spark says on paper. Null while nothing of this very coil was measured: what a
 * usual coil would do says nothing of the car.
 * @param {import("../record/known.js").Given} given
 * @returns {Promise<PageVerdict | null>}
 */
export async function sparkVerdict({ car, distributor }) {
	const unit = distributor?.body.facts ?? {};
	const { electronic, nominalV, cylinders } = electricsOf(car.body.facts, unit, distributor?.body.sheet);
	if (electronic || nominalV === null || cylinders === null) return null;
	if (!dwellNow(factsOf(garage.visits({ carId: car.id }), "points"), unit, cylinders)) return null;
	const { input, found } = await groundOf(car.id);
	return isOwnCoil(input) ? found : null;
}

const judges = {
	volts: voltsVerdict,
	points: pointsVerdict,
	polarity: polarityVerdict,
	spark: sparkVerdict,
	vacuum: capsuleJudgement,
	scatter: scatterJudgement,
};

/** What is judged beside the curve, by name. */
export const judgedPages = Object.keys(judges);

/**
 * pageVerdicts gives what can be said, by the page's name. A page whose figures
 * the calculation refuses says so itself.
 * @param {import("../record/known.js").Given} given
 * @returns {Promise<{[page: string]: PageVerdict | null}>}
 */
export async function pageVerdicts(given) {
	const found = [];
	for (const [page, judge] of Object.entries(judges)) {
		await breath();
		found.push(
			judge(given).then(
				(one) => [page, one],
				() => [page, null],
			),
		);
	}
	return Object.fromEntries(await Promise.all(found));
}
