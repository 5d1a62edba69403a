// The verdict on a car: the word, the figure, why, the base, the mend, the
// governor and every reading. It follows the garage: change a reading
// anywhere and the verdict changes here.

import { engineState, onState } from "../calc/client.js";
import { advanceBands, ask, totalBands } from "../calc/judgement.js";
import { caseOf, earlierKey, followGarage } from "../data/case.js";
import { toAddress } from "../data/change.js";
import { garage } from "../data/garage.js";
import { leftOut } from "../data/left-out.js";
import { complete } from "../data/sheet.js";
import { baseFigures } from "../elements/base-figures.js";
import { curvePlate, redraw } from "../elements/curve-plate.js";
import { explanations, findings, questions } from "../elements/findings.js";
import { readingsInBand } from "../elements/in-band.js";
import { governorFigures } from "../elements/governor-figures.js";
import { leftOutLines } from "../elements/left-out-lines.js";
import { verdictMark } from "../elements/marks.js";
import { mends, noMendYet } from "../elements/mends.js";
import { bookMissing, nextLink, readingsMissing, refused, stillStarting } from "../elements/not-yet.js";
import { figuresOf, ratioOf } from "../elements/plate/from-judgement.js";
import { readingTables } from "../elements/reading-table.js";
import { working } from "../elements/working.js";
import { fill, h } from "../lib/dom.js";
import { address } from "../lib/routes.js";

/** @typedef {import("../data/case.js").Case} Case */

/** How long the page waits for answers before it is shown without them, ms. */
const PATIENCE = 120;

/**
 * @param {HTMLElement} root
 * @param {PageContext} ctx
 */
export async function show(root, ctx) {
	const carId = ctx.params.car;
	const view = sheetOf(root);
	const state = { turn: 0, drawn: "", wish: await garage.draft(`verdict/${carId}`).catch(() => undefined) };

	async function update() {
		const turn = ++state.turn;
		const isStale = () => turn !== state.turn || ctx.signal.aborted;
		const given = caseOf(carId, state.wish);
		const left = leftOut(garage.visits({ carId }));
		const what = JSON.stringify([given.spec, given.sets, given.chosen, given.visits.map(visitName), left]);
		if (what === state.drawn) return; // a change elsewhere: what is open here stays open
		state.drawn = "";
		const missing = bookMissing(given, carId) ?? (given.sets.length ? null : readingsMissing(carId));
		if (missing || !given.spec) return view.only(h("div", null, leftOutLines(left), missing));
		try {
			await draw(view, given, { carId, go: ctx.go, isStale, choose });
			if (!isStale()) state.drawn = what;
		} catch (problem) {
			if (!isStale()) view.only(refused(/** @type {Problem} */ (problem), carId));
		}
	}

	/** @param {string} wish */
	function choose(wish) {
		state.wish = wish;
		garage.setDraft(`verdict/${carId}`, wish).catch(() => {});
		update();
	}

	if (engineState() !== "ready") view.only(stillStarting(engineState(), carId));
	ctx.signal.addEventListener("abort", onState(() => update()));
	const first = followGarage(ctx.signal, update);
	await Promise.race([first, new Promise((resolve) => setTimeout(resolve, PATIENCE))]);
}

/**
 * The rooms of the page, so that a late answer fills only its own.
 * @param {HTMLElement} root
 */
function sheetOf(root) {
	const names = /** @type {const} */ (["left", "hero", "plates", "findings", "base", "mend", "governor", "readings"]);
	const rooms = /** @type {Record<typeof names[number], HTMLElement>} */ (/** @type {unknown} */ (Object.fromEntries(names.map((name) => [name, h("div", { class: `room-${name}` })]))));
	const sheet = h("div", null, Object.values(rooms));
	/** @type {HTMLElement[]} */
	let plates = [];
	return {
		rooms,
		/** Shows one thing instead of the verdict. @param {HTMLElement | null} what */
		only(what) {
			fill(root, what);
			plates = [];
		},
		open() {
			if (sheet.parentNode !== root) fill(root, sheet);
		},
		/** Draws the figures again in place, so that the chosen point stays chosen. @param {import("../elements/curve-plate.js").PlateInput[]} inputs */
		figures(inputs) {
			if (inputs.length === plates.length) return inputs.forEach((input, i) => redraw(plates[i], input));
			plates = inputs.map((input) => curvePlate(input));
			fill(rooms.plates, plates);
		},
	};
}

/**
 * @param {ReturnType<typeof sheetOf>} view @param {Case} given
 * @param {{carId: string, go: (hash: string) => void, isStale: () => boolean, choose: (id: string) => void}} how
 */
async function draw(view, given, how) {
	const spec = /** @type {Spec} */ (given.spec);
	const input = { spec, readings: given.sets };
	const [judgement, total, advance] = await Promise.all([
		/** @type {Promise<Judgement>} */ (ask("advance.judge", input)), totalBands(spec), advanceBands(spec),
	]);
	if (how.isStale()) return;
	const known = { spec, sets: given.sets, judgement, total, advance };
	const { rooms } = view;
	view.open();
	fill(rooms.left, leftOutLines(leftOut(garage.visits({ carId: how.carId }))));
	fill(rooms.hero, hero(judgement, given, how));
	view.figures(figuresOf(known, null));
	const figures = figuresOf(known, null);
	fill(rooms.findings, explanations(judgement.explanations), decide(judgement, how.carId), questions(judgement.ask), reasons(judgement, figures));
	fill(rooms.base, judgement.baseCrankDeg === null && spec.baseCrankDeg === undefined ? null : baseFigures(judgement, spec));
	fill(rooms.readings, everyReading(judgement, given));
	const fit = await optional(ask("advance.fit", input));
	if (how.isStale()) return;
	view.figures(figuresOf(known, fit.answer));
	fill(rooms.governor, fit.answer ? governorFigures(fit.answer, ratioOf(spec)) : unanswered("The governor behind these readings", fit.problem));
	if (isUndecided(judgement) || judgement.verdict === "unknown") return fill(rooms.mend, noMendYet(isUndecided(judgement)));
	const mend = await optional(ask("advance.prescribe", input));
	if (how.isStale()) return;
	fill(rooms.mend, mend.answer ? mends(mend.answer, spec.baseCrankDeg !== undefined || spec.base === "included", (option) => tryMend(option, how)) : unanswered("The mend", mend.problem));
}

