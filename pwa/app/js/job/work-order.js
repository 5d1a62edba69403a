// The order of work on one car: what was done and judged, gathered from the
// events, the readings and the facts, and what the calculation says comes next.

import { parse } from "../kit/format.js";
import { address } from "../kit/address.js";
import { procedureFor, procedureOf } from "../bay/procedures/index.js";
import { capsuleJudgement, capsuleVisit } from "../vacuum/capsule.js";
import { carIn, resultsOf } from "../condition/condition.js";
import { electricsOf } from "../record/car-electrics.js";
import { fitness } from "../condition/fitness.js";
import { pointsVerdict } from "./page-verdicts.js";
import { dwellOf } from "../electrics/points.js";
import { garage } from "../kept/garage.js";
import { leftOut } from "../record/left-out.js";
import { enoughReadings, judgedSets } from "../record/judged-sets.js";
import { lastVerdict } from "./last-verdict.js";
import { judge } from "../bay/procedure-judges.js";
import { complete, toReadingSet } from "../record/sheet.js";
import { figureIn } from "../kit/units.js";
import { factsOf, workedOn } from "../record/visit-facts.js";
import { ask } from "../engine/ask.js";
import { compressions } from "../record/compressions.js";
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
	const left = leftOut(visits);
	/** @param {string} name @param {string} page @param {Promise<OrderEvent[]>} part */
	const unlessRefused = (name, page, part) =>
		part.catch((problem) => {
			if (!problem?.field) throw problem; // nothing can calculate just now
			left.push({
				text: `${name}: ${problem.detail ?? problem.title}. Left out.`,
				href: address("car", given.car.id, page),
			});
			return /** @type {OrderEvent[]} */ ([]);
		});
	const parts = await Promise.all([
		unlessRefused("Condition", "condition", fromCondition(given, visits)),
		unlessRefused("Points", "points", fromPoints(given, visits)),
		unlessRefused("Curve", "readings", fromCurve(given, visits)),
		unlessRefused("Static figure", "readings", fromStatic(given, visits)),
		unlessRefused("Capsule", "vacuum", fromCapsule(given)),
	]);
	// Facts and readings come first: of one day, what was noted with its hour counts as later.
	return { events: [...parts.flat(), ...noted], left };
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

/**
 * When facts were measured is not noted; they count as measured on the day of
 * the first visit, before everything noted since, so nothing stays done that
 * a later change undid.
 * @param {Doc<Visit>[]} visits newest first @param {Given} given
 */
const firstDay = (visits, given) =>
	visits
		.map(({ body }) => body.date)
		.filter(Boolean)
		.sort()[0] || given.car.changedAt.slice(0, 10);

/** @param {Given} given @param {Doc<Visit>[]} visits @returns {Promise<OrderEvent[]>} */
async function fromCondition(given, visits) {
	const [of, unit] = [given.car.body.facts, given.distributor?.body.facts ?? {}];
	const electrics = electricsOf(of, unit);
	const car = carIn(electrics);
	const { checks } = await ask("condition.list", { car });
	const facts = factsOf(visits, "check");
	const looked = resultsOf(checks, facts, { car: of, distributor: unit });
	const have = new Set(looked.map(({ measure }) => measure));
	const known = knownFacts(of, unit).filter(({ measure }) => !have.has(measure));
	if (looked.length + known.length === 0) return [];
	const { results } = await ask("condition.judge", { car, results: [...looked, ...known] });
	const day = workedOn(visits, "check")?.body.date || firstDay(visits, given);
	return fitness(checks, results, facts).map((one) => ({ at: day, ...one }));
}

/**
 * fitnessOf is the worse of the two: engine fit to tune, distributor fit to set. Null while nothing was looked at.
 * @param {Given} given
 * @returns {Promise<{verdict: string, summary: string} | null>}
 */
export async function fitnessOf(given) {
	const found = await fromCondition(given, garage.visits({ carId: given.car.id }));
	const worst = ["fail", "watch", "pass"].flatMap((verdict) => found.find((one) => one.verdict === verdict) ?? [])[0];
	if (!worst) return null;
	const of = worst.step === "fit" ? "the engine" : "the distributor";
	const says = { fail: `a check of ${of} has failed`, watch: `a check of ${of} is to be watched` };
	return {
		verdict: worst.verdict ?? "unknown",
		summary: `${says[/** @type {"fail" | "watch"} */ (worst.verdict)] ?? worst.what}.`,
	};
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
	const name = procedureFor[step.id];
	return { href: to("do", name), label: procedureOf(name)?.title ?? step.name };
}
