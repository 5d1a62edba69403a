// The setup card of a car, put together from what the garage holds: facts,
// book, the newest readings, and what was written on the card by hand. What
// nobody entered is left out; nothing is made up.

import { parse, parseSpeed } from "../kit/format.js";
import {
	isCardKey,
	leftFigures,
	leftKey,
	lists,
	longestLine,
	mostLines,
	plainName,
	plainText,
	said,
	saidKey,
} from "./card-facts.js";
import { workOf } from "./card-work.js";
import { firingOrderIn } from "../record/firing-order.js";
import { changedSince, curvesRead, judgedSets } from "../record/judged-sets.js";
import { ownName, runsOf } from "../record/runs.js";
import {
	chosenOf,
	chosenWords,
	commonReadingErrorCrankDeg,
	complete,
	sheetInUse,
	toReadingSet,
	toSpec,
} from "../record/sheet.js";
import { withMeasured } from "../record/measured-facts.js";
import { standingIn } from "../safety/temporaries.js";
import { firstCapital } from "../kit/words.js";

const mostFacts = 60;

/**
 * @typedef {{car: {body: Car}, distributor: {body: Distributor} | null, visits: {body: Visit}[]}} Holding visits the
 *   newest first
 */

/**
 * @typedef {object} CardChoice what the sender chose; what is not chosen stays at home
 * @property {boolean} [withEarlier] the readings before the newest too
 * @property {boolean} [withOwner] whose car it is
 * @property {boolean} [withStory] what was told of it
 */

/**
 * cardOf gives the card.
 * @param {Holding} holding
 * @param {CardChoice & {stands?: import("../job/next-step.js").Standing | null}} [choice] stands: how the car stands
 *   and what comes next, where it is known
 * @returns {SetupCard}
 */
export function cardOf({ car, distributor, visits }, { stands = null, ...choice } = {}) {
	const documents = /** @type {Doc<Visit>[]} */ (visits);
	const isUnit = "isUnit" in car;
	/** @type {SetupCard} */
	const card = {
		car: {
			name: plainName(car.body.name),
			...(isUnit ? {} : factsOf(withMeasured("car", shownOf(car.body, choice), documents))),
		},
	};
	if (distributor) card.distributor = distributorOf(distributor.body, car.body.facts, documents);
	if (isUnit) delete card.distributor?.name; // its name stands at the head: isBenchSheet
	const [sheet, chosen] = [sheetInUse({ car, distributor }), chosenOf(car)];
	const { spec } = sheet ? toSpec(sheet) : { spec: null };
	if (spec) card.spec = spec;
	if (chosen) card.car.facts = { ...card.car.facts, chosenCurve: { value: "in use" } };
	const source = plainText(chosen ? chosenWords(chosen) : distributor?.body.sheetSource, 120);
	if (source) card.specSource = source;
	const asSet = asSetOf(car.body.facts, distributor?.body.facts ?? {}, visits);
	if (Object.keys(asSet).length) card.asSet = asSet;
	const curves = curvesOf(documents, choice.withEarlier === true);
	if (curves.length) card.curves = curves;
	const work = workOf(visits);
	if (work.length) card.work = work;
	return { ...card, ...wordsOf(car.body.facts, visits), ...stateOf(stands) };
}

/**
 * The facts that go along: whose it is and what was told of it only where that was ticked.
 * @param {Car} body @param {CardChoice} choice @returns {Facts}
 */
function shownOf({ owner, facts }, { withOwner, withStory }) {
	const { story, ...rest } = facts ?? {};
	return {
		...rest,
		...(story && withStory ? { story } : {}),
		...(owner && withOwner ? { owner: { value: owner, unit: "", source: "", note: "" } } : {}),
	};
}

/** @param {import("../job/next-step.js").Standing | null} stands @returns {{state?: CardState}} */
function stateOf(stands) {
	const summary = plainText(stands?.state?.summary, 300);
	if (!stands?.state || !summary) return {};
	const next = plainText(stands.next?.label, 120);
	return { state: { verdict: stands.state.verdict, summary, ...(next ? { next } : {}) } };
}