/**
 * An answer that may be refused while the verdict stands.
 * @param {Promise<any>} asked
 * @returns {Promise<{answer: any, problem: Problem | null}>}
 */
async function optional(asked) {
	try {
		return { answer: await asked, problem: null };
	} catch (problem) {
		return { answer: null, problem: /** @type {Problem} */ (problem) };
	}
}

/** @param {string} title @param {Problem | null} problem */
function unanswered(title, problem) {
	const text = [problem?.detail ?? problem?.title, problem?.do].filter(Boolean).join(" ");
	return h("section", null, h("h2", null, title), h("p", null, text || "The readings do not tell."));
}

/** @param {Judgement} judgement @param {Case} given @param {{choose: (id: string) => void}} how */
function hero(judgement, given, how) {
	return h("section", { class: `hero is-${judgement.verdict}`, "aria-labelledby": "hero-word" },
		h("h2", { class: "hero-word", id: "hero-word" }, verdictMark(judgement.verdict)),
		h("p", { class: "hero-summary" }, judgement.summary),
		jumps([...(judgement.findings.length ? [/** @type {[string, string]} */ (["Findings", "findings-title"])] : []), ["Mend", "mend-title"], ["Readings", "readings-title"]]),
		judgedVisit(given, how.choose),
		working("the verdict", judgement.working, judgement.sources));
}

/** Ways down a long page; addresses after # are taken by the pages. @param {[label: string, id: string][]} places */
function jumps(places) {
	return h("nav", { class: "jumps", "aria-label": "On this page" }, places.map(([label, id]) =>
		h("button", { type: "button", on: { click: () => document.getElementById(id)?.scrollIntoView() } }, label)));
}

/** Which readings are judged; a choice when there are several. @param {Case} given @param {(wish: string) => void} choose */
function judgedVisit({ visits, chosen, earlier }, choose) {
	if (visits.length + earlier.length < 2) return h("p", { class: "note" }, `Judged: ${visits.map(visitName).join("")}.`);
	const options = [h("option", { value: "" }, "newest bench and car"), ...visits.map((one) => h("option", { value: one.id }, visitName(one))), ...earlier.map((one) => h("option", { value: earlierKey(one) }, earlierName(one)))];
	return h("label", { class: "judged-visit" }, h("span", null, "Readings judged"),
		h("select", { value: chosen, on: { change: (/** @type {Event} */ event) => choose(/** @type {HTMLSelectElement} */ (event.target).value) } }, options));
}

/** @param {Doc<Visit>} visit */
function visitName({ body }) {
	const places = [...new Set(body.sets.filter((set) => !set.removed && set.readings.length).map((set) => (set.place === "bench" ? "bench" : "car")))];
	return [body.title || "readings", body.date, places.join(" and ")].filter(Boolean).join(", ");
}

/** @param {Case["earlier"][0]} curve */
const earlierName = ({ visit, set }) => `earlier, ${visit.body.date}, ${set.place === "bench" ? "bench" : "car"}, ${complete(set).length} readings`;

/** @param {Judgement} judgement @param {import("../elements/curve-plate.js").PlateInput[]} figures */
function reasons(judgement, figures) {
	if (!judgement.findings.length) return null;
	const numbered = new Set(figures.flatMap((figure) => (figure.callouts ?? []).map((callout) => callout.number)));
	return h("section", { "aria-labelledby": "findings-title" }, h("h2", { id: "findings-title" }, "What is found"), findings(judgement.findings, numbered));
}

/** @param {Judgement} judgement */
const isUndecided = (judgement) => (judgement.explanations ?? []).length > 1;

/** @param {Judgement} judgement @param {string} carId */
function decide(judgement, carId) {
	return isUndecided(judgement) ? nextLink(address("car", carId, "readings"), "Enter the reading that decides") : null;
}

/** @param {Judgement} judgement @param {Case} given */
function everyReading(judgement, given) {
	const counts = /** @type {const} */ (["pass", "watch", "fail", "unknown"])
		.map((verdict) => [judgement.points.filter((point) => point.verdict === verdict).length, verdict]).filter(([n]) => n);
	if (!counts.length) return null;
	return h("section", { "aria-labelledby": "readings-title" },
		h("h2", { id: "readings-title" }, "Every reading"),
		h("details", { class: "every-reading" },
			h("summary", null, `In band: ${readingsInBand(judgement.counts)}. As read: ${counts.map(([n, verdict]) => `${n} ${verdict}`).join(", ")}`),
			readingTables(judgement, given.sets)));
}

/** @param {MendOption} option @param {{carId: string, go: (hash: string) => void}} how */
function tryMend(option, { carId, go }) {
	go(address("car", carId, "what-if", toAddress(option.change)));
}
