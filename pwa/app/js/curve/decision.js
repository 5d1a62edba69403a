// What a judgement decides, read from its own words: whether a part is named,
// which accounts stand side by side, and the reading that tells them apart.

/**
 * isNamed says whether the judge names something that is off. A share stands
 * on a finding only where accounts were weighed.
 * @param {Judgement} judgement
 */
export const isNamed = ({ findings }) =>
	findings.some(({ share, sureness }) => share !== undefined && sureness !== "possible");

/** "None of these" with less than this is not worth a line. Chosen: half of a hundred, which is said as none. */
const leastOther = 0.005;

/**
 * openAccounts gives the accounts that stand side by side, the largest first,
 * "none of these" in its place among them; empty where there is nothing to
 * choose between.
 * @param {Judgement} judgement
 */
export function openAccounts({ accounts = [], nextReadings = [], explanations = [] }) {
	const told = accounts
		.filter(({ id, share }) => id !== "other" || share >= leastOther)
		.sort((a, b) => b.share - a.share);
	return told.length > 1 && (nextReadings.length > 0 || explanations.length > 1) ? told : [];
}

/** isUndecided: accounts stand side by side and none of them is named. @param {Judgement} judgement */
export const isUndecided = (judgement) => !isNamed(judgement) && openAccounts(judgement).length > 0;

/**
 * besideAccounts gives the findings and questions that are not already told by
 * the accounts and the reading that tells them apart.
 * @param {Judgement} judgement
 */
export function besideAccounts({ findings, ask = [], explanations = [] }) {
	const codes = new Set(explanations.map(({ code }) => code));
	const tests = explanations.map(({ test }) => test).filter(Boolean);
	return {
		findings: findings.filter(({ code, sureness }) => sureness !== "possible" || !codes.has(code)),
		ask: ask.filter((question) => !tests.some((test) => question.includes(test))),
	};
}

/** Readings whose gain differs by less tell as much, bits. Chosen: far below what one reading tells. */
const sameGain = 0.01;

/**
 * readingsToTake orders the readings that would decide by what can be done: of
 * two that tell as much the lamp first, for the engine stands still; a speed
 * below the car's idle last, for it cannot be held.
 * @param {readonly NextReading[]} list the best first
 * @param {number | null} idle engine rpm
 */
export function readingsToTake(list, idle) {
	const best = list[0]?.gain ?? 0;
	const rank = (/** @type {NextReading} */ next) =>
		isBelowIdle(next, idle) ? 2 : next.place === "lamp" && best - next.gain < sameGain ? 0 : 1;
	return list
		.map((next, i) => ({ next, i }))
		.sort((a, b) => rank(a.next) - rank(b.next) || a.i - b.i)
		.map(({ next }) => next);
}

/** @param {NextReading} next @param {number | null} idle engine rpm */
export const isBelowIdle = ({ place, rpm }, idle) => place === "car" && idle !== null && rpm < idle;

/**
 * inUnitsOf gives a reading in the units that a set is read in, so that what
 * is expected stands as it will be read.
 * @param {NextReading} next
 * @param {Pick<VisitSet, "angleUnit" | "speedUnit"> | null} set
 * @param {number} ratio crank turns per distributor turn
 * @returns {NextReading}
 */
export function inUnitsOf(next, set, ratio) {
	if (!set || next.place === "lamp") return next;
	const toSet = (/** @type {string} */ own, /** @type {string} */ wanted, /** @type {number} */ up) =>
		own === wanted || !wanted ? 1 : wanted === "distributor" ? 1 / up : up;
	const speed = toSet(next.speedUnit, set.speedUnit, ratio);
	const angle = toSet(next.angleUnit, set.angleUnit, ratio);
	return {
		...next,
		rpm: next.rpm * speed,
		speedUnit: set.speedUnit || next.speedUnit,
		angleUnit: set.angleUnit || next.angleUnit,
		expects: next.expects.map((one) => ({
			...one,
			deg: one.deg * angle,
			low: one.low * angle,
			high: one.high * angle,
		})),
	};
}