/** What lies in one’s own drawer stays at home. */
const atHand = new Set(["stopsAtHand", "primariesAtHand", "secondariesAtHand"]);

/** @param {Facts} facts @returns {{facts?: CardFacts}} */
function factsOf(facts) {
	/** @type {CardFacts} */
	const out = {};
	for (const [key, fact] of Object.entries(facts ?? {})) {
		if (
			isCardKey(key) ||
			atHand.has(key) ||
			!/^[A-Za-z0-9]{1,40}$/.test(key) ||
			Object.keys(out).length >= mostFacts
		)
			continue;
		const one = cardFact(fact);
		if (one) out[key] = one;
	}
	return Object.keys(out).length ? { facts: out } : {};
}

/** @param {Partial<Fact> | undefined} fact @returns {CardFact | null} null without a value */
export function cardFact(fact) {
	const value = plainText(fact?.value, 200);
	if (!value) return null;
	/** @type {CardFact} */
	const out = { value };
	const unit = plainText(fact?.unit, 40);
	const note = plainText(fact?.note, 200);
	if (unit) out.unit = unit;
	if (fact?.source) out.source = fact.source;
	if (note) out.note = note;
	return out;
}

/** @param {Distributor} body @param {Facts} ofCar @param {Doc<Visit>[]} visits */
function distributorOf(body, ofCar, visits) {
	const out = /** @type {NonNullable<SetupCard["distributor"]>} */ ({});
	const name = plainName(body.name);
	const typeNumber = plainText(body.typeNumber, 80);
	if (name) out.name = name;
	if (typeNumber) out.typeNumber = typeNumber;
	const turns = body.facts.rotation?.value;
	if (turns === "clockwise" || turns === "anticlockwise") out.rotation = turns;
	const order = firingOrderIn(ofCar.firingOrder?.value);
	if (order.length && order.length <= 16 && order.every((cylinder) => cylinder >= 1 && cylinder <= 16))
		out.firingOrder = order;
	return { ...out, ...factsOf(withMeasured("distributor", body.facts, visits)) };
}

/**
 * asSetOf tells how the car was left: what the newest readings say, then what
 * was written on the card, then what is marked as measured among the facts. A
 * reading taken after the card was written beats what is written.
 * @param {Facts} car @param {Facts} distributor @param {{body: Visit}[]} visits
 * @returns {CardAsSet}
 */
function asSetOf(car, distributor, visits) {
	const written = writtenFigures(car);
	const read = readFigures(visits);
	const isNewer = (read.date ?? "") > (car[saidKey("date")]?.value ?? "");
	const measured = measuredFigures(car, distributor, visits);
	return isNewer ? { ...measured, ...written, ...read.figures } : { ...measured, ...read.figures, ...written };
}

/** @param {Facts} car @returns {CardAsSet} */
function writtenFigures(car) {
	/** @type {any} */
	const out = {};
	const gap = cardFact(car[leftKey("gap")]);
	if (gap) out.gap = gap;
	for (const { path, kind } of leftFigures) {
		const text = car[leftKey(path)]?.value?.trim();
		if (!text) continue;
		const value = kind === "number" ? parse(text) : kind === "yes-no" ? text === "yes" : plainText(text, 80);
		if (value === null) continue;
		const [first, second] = path.split(".");
		if (second) out[first] = { ...out[first], [second]: value };
		else out[first] = value;
	}
	for (const name of ["strobe", "total"])
		if (out[name] && (out[name].engineRPM === undefined || out[name].crankDeg === undefined)) delete out[name];
	if (out.gap && out.gapMm === undefined) addMm(out);
	return out;
}

/**
 * The newest readings on the car: static, at the lowest speed, and all in where they show it.
 * @param {{body: Visit}[]} visits
 */
