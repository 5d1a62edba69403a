// The order of work on one car: what was done and judged, gathered from the
// events, the readings and the facts, and what the calculation says comes next.

import { parse } from "../kit/format.js";
import { address } from "../kit/address.js";
import { breath } from "../kit/platform.js";
import { known, worst } from "../kit/finding/worst.js";
import { procedureFor, procedureOf } from "../bay/procedures/index.js";
import { capsuleJudgement, capsuleVisit } from "../vacuum/capsule.js";
import { electricsOf } from "../record/car-electrics.js";
import { checkedSteps, firstDay } from "../state/checks-verdict.js";
import { pointsVerdict, polarityVerdict, sparkVerdict, voltsVerdict } from "../state/page-verdicts.js";
import { dwellOf } from "../electrics/points.js";
import { garage } from "../kept/garage.js";
import { leftOut } from "../record/left-out.js";
import { enoughReadings, judgedSets } from "../record/judged-sets.js";
import { lastVerdict } from "../state/last-verdict.js";
import { judge } from "../bay/procedure-judges.js";
import { complete, toReadingSet } from "../record/sheet.js";
import { factsOf, workedOn } from "../record/visit-facts.js";
import { ask } from "../engine/ask.js";
import { eventsOf, short } from "../record/events.js";

/** @typedef {import("../record/known.js").Given} Given */
/** @typedef {import("../record/left-out.js").LeftOut} LeftOut */
/**
 * @typedef {{at: string, step?: string, verdict?: string, partly?: boolean, what?: string, changed?: string, undone?:
 *   string[], restored?: string[], odometerMiles?: number}} OrderEvent
 */

/**
 * orderOfWork gives the chain as it stands. What a calculation refuses is left
 * out of it and named, with its place.
 * @param {string} carId
 * @returns {Promise<OrderAnswer & {leftOut: LeftOut[]}>}
 */
export async function orderOfWork(carId) {
	const given = givenOf(carId);
	const { events, left } = await gathered(given);
	const electronic = electricsOf(given.car.body.facts, given.distributor?.body.facts ?? {}).electronic;
	const trigger = electronic
		? "electronic"
		: given.car.body.facts.trigger?.value === "none" || given.distributor?.body.facts.dwell?.value
			? "points"
			: "";
	const port = given.distributor?.body.facts.vacuumPort?.value ?? "";
	const capsule =
		port === "nowhere" ? "none" : port || given.distributor?.body.facts.capsuleCode?.value ? "fitted" : "";
	const answer = await ask("work.order", {
		car: { ...(trigger ? { trigger } : {}), ...(capsule ? { capsule } : {}) },
		visits: events,
		now: minute(new Date()),
	});
	return { ...answer, leftOut: left };
}

/** @param {string} carId @returns {Given} */
function givenOf(carId) {
	const car = /** @type {Doc<Car>} */ (garage.get("car", carId));
	return { car, distributor: garage.get("distributor", car.body.distributorId), answers: {} };
}

/** The time to the minute, so that answers are kept a while. @param {Date} now */
const minute = (now) => now.toISOString().slice(0, 16) + ":00Z";

/** @param {Given} given @returns {Promise<{events: OrderEvent[], left: LeftOut[]}>} */
async function gathered(given) {
	const visits = garage.visits({ carId: given.car.id });
	const noted = eventsOf(given.car.id).map(asOrderEvent);
	const left = leftOut(visits, given.car.id);
	/** @type {Promise<OrderEvent[]>[]} */
	const parts = [];
	/**
	 * @param {string} name @param {string} page
	 * @param {(given: Given, visits: Doc<Visit>[]) => Promise<OrderEvent[]>} from
	 */
	const begin = async (name, page, from) => {
		await breath(); // one after the other, so that a finger is heard in between
		const part = from(given, visits).catch((problem) => {
			if (!problem?.field) throw problem; // nothing can calculate just now
			left.push({
				text: `${name}: ${problem.detail ?? problem.title}. Left out.`,
				href: address("car", given.car.id, page),
			});
			return /** @type {OrderEvent[]} */ ([]);
		});
		part.catch(() => {}); // it is heard below, when all have begun
		parts.push(part);
	};
	await begin("Condition", "condition", checkedSteps);
	await begin("Volts", "volts", fromFeed);
	await begin("Points", "points", fromPoints);
	await begin("Spark", "spark", fromSpark);
	await begin("Curve", "readings", fromCurve);
	await begin("Static figure", "readings", fromStatic);
	await begin("Capsule", "vacuum", fromCapsule);
	// Facts and readings come first: of one day, what was noted with its hour counts as later.
	return { events: [...(await Promise.all(parts)).flat(), ...noted], left };
}

/** Limit of work.order. */
const mostMiles = 10_000_000;

/** @param {WorkEvent} event @returns {OrderEvent} */
function asOrderEvent({ at, step, verdict, what, changed, undone, restored, odometer }) {
	/** @type {OrderEvent} */
	const out = { at };
	if (step && verdict) Object.assign(out, { step, verdict });
	if (what) out.what = what;
	if (changed) out.changed = changed;
	if (undone?.length) out.undone = undone;
	if (restored?.length) out.restored = restored;
	const miles = parse(odometer);
	if (miles !== null && miles >= 0 && miles <= mostMiles) out.odometerMiles = miles;
	return out;
}

