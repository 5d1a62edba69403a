// The points: gap and dwell as found and as left, which of the two to trust
// today, what a change of dwell does to the timing, and what the dwell says of
// the distributor.

import { onState } from "../calc/client.js";
import { ask } from "../calc/judgement.js";
import { electricsOf, keepFactOf, unitDocuments } from "../data/electrics.js";
import { checks } from "../data/fact-checks.js";
import { factFields } from "../data/facts.js";
import { garage } from "../data/garage.js";
import { bookOf, dwellChange, dwellOf, gapOf, leftIn, pairsOf, perDegree, pointsIn } from "../data/points.js";
import { beginAnew, factsOf, keepFact, text, workedOn } from "../data/visit-facts.js";
import { dayName, today } from "../data/visits.js";
import { carQuestions } from "../elements/car-questions.js";
import { caution, deferral, trouble } from "../elements/caution.js";
import { factEditor } from "../elements/fact-editor.js";
import { button, nextButton } from "../elements/field.js";
import { findings, questions } from "../elements/findings.js";
import { mark, verdictWord, verdictMark } from "../elements/marks.js";
import { dwellField, gapField, overSpeed, pairFields, perDegreeField, stateChoice, twinSets, underVacuum } from "../elements/points-fields.js";
import { working } from "../elements/working.js";
import { fill, h } from "../lib/dom.js";
import { num, short } from "../lib/format.js";
import { latestOnly } from "../lib/latest-only.js";
import { address } from "../lib/routes.js";
import { inEnglish } from "../lib/words.js";

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	const draw = () => {
		const { car, facts } = unitDocuments(ctx.params.car);
		const electrics = electricsOf(facts.car, facts.distributor);
		const asked = electrics.electronic ? null : carQuestions(car, ["cylinders"], draw);
		if (asked) return fill(root, h("p", { class: "lead" }, lead), asked);
		if (electrics.electronic) return triggered(root, ctx);
		if (electrics.cylinders === null) return fill(root, trouble({ title: "The number of cylinders cannot be read", limit: "1 to 16", do: "Correct it among the facts." }, h("a", { class: "button next", href: address("car", car.id, "facts") }, "Correct the facts")));
		bench(root, ctx, { ...electrics, cylinders: electrics.cylinders }, draw);
	};
	draw();
}

const lead = "Dwell first, timing second, always: a degree of dwell is a degree of timing.";

/** An electronic trigger has no dwell to set. @param {HTMLElement} root @param {PageContext} ctx */
async function triggered(root, ctx) {
	const judged = /** @type {PointsJudgement} */ (await ask("points.judge", { cylinders: 4, trigger: "electronic" }).catch((problem) => { fill(root, trouble(problem)); return null; }));
	if (!judged || ctx.signal.aborted) return;
	fill(root, h("section", { class: "hero" }, h("h2", { class: "hero-word is-words" }, "No dwell to set"), h("p", { class: "hero-summary" }, inEnglish(judged.summary))),
		questions(judged.ask), findings(judged.findings),
		nextButton("On to the readings", address("car", ctx.params.car, "readings")),
		button("It has points after all: correct the facts", address("car", ctx.params.car, "facts")));
}

/**
 * @param {HTMLElement} root @param {PageContext} ctx @param {import("../data/electrics.js").Electrics & {cylinders: number}} electrics @param {() => void} again
 */
