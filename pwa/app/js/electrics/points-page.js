// The points: gap and dwell as found and as left, which of the two to trust
// today, what a change of dwell does to the timing, and what the dwell says of
// the distributor.

import { onState } from "../engine/client.js";
import { distanceField } from "./clock-distance.js";
import { electricsOf, keepFactOf, unitDocuments } from "../record/car-electrics.js";
import { checks } from "../record/fact-checks.js";
import { factFields } from "../record/facts.js";
import { garage } from "../kept/garage.js";
import { bookOf, dwellChange, dwellOf, gapOf, leftIn, pairsOf, perDegree, pointsIn } from "./points.js";
import { beginAnew, factsOf, keepFact, text, workedOn } from "../record/visit-facts.js";
import { dayName, today } from "../record/visits.js";
import { carQuestions } from "./car-questions.js";
import { caution, trouble } from "../kit/caution.js";
import { factEditor } from "../record/fact-editor.js";
import { button, nextButton } from "../kit/field.js";
import { findings, questions } from "../kit/finding/findings.js";
import {
	dwellField,
	gapField,
	overSpeed,
	pairFields,
	perDegreeField,
	stateChoice,
	twinSets,
	underVacuum,
} from "./points-fields.js";
import { fill, h } from "../kit/dom.js";
import { inPlace } from "../kit/hold-still.js";
import { onward } from "../kit/onward.js";
import { firstAnswer } from "../kit/first-answer.js";
import { fold } from "../kit/fold.js";
import { num, short } from "../kit/format.js";
import { latestOnly } from "../kit/latest-only.js";
import { address } from "../kit/address.js";
import { inEnglish } from "../kit/words.js";
import { ask } from "../engine/ask.js";
import { heroOf, heroOfBoth, mendedWords, foundWords, shiftWords, slopeWords } from "./points-verdict.js";

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	const draw = () => {
		const { car, facts, distributor } = unitDocuments(ctx.params.car);
		const electrics = electricsOf(facts.car, facts.distributor, distributor?.body.sheet);
		const asked = electrics.electronic ? null : carQuestions(car, ["cylinders"], draw);
		if (asked) return fill(root, h("p", { class: "lead" }, lead), asked);
		if (electrics.electronic) return triggered(root, ctx);
		if (electrics.cylinders === null)
			return fill(
				root,
				trouble(
					{
						title: "The number of cylinders cannot be read",
						limit: "1 to 16",
						do: "Correct it under Facts.",
					},
					h("a", { class: "button next", href: address("car", car.id, "facts") }, "Correct the facts"),
				),
			);
		return bench(root, ctx, { ...electrics, cylinders: electrics.cylinders }, draw);
	};
	await firstAnswer(Promise.resolve(draw()));
}

const lead = "Dwell first, timing second. One degree of dwell is one degree of timing.";

/** An electronic trigger has no dwell to set. @param {HTMLElement} root @param {PageContext} ctx */
async function triggered(root, ctx) {
	const judged = /** @type {PointsJudgement} */ (
		await ask("points.judge", { cylinders: 4, trigger: "electronic" }).catch((problem) => {
			fill(root, trouble(problem));
			return null;
		})
	);
	if (!judged || ctx.signal.aborted) return;
	fill(
		root,
		h(
			"section",
			{ class: "hero" },
			h("h2", { class: "hero-word is-words" }, "No dwell to set"),
			h("p", { class: "hero-summary" }, inEnglish(judged.summary)),
		),
		questions(judged.ask),
		findings(judged.findings),
		nextButton("Next: readings", address("car", ctx.params.car, "readings")),
		button("It has points after all: correct the facts", address("car", ctx.params.car, "facts")),
	);
}

/**
 * @param {HTMLElement} root
 * @param {PageContext} ctx
 * @param {import("../record/car-electrics.js").Electrics & {cylinders: number}} electrics
 * @param {() => void} again
 */