function readFigures(visits) {
	/** @type {CardAsSet} */
	const figures = {};
	const still = visits
		.flatMap(({ body }) =>
			usable(body, "car").map((set) => ({ date: body.date, at: toReadingSet(set).staticCrankDeg })),
		)
		.find(({ at }) => at !== undefined);
	if (still) figures.staticCrankDeg = still.at;
	const curve = judgedSets(visits, "car");
	const newest = visits
		.map((visit) => ({
			visit,
			set: usable(visit.body, "car")
				.filter((set) => strobed(set).length)
				.at(-1),
		}))
		.find(({ set }) => set);
	const isOf =
		curve &&
		strobed(curve.main).length &&
		!(newest?.set && newest.set !== curve.main && changedSince(visits, curve.visit.body, curve.main));
	// since something was changed the newest alone tell, be they few
	const { visit, set } = isOf ? { visit: curve.visit, set: curve.main } : (newest ?? {});
	if (set) {
		const points = strobed(set).sort((a, b) => a.engineRPM - b.engineRPM);
		const vacuum = set.vacuum ? { vacuum: set.vacuum } : {};
		figures.strobe = { ...points[0], ...vacuum };
		const [before, last] = points.slice(-2);
		if (
			last &&
			set.vacuum !== "connected" &&
			Math.abs(last.crankDeg - before.crankDeg) <= commonReadingErrorCrankDeg
		)
			figures.total = { ...last, ...vacuum }; // two speeds alike: it does not climb any more
	}
	return { figures, date: visit?.body.date ?? still?.date };
}

/** Totals before TDC against engine speed, while the speed rises. @param {VisitSet} set @returns {CardStrobe[]} */
function strobed(set) {
	if (set.angleUnit !== "crank" || set.speedUnit !== "engine" || set.base !== "included") return [];
	return complete(set)
		.filter(({ direction }) => direction !== "falling")
		.map(({ rpm, deg }) => ({ engineRPM: rpm, crankDeg: deg }));
}

/** @param {Facts} car @param {Facts} distributor @param {{body: Visit}[]} visits @returns {CardAsSet} */
function measuredFigures(car, distributor, visits) {
	const layers = [...visits.map(({ body }) => body.facts ?? {}), car, distributor];
	/** @param {string} key */
	const measured = (key) =>
		layers.map((facts) => facts[key]).find((fact) => fact?.source === "measured" && fact.value.trim() !== "");
	/** @type {CardAsSet} */
	const out = {};
	const gap = cardFact(measured("points.gapLeft") ?? measured("points.gap") ?? measured("gap"));
	if (gap) {
		out.gap = gap;
		addMm(out);
	}
	const dwell =
		measured("points.dwellLeft") ?? measured("points.dwell") ?? measured("dwell") ?? measured("dwellIdle");
	const size = parse(dwell?.value);
	const cylinders = parse(car.cylinders?.value);
	if (size !== null && size > 0) {
		// percent are of one cylinder's 360/n
		if (dwell?.unit !== "%") out.dwellDistDeg = size;
		else if (cylinders !== null && cylinders > 0) out.dwellDistDeg = Math.round((size * 36) / cylinders) / 10;
	}
	const idle = parseSpeed(measured("idleSpeed")?.value);
	if (idle !== null && idle > 0 && idle <= 4000) out.idleEngineRPM = idle;
	const vacuum = measured("idleVacuum");
	const depth = parse(vacuum?.value);
	// NIST SP 811, appendix B.8
	const kPa = { inHg: 3.386389, mmHg: 0.1333224, kPa: 1 }[/** @type {"kPa"} */ (vacuum?.unit || "inHg")];
	if (depth !== null && kPa && depth * kPa >= 0 && depth * kPa <= 102)
		out.idleVacuumKPa = Math.round(depth * kPa * 10) / 10;
	const mark = plainText(car.markMeaning?.value, 120);
	if (mark) out.mark = mark;
	const capsule = capsuleOf(distributor);
	if (capsule) out.capsule = capsule;
	return out;
}

/** @param {CardAsSet} out */
function addMm(out) {
	const size = parse(out.gap?.value);
	// the inch is 25.4 mm exactly
	const mm = { in: 25.4, thou: 0.0254, mm: 1 }[/** @type {"mm"} */ (out.gap?.unit ?? "")];
	if (size !== null && mm && size * mm > 0 && size * mm <= 5) out.gapMm = Math.round(size * mm * 1000) / 1000;
}