function bench(root, ctx, electrics, again) {
	const carId = ctx.params.car;
	const { car, visits, facts } = unitDocuments(carId);
	const now = () => factsOf(garage.visits({ carId }), "points");
	const rooms = { hero: h("div", { "aria-live": "polite" }), found: h("div"), shift: h("div", { "aria-live": "polite" }), slope: h("div"), next: h("div") };
	const refresh = latestOnly(() => judge(ctx, electrics, now(), rooms), (problem) => fill(rooms.hero, trouble(problem)));
	const keeping = {
		facts: now, cylinders: electrics.cylinders, distributor: facts.distributor,
		keep(/** @type {string} */ key, /** @type {Partial<Fact>} */ change) {
			keepFact(car, "points", key, change);
			if (key !== "changed") noteChange(car, now(), electrics.cylinders);
			refresh();
		},
	};
	const before = workedOn(visits, "points");
	fill(root, rooms.hero, care(),
		h("section", null, h("h2", null, "As found"), stateChoice(keeping), bookLine(electrics, car.id),
			gapField(keeping, "gap", "Gap as found", "By feeler, heel on the peak of the lobe."), dwellField(keeping, "dwell", "Dwell as found", "By the meter at idle, on the scale for this number of cylinders.")),
		rooms.found,
		h("section", { id: "as-left" }, h("h2", null, "As left"), h("p", null, "After setting. Leave empty what was not touched."),
			gapField(keeping, "gapLeft", "Gap as left"), dwellField(keeping, "dwellLeft", "Dwell as left"), rooms.shift, perDegreeField(keeping)),
		rooms.next,
		overSpeed(keeping), underVacuum(keeping),
		electrics.twin ? twinSets(keeping, twinBook(car, facts.distributor, refresh)) : null,
		h("section", null, h("h2", null, "Gap against dwell on this distributor"), rooms.slope, pairFields(keeping)),
		before ? h("p", { class: "note after-form" }, `These figures belong to the visit of ${dayName(before.body.date)}.`) : null,
		before ? button(before.body.date === today() ? "Begin anew on a new sheet" : "Begin anew today; the old figures stay in their visit", () => { beginAnew(car, "points"); again(); scrollTo(0, 0); }) : null);
	fill(rooms.hero, h("p", { class: "lead" }, lead));
	ctx.signal.addEventListener("abort", onState(refresh));
	refresh();
}

function care() {
	return caution("before a hand goes to the points", ["Ignition off, and the battery’s earth lead off where it can be. Before turning the engine by hand: plugs out, out of gear, handbrake on, clear of the spanner.", "Keep grease and fingers off the faces; a drop of oil there burns them.", deferral]);
}

/** What the book says, with what was added to it. @param {import("../data/electrics.js").Electrics & {cylinders: number}} electrics @param {string} carId */
function bookLine(electrics, carId) {
	const { facts } = unitDocuments(carId);
	const book = bookOf(facts.distributor, electrics.cylinders);
	const of = (/** @type {"gap" | "dwell"} */ key, /** @type {string} */ name) => {
		const fact = facts.distributor[key];
		const range = book[key];
		const said = fact?.value.trim() ? `${fact.value} ${fact.unit}` : "unknown";
		const also = range ? key === "gap" ? ` = ${num(range.min, 2)} to ${num(range.max, 2)} mm` : fact.unit === "%" ? ` = ${short(range.min)} to ${short(range.max)} distributor degrees` : "" : fact?.value.trim() ? "; cannot be read as a range" : "";
		return h("div", null, h("dt", null, name), h("dd", null, h("span", { class: "figures" }, said, also), range?.taken ? h("small", { class: "limit-source" }, range.taken) : null, h("small", { class: "limit-source" }, fact?.value.trim() ? `Source: ${fact.source || "not given"}` : "A dwell is never guessed: 52, 60 and 74 are all claimed for fours.")));
	};
	return h("div", { class: "book-says" }, h("dl", { class: "finding-facts" }, of("gap", "Book, gap"), of("dwell", "Book, dwell")), button("Change the book’s figures", address("car", carId, "facts")));
}