function bench(root, ctx, electrics, again) {
	const carId = ctx.params.car;
	const { car, visits, facts } = unitDocuments(carId);
	const now = () => factsOf(garage.visits({ carId }), "points");
	const rooms = {
		hero: h("div", { "aria-live": "polite" }),
		found: h("div"),
		shift: h("div", { "aria-live": "polite" }),
		slope: h("div"),
		next: onward(),
		root,
	};
	const refresh = latestOnly(
		() => judge(ctx, electrics, now(), rooms),
		(problem) => fill(rooms.hero, trouble(problem)),
	);
	const keeping = {
		facts: now,
		cylinders: electrics.cylinders,
		distributor: facts.distributor,
		keep(/** @type {string} */ key, /** @type {Partial<Fact>} */ change) {
			keepFact(car, "points", key, change);
			if (key !== "changed") noteChange(car, now(), electrics.cylinders);
			refresh();
		},
	};
	const before = workedOn(visits, "points");
	fill(
		root,
		rooms.hero,
		rooms.next.element,
		care(),
		asFound(keeping, electrics, car.id),
		rooms.found,
		asLeft(keeping, rooms.shift, garage.isUnit(carId) ? null : distanceField(car).element),
		overSpeed(keeping),
		underVacuum(keeping),
		electrics.twin ? twinSets(keeping, twinBook(car, facts.distributor, refresh)) : null,
		fold("points/slope", { title: "Gap against dwell on this distributor" }, rooms.slope, pairFields(keeping)),
		before
			? h("p", { class: "note after-form" }, `These figures belong to the visit of ${dayName(before.body.date)}.`)
			: null,
		before
			? button(
					before.body.date === today()
						? "Start a new set"
						: "Start a new set today; the old figures stay in their visit",
					() => {
						beginAnew(car, "points");
						again();
						scrollTo(0, 0);
					},
				)
			: null,
	);
	fill(rooms.hero, h("p", { class: "lead" }, lead));
	ctx.signal.addEventListener("abort", onState(refresh));
	return refresh();
}

/**
 * @typedef {Parameters<typeof gapField>[0]} Keeping
 * @param {Keeping} keeping @param {Parameters<typeof bookLine>[0]} electrics @param {string} carId
 */
function asFound(keeping, electrics, carId) {
	const { gap, dwell } = keeping.facts();
	return fold(
		"points/as-found",
		{ title: "As found", isOpen: !gap?.value && !dwell?.value },
		stateChoice(keeping),
		bookLine(electrics, carId),
		gapField(keeping, "gap", "Gap as found", "By feeler, heel on the peak of the lobe."),
		dwellField(
			keeping,
			"dwell",
			"Dwell as found",
			"By the meter at idle, on the scale for this number of cylinders.",
		),
	);
}

/** @param {Keeping} keeping @param {HTMLElement} shift @param {HTMLElement | null} distance */
function asLeft(keeping, shift, distance) {
	const part = fold(
		"points/as-left",
		{ title: "As left" },
		h("p", null, "After setting. Leave empty what was not touched."),
		gapField(keeping, "gapLeft", "Gap as left"),
		dwellField(keeping, "dwellLeft", "Dwell as left"),
		shift,
		perDegreeField(keeping),
		distance,
	);
	part.id = "as-left";
	return part;
}

function care() {
	return caution("before a hand goes to the points", [
		"Ignition off, and the battery’s earth lead off where it can be. Before turning the engine by hand: plugs out, out of gear, handbrake on, clear of the spanner.",
		"Keep grease and fingers off the faces; a drop of oil there burns them.",
	]);
}

/**
 * What the book says, with what was added to it.
 * @param {import("../record/car-electrics.js").Electrics & {cylinders: number}} electrics
 * @param {string} carId
 */
function bookLine(electrics, carId) {
	const { facts } = unitDocuments(carId);
	const book = bookOf(facts.distributor, electrics.cylinders);
	const of = (/** @type {"gap" | "dwell"} */ key, /** @type {string} */ name) => {
		const fact = facts.distributor[key];
		const range = book[key];
		const said = fact?.value.trim() ? `${fact.value} ${fact.unit}` : "unknown";
		const also = range
			? key === "gap"
				? ` = ${num(range.min, 2)} to ${num(range.max, 2)} mm`
				: fact.unit === "%"
					? ` = ${short(range.min)} to ${short(range.max)} distributor degrees`
					: ""
			: fact?.value.trim()
				? "; cannot be read as a range"
				: "";
		return h(
			"div",
			null,
			h("dt", null, name),
			h(
				"dd",
				null,
				h("span", { class: "figures" }, said, also),
				range?.taken ? h("small", { class: "limit-source" }, range.taken) : null,
				h(
					"small",
					{ class: "limit-source" },
					fact?.value.trim()
						? `Source: ${fact.source || "not given"}`
						: "Do not guess a dwell. For four cylinders 52, 60 and 74 are all found.",
				),
			),
		);
	};
	return h(
		"div",
		{ class: "book-says" },
		h("dl", { class: "finding-facts" }, of("gap", "Book, gap"), of("dwell", "Book, dwell")),
		button("Change the book’s figures", address("car", carId, "facts")),
	);
}

/**
 * The book's figures for twin sets, kept with the distributor.
 * @param {Doc<Car>} car
 * @param {Facts} distributor
 * @param {() => void} changed
 */
function twinBook(car, distributor, changed) {
	const like = factFields().find(({ key }) => key === "dwell");
	return [
		["dwellEach", "Book, each set alone"],
		["dwellPair", "Book, both together"],
	].map(([key, label]) => {
		if (!like) return h("span");
		const editor = factEditor(
			{ ...like, key, label, check: (value, unit) => checks.dwellOfTwins(value, unit, car.body.facts) },
			distributor[key],
			() => distributor,
			(fact) => {
				keepFactOf("distributor", car.body.distributorId, key, fact);
				changed();
			},
		);
		editor.check();
		return editor.element;
	});
}