/** @param {Facts} facts @returns {CardCapsule | null} */
function capsuleOf(facts) {
	/** @type {CardCapsule} */
	const out = {};
	const source = facts.vacuumPort?.value === "nowhere" ? "none" : facts.vacuumPort?.value;
	if (source && ["ported", "manifold", "venturi", "none"].includes(source)) out.source = source;
	const code = plainText(facts.capsuleCode?.value, 40);
	if (code) out.code = code;
	return Object.keys(out).length ? out : null;
}

/** @param {Visit} visit @param {"bench" | "car"} place */
const usable = (visit, place) => (visit.sets ?? []).filter((set) => set.place === place && !set.removed);

/**
 * curvesOf takes the newest readings of bench and car, and the ones before
 * them when wanted: at most four.
 * @param {Doc<Visit>[]} visits @param {boolean} withEarlier
 * @returns {ReadingSet[]}
 */
function curvesOf(visits, withEarlier) {
	/** @type {ReadingSet[][]} */
	const rounds = [[], []];
	const runs = runsOf(visits);
	const nameOf = (/** @type {VisitSet} */ { id }) => {
		const run = runs.find(({ set }) => set.id === id);
		return run ? ownName(run) : "";
	};
	for (const place of /** @type {const} */ (["bench", "car"])) {
		const few = visits.flatMap((visit) =>
			usable(visit.body, place)
				.filter((set) => complete(set).length > 0)
				.reverse()
				.map((set) => ({ visit, set })),
		);
		const curves = curvesRead(visits, place);
		(curves.length ? curves : few)
			.slice(0, withEarlier ? 2 : 1)
			.forEach(({ visit, set }, round) => rounds[round].push(curveOf(set, visit.body, nameOf(set))));
	}
	return rounds.flat();
}

/** A name that came with a card says its place already. */
const saysPlace = /\bon the (bench|car)\b/i;

/** @param {VisitSet} set @param {Visit} visit @param {string} what it tells of @returns {ReadingSet} */
function curveOf(set, visit, what) {
	const name = plainText(
		[what, saysPlace.test(what) ? "" : set.place === "bench" ? "on the bench" : "on the car", visit.date]
			.filter(Boolean)
			.join(", "),
		80,
	);
	const out = { name, ...toReadingSet(set) };
	if (parse(set.readingErrorCrankDeg) === null) delete out.readingErrorCrankDeg; // nobody said it
	return out;
}

/** What stands undone on the restore list, a line each. @param {{body: Visit}[]} visits */
function undoneWords(visits) {
	const events = visits
		.flatMap(({ body }) => body.events ?? [])
		.filter((event) => !event.removed && Number.isFinite(Date.parse(event.at)))
		.sort((a, b) => Date.parse(a.at) - Date.parse(b.at));
	return standingIn(events, Date.now()).map(({ what, putBack }) =>
		plainText(`${firstCapital(what)}. ${putBack}.`, longestLine),
	);
}

/** @param {Facts} facts @param {{body: Visit}[]} visits @returns {Partial<SetupCard>} */
function wordsOf(facts, visits) {
	/** @type {any} */
	const out = {};
	for (const { field, most } of said) {
		const text = plainText(facts[saidKey(field)]?.value, most);
		if (text) out[field] = text;
	}
	for (const field of lists) {
		const lines = String(facts[saidKey(field)]?.value ?? "")
			.split("\n")
			.map((line) => plainText(line, longestLine))
			.filter(Boolean)
			.slice(0, mostLines);
		if (lines.length) out[field] = lines;
	}
	const undone = undoneWords(visits).slice(0, mostLines);
	if (undone.length) out.leftUndone = [...undone, ...(out.leftUndone ?? [])].slice(0, mostLines);
	const newest = visits
		.map(({ body }) => body.date)
		.filter((date) => /^\d{4}-\d{2}-\d{2}$/.test(date))
		.sort()
		.at(-1);
	if (newest && newest > (out.date ?? "")) out.date = newest;
	const octane = cardFact(facts.fuel);
	if (!out.fuel && octane) out.fuel = [octane.value, octane.unit].filter(Boolean).join(" ");
	return out;
}