/** The book's figures for twin sets, kept with the distributor. @param {Doc<Car>} car @param {Facts} distributor @param {() => void} changed */
function twinBook(car, distributor, changed) {
	const like = factFields().find(({ key }) => key === "dwell");
	return [["dwellEach", "Book, each set alone"], ["dwellPair", "Book, both together"]].map(([key, label]) => {
		if (!like) return h("span");
		const editor = factEditor({ ...like, key, label, check: (value, unit) => checks.dwellOfTwins(value, unit, car.body.facts) }, distributor[key], () => distributor, (fact) => { keepFactOf("distributor", car.body.distributorId, key, fact); changed(); });
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
	const byDwell = dwell && Math.abs(dwell.to - dwell.from) >= 0.5 ? `dwell went from ${short(dwell.from)} to ${short(dwell.to)}` : "";
	const byGap = !dwell && gap !== null && gapLeft !== null && Math.abs(gapLeft - gap) >= 0.02 ? `the gap went from ${short(gap)} to ${short(gapLeft)} mm` : "";
	const note = byDwell || byGap;
	if (note === (facts.changed?.note ?? "")) return;
	keepFact(car, "points", "changed", { value: note ? new Date().toISOString() : "", note, source: "" });
}

/**
 * @param {PageContext} ctx @param {import("../data/electrics.js").Electrics & {cylinders: number}} electrics @param {Facts} facts
 * @param {{hero: HTMLElement, found: HTMLElement, shift: HTMLElement, slope: HTMLElement, next: HTMLElement}} rooms
 */
async function judge(ctx, electrics, facts, rooms) {
	const carId = ctx.params.car;
	const { facts: of, car } = unitDocuments(carId);
	const slope = await slopeOf(ctx, electrics, facts, of.distributor, car.body.distributorId);
	const learned = slope?.basis === "learned" ? slope.slopeDistDegPerMm : null;
	const judged = /** @type {PointsJudgement} */ (await ask("points.judge", pointsIn(electrics, facts, of.distributor, learned)));
	const leftInput = leftIn(electrics, facts, of.distributor, learned);
	const left = leftInput ? /** @type {PointsJudgement} */ (await ask("points.judge", leftInput)) : null;
	const change = dwellChange(facts, electrics.cylinders);
	const k = perDegree(facts);
	const shift = change ? /** @type {PointsShift} */ (await ask("points.shift", { dwellFromDistDeg: change.from, dwellToDistDeg: change.to, ...(k === null ? {} : { crankDegPerDwellDegree: k }) })) : null;
	if (ctx.signal.aborted) return;
	fill(rooms.hero, left ? heroOfBoth(judged, left) : heroOf(judged));
	fill(rooms.found, questions((left ?? judged).ask), left ? mendedWords(judged, left) : foundWords(judged));
	fill(rooms.shift, shift ? shiftWords(shift, k) : null);
	fill(rooms.slope, slopeWords(slope));
	const isChanged = text(facts, "changed") !== "";
	fill(rooms.next, isChanged ? nextButton("Do the timing again", address("car", carId, "readings")) : judged.verdict === "unknown" && !facts.gap && !facts.dwell ? null : nextButton("On to the spark", address("car", carId, "spark")));
}

/** @param {PageContext} ctx @param {{cylinders: number}} electrics @param {Facts} facts @param {Facts} distributor @param {string} distributorId */
async function slopeOf(ctx, { cylinders }, facts, distributor, distributorId) {
	const pairs = pairsOf(garage.visits(distributorId ? { distributorId } : { carId: ctx.params.car }), cylinders);
	const gap = gapOf(facts.gap);
	const dwell = dwellOf(facts.dwell, cylinders);
	const basis = pairs.length ? pairs : gap !== null && dwell !== null ? [{ gapMm: gap, dwellDistDeg: dwell }] : [];
	if (basis.length === 0) return null;
	const book = bookOf(distributor, cylinders).dwell;
	const wanted = book ? { dwellDistDeg: (book.min + book.max) / 2 } : {};
	const all = { cylinders, pairs: basis };
	return /** @type {PointsSlope} */ (await ask("points.learn", { ...all, ...wanted }).catch(() => ask("points.learn", all)));
}

/** @param {PointsJudgement} judged */
function heroOf(judged) {
	return h("section", { class: `hero is-${judged.verdict}`, "aria-labelledby": "hero-word" },
		h("h2", { class: "hero-word", id: "hero-word" }, verdictMark(judged.verdict)),
		h("p", { class: "hero-summary" }, inEnglish(judged.summary)),
		trustWords(judged), working("the points", judged.working, judged.sources));
}

/** Once it is set, what counts is how it was left; how it was found stays beside it. @param {PointsJudgement} found @param {PointsJudgement} left */
function heroOfBoth(found, left) {
	const word = (/** @type {PointsJudgement} */ { verdict }) => verdictWord(verdict).toLowerCase();
	return h("section", { class: `hero is-${left.verdict}`, "aria-labelledby": "hero-word" },
		h("p", null, mark(found.verdict), h("strong", null, ` As found: ${word(found)}. `), inEnglish(found.summary)),
		h("h2", { class: "hero-word", id: "hero-word" }, mark(left.verdict), ` As left: ${word(left)}`),
		h("p", { class: "hero-summary" }, inEnglish(left.summary)),
		trustWords(left), working("the points as left", left.working, left.sources), working("the points as found", found.working, found.sources));
}

/** @param {PointsJudgement} judged */
function trustWords({ trust, trustText }) {
	const words = { dwell: "Set by dwell", gap: "Set by gap, then confirm by dwell", neither: "Set by neither yet", unknown: "" };
	return trustText ? h("p", { class: "trust" }, words[trust] ? h("strong", null, `Today: ${words[trust]}. `) : null, inEnglish(trustText)) : null;
}

/** What is still wrong as left stands open; what was found before is folded. @param {PointsJudgement} found @param {PointsJudgement} left */
function mendedWords(found, left) {
	const before = found.findings.filter(({ verdict, code }) => verdict !== "pass" && !left.findings.some((one) => one.code === code));
	return [foundWords(left), before.length ? h("details", { class: "more-test" }, h("summary", null, inEnglish(`As found: ${before.map(({ title }) => title.charAt(0).toLowerCase() + title.slice(1)).join("; ")}`)), findings(before), otherReasons(found)) : null];
}

/** What is wrong stands open; what is in order is folded, so that the way to the fields stays short. @param {PointsJudgement} judged */
function foundWords(judged) {
	const wrong = judged.findings.filter(({ verdict }) => verdict !== "pass");
	const right = judged.findings.filter(({ verdict }) => verdict === "pass");
	return [
		wrong.length ? h("section", null, h("h2", null, "What is found"), findings(wrong), otherReasons(judged)) : null,
		right.length ? h("details", { class: "more-test" }, h("summary", null, inEnglish(`In order: ${right.map(({ title }) => title.charAt(0).toLowerCase() + title.slice(1)).join("; ")}`)), findings(right)) : null,
	];
}

/** @param {PointsJudgement} judged */
function otherReasons({ reasons }) {
	if (reasons.length < 2) return null;
	return h("details", { class: "more-test" }, h("summary", null, `All ${reasons.length} reasons for it, likeliest first`),
		h("ol", { class: "working-lines" }, reasons.map(({ text: why, test }) => h("li", null, inEnglish(`${why[0].toUpperCase()}${why.slice(1)}. `), h("em", null, inEnglish(`Test: ${test}.`))))));
}

/** @param {PointsShift} shift @param {number | null} k */
function shiftWords(shift, k) {
	const range = k === null && shift.timingShiftCrankDeg !== 0 ? `Expected 1 for 1. A lobe steeper on one side makes it anything from ${num(Math.abs(shift.leastCrankDeg))} to ${num(Math.abs(shift.mostCrankDeg))}; only the lamp tells.` : "";
	return h("div", { class: "boxed shift" }, h("p", { class: "hero-summary" }, shift.text), range ? h("p", { class: "note" }, range) : null, working("the change", shift.working, shift.sources));
}

/** @param {PointsSlope | null} slope */
function slopeWords(slope) {
	if (!slope) return h("p", { class: "note" }, "Not known yet. With gap and dwell read together it begins; with two pairs it is this distributor’s own.");
	const marks = { learned: `Learned from this distributor’s own pairs; the interval holds in ${num(slope.statedRate * 100, 0)} of 100 such cases.`, "common practice": "Common practice, not this distributor’s own.", unknown: "Not decided." };
	return h("div", null, h("p", { class: "hero-summary" }, slope.text), h("p", { class: "note" }, marks[slope.basis]),
		slope.foretold.filter(({ asked }) => asked === "gap").map((one) => h("p", null, `For the middle of the book, ${short(one.dwellDistDeg)}° of dwell, set about ${num(one.gapMm / 0.0254)} thou (${num(one.gapMm, 2)} mm); hardly outside ${num(one.low / 0.0254)} to ${num(one.high / 0.0254)} thou.${one.outside ? " That lies outside the pairs, where the line is not known." : ""}`)),
		slope.findings.length ? findings(slope.findings) : null, working("the slope", slope.working, slope.sources));
}