/**
 * noteChange marks in the visit when gap or dwell was changed, so that the
 * timing is shown as to be done again.
 * @param {Doc<Car>} car @param {Facts} facts @param {number} cylinders
 */
function noteChange(car, facts, cylinders) {
	const dwell = dwellChange(facts, cylinders);
	const [gap, gapLeft] = [gapOf(facts.gap), gapOf(facts.gapLeft)];
	const byDwell =
		dwell && Math.abs(dwell.to - dwell.from) >= 0.5
			? `dwell went from ${short(dwell.from)} to ${short(dwell.to)}`
			: "";
	const byGap =
		!dwell && gap !== null && gapLeft !== null && Math.abs(gapLeft - gap) >= 0.02
			? `the gap went from ${short(gap)} to ${short(gapLeft)} mm`
			: "";
	const note = byDwell || byGap;
	if (note === (facts.changed?.note ?? "")) return;
	keepFact(car, "points", "changed", { value: note ? new Date().toISOString() : "", note, source: "" });
}

/**
 * @param {PageContext} ctx
 * @param {import("../record/car-electrics.js").Electrics & {cylinders: number}} electrics
 * @param {Facts} facts
 * @param {{hero: HTMLElement, found: HTMLElement, shift: HTMLElement, slope: HTMLElement, next:
 *   ReturnType<typeof onward>, root: HTMLElement}} rooms
 */
async function judge(ctx, electrics, facts, rooms) {
	const carId = ctx.params.car;
	const { facts: of, car } = unitDocuments(carId);
	const slope = await slopeOf(ctx, electrics, facts, of.distributor, car.body.distributorId);
	const learned = slope?.basis === "learned" ? slope.slopeDistDegPerMm : null;
	const judged = /** @type {PointsJudgement} */ (
		await ask("points.judge", pointsIn(electrics, facts, of.distributor, learned))
	);
	const leftInput = leftIn(electrics, facts, of.distributor, learned);
	const left = leftInput ? /** @type {PointsJudgement} */ (await ask("points.judge", leftInput)) : null;
	const change = dwellChange(facts, electrics.cylinders);
	const k = perDegree(facts);
	const drive = electrics.driveRatio === undefined ? {} : { driveRatio: electrics.driveRatio };
	const asked = change && {
		dwellFromDistDeg: change.from,
		dwellToDistDeg: change.to,
		...drive,
		...(k === null ? {} : { crankDegPerDwellDegree: k }),
	};
	const shift = asked ? /** @type {PointsShift} */ (await ask("points.shift", asked)) : null;
	if (ctx.signal.aborted) return;
	fill(rooms.found, questions((left ?? judged).ask), left ? mendedWords(judged, left) : foundWords(judged));
	fill(rooms.shift, shift ? shiftWords(shift, k, (electrics.driveRatio ?? 2) / 2) : null);
	fill(rooms.slope, slopeWords(slope));
	inPlace(rooms.root, () => {
		fill(rooms.hero, left ? heroOfBoth(judged, left) : heroOf(judged));
		if (text(facts, "changed") !== "") rooms.next.to("Do the timing again", address("car", carId, "readings"));
		else if (judged.verdict === "unknown" && !facts.gap && !facts.dwell)
			rooms.next.to("Step by step", address("car", carId, "do", "points"));
		else if (garage.isUnit(carId)) rooms.next.to("Next: readings", address("car", carId, "readings"));
		else rooms.next.to("Next: the spark", address("car", carId, "spark"));
	});
}

/**
 * @param {PageContext} ctx
 * @param {{cylinders: number, driveRatio?: number}} electrics
 * @param {Facts} facts
 * @param {Facts} distributor
 * @param {string} distributorId
 */
async function slopeOf(ctx, { cylinders, driveRatio }, facts, distributor, distributorId) {
	const pairs = pairsOf(garage.visits({ carId: distributorId || ctx.params.car }), cylinders);
	const gap = gapOf(facts.gap);
	const dwell = dwellOf(facts.dwell, cylinders);
	const basis = pairs.length ? pairs : gap !== null && dwell !== null ? [{ gapMm: gap, dwellDistDeg: dwell }] : [];
	if (basis.length === 0) return null;
	const book = bookOf(distributor, cylinders).dwell;
	const wanted = book ? { dwellDistDeg: (book.min + book.max) / 2 } : {};
	const all = { cylinders, pairs: basis, ...(driveRatio === undefined ? {} : { driveRatio }) };
	return /** @type {PointsSlope} */ (
		await ask("points.learn", { ...all, ...wanted }).catch(() => ask("points.learn", all))
	);
}