/** @param {Given} given @param {Doc<Visit>[]} visits @returns {Promise<OrderEvent[]>} */
async function fromFeed(given, visits) {
	const found = await voltsVerdict(given);
	const at = workedOn(visits, "volts")?.body.date || firstDay(visits, given);
	return found ? [{ at, step: "feed", verdict: found.verdict, what: short(found.summary) }] : [];
}

/**
 * The worse of what the coil gives and which way round it is. Nobody notes when the facts of a coil were looked at.
 * @param {Given} given @param {Doc<Visit>[]} visits @returns {Promise<OrderEvent[]>}
 */
async function fromSpark(given, visits) {
	const found = worst(known(await Promise.all([polarityVerdict(given), sparkVerdict(given)])));
	return found
		? [{ at: firstDay(visits, given), step: "spark", verdict: found.verdict, what: short(found.summary) }]
		: [];
}

/** @param {Given} given @param {Doc<Visit>[]} visits @returns {Promise<OrderEvent[]>} */
async function fromPoints(given, visits) {
	const unit = given.distributor?.body.facts ?? {};
	const facts = factsOf(visits, "points");
	const { cylinders } = electricsOf(given.car.body.facts, unit);
	const measured = [facts.dwellLeft, facts.dwell, unit.dwellIdle]
		.map((fact) => (cylinders === null ? null : dwellOf(fact, cylinders)))
		.find((one) => one !== null); // in degrees, also where it was typed in %
	if (!measured) return [];
	const dwell = String(Number(measured.toFixed(2)));
	const outcome =
		(await pointsVerdict(given)) ??
		(await judge("points", { ...given, answers: { dwell, fast: unit.dwellFast?.value ?? "" } }));
	if (!outcome) return [];
	const { changed } = facts; // noted by the points page when gap or dwell as left is not as found
	const when = changed?.value
		? { at: changed.value, changed: "dwell-set", what: changed.note }
		: { at: workedOn(visits, "points")?.body.date || firstDay(visits, given), what: `dwell ${dwell}` };
	return [{ step: "points", verdict: outcome.verdict, ...when }];
}

/** @param {Given} given @param {Doc<Visit>[]} visits @returns {Promise<OrderEvent[]>} */
async function fromCurve(given, visits) {
	const read = /** @type {const} */ (["bench", "car"])
		.map((place) => judgedSets(visits, place))
		.filter((judged) => judged && complete(judged.main).length >= enoughReadings);
	const found = read.length ? await lastVerdict(given.car) : null;
	const day = read
		.map((judged) => judged?.visit.body.date ?? "")
		.sort()
		.at(-1);
	return day && found ? [{ at: day, step: "curve", verdict: found.verdict, what: short(found.summary) }] : [];
}

/** @param {Given} given @returns {Promise<OrderEvent[]>} */
async function fromCapsule(given) {
	const [visit, found] = [capsuleVisit(given.car.id), await capsuleJudgement(given)];
	return visit && found
		? [{ at: visit.body.date, step: "vacuum", verdict: found.verdict, what: short(found.summary) }]
		: [];
}

/**
 * Static figures typed with a set of readings.
 * @param {Given} given
 * @param {Doc<Visit>[]} visits
 * @returns {Promise<OrderEvent[]>}
 */
async function fromStatic(given, visits) {
	if (eventsOf(given.car.id).some(({ step }) => step === "static")) return []; // proved step by step
	for (const { body } of visits) {
		const set = body.sets.find((one) => !one.removed && toReadingSet(one).staticCrankDeg !== undefined);
		if (!set) continue;
		const outcome = await judge("static", {
			...given,
			answers: { static: set.staticCrankDeg, "static.side": set.staticSide },
		});
		return outcome ? [{ at: body.date, step: "static", verdict: outcome.verdict, what: short(outcome.text) }] : [];
	}
	return [];
}

/**
 * whereTo gives the page or the guided work that does a step of the chain.
 * @param {Doc<Car>} car @param {OrderStep} step
 * @returns {{href: string, label: string}}
 */
export function whereTo(car, step) {
	const to = (/** @type {string[]} */ ...parts) => address("car", car.id, ...parts);
	if (step.id === "fit" || step.id === "wear") {
		return {
			href: to("condition"),
			label: step.id === "fit" ? "Is the engine fit to tune?" : "Is the distributor fit to set?",
		};
	}
	if (step.id === "curve" && step.verdict === "fail")
		return { href: to("verdict"), label: "Repair the curve: the verdict" };
	if (step.id === "feed") return { href: to("volts"), label: "Volts along the feed" };
	if (step.id === "spark") return { href: to("spark"), label: "What the coil can give" };
	const name = procedureFor[step.id];
	return { href: to("do", name), label: procedureOf(name)?.title ?? step.name };
}
