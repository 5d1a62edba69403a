// The verdict on a car: the word, the figure, why, the base, the mend, the
// governor and every reading. It follows the garage: change a reading
// anywhere and the verdict changes here.

import { beingWorkedOut, optional, unanswered } from "./awaited.js";
import { engineState, onState } from "../engine/client.js";
import { bookFigure } from "../record/book-band.js";
import { caseOf, earlierKey } from "../record/case.js";
import { toAddress } from "./change.js";
import { garage } from "../kept/garage.js";
import { drafts } from "../kept/drafts.js";
import { besideAccounts, inUnitsOf, isUndecided, readingsToTake } from "./decision.js";
import { leftOut } from "../record/left-out.js";
import { beginReading, setToContinue } from "../record/next-reading.js";
import { idleOf, partsAtHand } from "../record/known.js";
import { ownName, runTitle, runsOf } from "../record/runs.js";
import { complete } from "../record/sheet.js";
import { accountsSideBySide, takeLabel } from "./accounts.js";
import { baseFigures } from "./base-figures.js";
import { firstAnswer } from "../kit/first-answer.js";
import { figuresIn } from "./verdict-figures.js";
import { findings, questions } from "../kit/finding/findings.js";
import { readingsInBand } from "./in-band.js";
import { governorFigures } from "./governor-figures.js";
import { leftOutLines } from "../record/left-out-lines.js";
import { heroWord } from "../kit/finding/hero-word.js";
import { mends, noMendYet } from "./mends.js";
import { stillStarting } from "../kit/finding/not-yet.js";
import { baseUnderFit, figuresOf, mendFigure, ratioOf } from "./from-judgement.js";
import { chosenLine } from "./chosen-line.js";
import { readingTables } from "./reading-table.js";
import { working } from "../kit/finding/working.js";
import { breath } from "../kit/platform.js";
import { fill, h } from "../kit/dom.js";
import { dateWords } from "../kit/format.js";
import { button, nextButton, selectField } from "../kit/field.js";
import { fold, folded } from "../kit/fold.js";
import { inEnglish } from "../kit/words.js";
import { address } from "../kit/address.js";
import { ask } from "../engine/ask.js";
import { followGarage } from "../kept/follow.js";
import { bookMissing, readingsMissing, refused } from "./cannot-judge.js";

/** @typedef {import("../record/case.js").Case} Case */

/**
 * @param {HTMLElement} root
 * @param {PageContext} ctx
 */
export async function show(root, ctx) {
	const carId = ctx.params.car;
	const view = sheetOf(root);
	const state = { turn: 0, drawn: "", wish: await drafts.get(`verdict/${carId}`).catch(() => undefined) };

	let stands = () => {};
	const wordStands = new Promise((done) => (stands = () => done(null)));

	async function update() {
		const turn = ++state.turn;
		const isStale = () => turn !== state.turn || ctx.signal.aborted;
		const given = caseOf(carId, state.wish);
		const left = leftOut(garage.visits({ carId }), carId);
		const what = JSON.stringify([given.spec, given.sets, given.chosen, runsOf(given.visits).map(runTitle), left]);
		if (what === state.drawn) return; // a change elsewhere: what is open here stays open
		state.drawn = "";
		const missing = bookMissing(given, carId) ?? (given.sets.length ? null : readingsMissing(carId));
		if (missing || !given.spec) return view.only(h("div", null, leftOutLines(left), missing));
		try {
			await draw(view, given, { carId, go: ctx.go, isStale, choose, stands });
			if (!isStale()) state.drawn = what;
		} catch (problem) {
			if (!isStale()) view.only(refused(/** @type {Problem} */ (problem), carId));
		}
	}

	/** @param {string} wish */
	function choose(wish) {
		state.wish = wish;
		drafts.put(`verdict/${carId}`, wish).catch(() => {});
		update();
	}

	if (engineState() !== "ready") view.only(stillStarting(engineState(), carId));
	ctx.signal.addEventListener(
		"abort",
		onState(() => update()),
	);
	await firstAnswer(Promise.race([wordStands, followGarage(ctx.signal, update)]));
}

/**
 * The rooms of the page, so that a late answer fills only its own.
 * @param {HTMLElement} root
 */
function sheetOf(root) {
	const names = /** @type {const} */ ([
		"left",
		"chosen",
		"hero",
		"action",
		"plates",
		"findings",
		"base",
		"mend",
		"governor",
		"readings",
	]);
	const rooms = /** @type {Record<typeof names[number], HTMLElement>} */ (
		/** @type {unknown} */ (Object.fromEntries(names.map((name) => [name, h("div", { class: `room-${name}` })])))
	);
	const sheet = h("div", null, Object.values(rooms));
	const figures = figuresIn(rooms.plates);
	return {
		rooms,
		/** Shows one thing instead of the verdict. @param {HTMLElement | null} what */
		only(what) {
			fill(root, what);
			figures.forget();
		},
		/** Says that the verdict is worked out, where nothing stands yet. */
		begin() {
			if (!root.firstChild) fill(root, beingWorkedOut("The verdict"));
		},
		open() {
			if (sheet.parentNode !== root) fill(root, sheet);
		},
		figures: figures.draw,
	};
}

/**
 * @typedef {object} Doing
 * @property {string} carId @property {(hash: string) => void} go @property {() => boolean} isStale
 * @property {(id: string) => void} choose
 * @property {() => void} stands called once the word and the action are on the page
 */

/** What only a car can answer: a distributor on the bench has no base. */
const ofCar = /^The base has not been proved/;

/**
 * @param {ReturnType<typeof sheetOf>} view @param {Case} given
 * @param {Doing} how
 */
async function draw(view, given, how) {
	const spec = /** @type {Spec} */ (given.spec);
	const input = { spec, readings: given.sets };
	const top = 1.02 * fastestRead(given.sets, ratioOf(spec));
	view.begin();
	const books = Promise.all([bookFigure(spec, "total", top), bookFigure(spec, "advance", top)]);
	books.catch(() => {}); // said below, once the word stands
	const judgement = /** @type {Judgement} */ (await ask("advance.judge", input));
	if (how.isStale()) return;
	const isOpen = isUndecided(judgement);
	const told = besideAccounts(judgement);
	const isUnit = garage.isUnit(how.carId);
	const [next, way] = nextReadings(judgement, given, how);
	const accounts = accountsSideBySide(judgement, next, way);
	const { rooms } = view;
	view.open();
	fill(rooms.chosen, chosenLine(how.carId));
	fill(rooms.left, leftOutLines(leftOut(garage.visits({ carId: how.carId }), how.carId)));
	fill(
		rooms.hero,
		hero(judgement),
		questions(isUnit ? told.ask.filter((question) => !ofCar.test(question)) : told.ask),
	);
	const isWithoutMend = (isOpen && judgement.accounts?.[0].id !== "sound") || judgement.verdict === "unknown";
	fill(rooms.action, isWithoutMend ? firstAction(judgement, next, way, how) : null);
	rooms.plates.setAttribute("aria-busy", "true");
	how.stands();
	const [total, advance] = await books;
	if (how.isStale()) return;
	const known = { spec, sets: given.sets, judgement: { ...judgement, findings: told.findings }, total, advance };
	const figures = figuresOf(known, null);
	await view.figures(figures);
	rooms.plates.removeAttribute("aria-busy");
	await breath(); // what is below the first screen comes after it
	if (how.isStale()) return;
	fill(rooms.findings, reasons(told.findings, figures), accounts);
	fill(
		rooms.base,
		judgement.baseCrankDeg === null && spec.baseCrankDeg === undefined
			? null
			: folded("verdict/base", baseFigures(judgement, spec)),
	);
	fill(rooms.readings, everyReading(judgement, given), about(judgement, given, how.choose), whyLink(how.carId));
	await breath();
	if (how.isStale()) return;
	fill(rooms.governor, folded("verdict/governor", beingWorkedOut("The governor behind these readings")));
	// never the one of readings judged before
	const late = isWithoutMend ? noMendYet(isOpen) : beingWorkedOut("The repair", "mend-title");
	fill(rooms.mend, folded("verdict/mend", late));
	const fit = await optional(ask("advance.fit", input));
	await breath();
	if (how.isStale()) return;
	await view.figures(figuresOf(known, fit.answer));
	if (how.isStale()) return;
	const governor = fit.answer
		? governorFigures(fit.answer, ratioOf(spec))
		: unanswered("The governor behind these readings", fit.problem);
	fill(rooms.governor, folded("verdict/governor", governor));
	if (!isWithoutMend) await drawMend(rooms, known, fit.answer, how, () => firstAction(judgement, next, way, how));
}

/**
 * @param {ReturnType<typeof sheetOf>["rooms"]} rooms @param {import("./from-judgement.js").Known} known
 * @param {Fit | null} fit
 * @param {Parameters<typeof draw>[2]} how @param {() => HTMLElement} instead what is to be done where there is no mend
 */
async function drawMend(rooms, known, fit, how, instead) {
	const { spec, sets, judgement } = known;
	const unit = garage.get("distributor", garage.get("car", how.carId)?.body.distributorId ?? "");
	const allow = partsAtHand(unit?.body.facts);
	const mend = await optional(ask("advance.prescribe", { spec, readings: sets, allow }));
	if (how.isStale()) return;
	const section = mend.answer
		? mends(
				mend.answer,
				spec.baseCrankDeg !== undefined || spec.base === "included",
				(option) => tryMend(option, how),
				(option) => mendFigure(known, fit, baseUnderFit(fit, judgement.baseCrankDeg), option),
			)
		: unanswered("The repair", mend.problem);
	const repair = folded("verdict/mend", section, mend.answer?.summary);
	fill(rooms.mend, repair);
	fill(rooms.action, mend.answer?.options.length ? toTheMend(repair) : instead());
}

/** A distributor by itself turns no crank. @param {string} carId */
const whyLink = (carId) => (garage.isUnit(carId) ? null : button("Show why", address("car", carId, "why")));

/**
 * firstAction is the one thing to do where there is no mend to go to.
 * @param {Judgement} judgement @param {NextReading[]} readings @param {import("./accounts.js").Way} way
 * @param {{carId: string}} how
 */
function firstAction({ verdict }, [next], { take }, { carId }) {
	if (verdict === "pass") return nextButton("Next: the setup card", address("car", carId, "card"));
	if (next && take) return nextButton(takeLabel(next), () => take(next));
	return nextButton("Back to the readings", address("car", carId, "readings"));
}

/** @param {HTMLElement} mend */
function toTheMend(mend) {
	return nextButton("What to do about it", () => {
		if (mend instanceof HTMLDetailsElement) mend.open = true;
		mend.scrollIntoView();
		/** @type {HTMLElement | null} */ (mend.querySelector("summary"))?.focus({ preventScroll: true });
	});
}

/**
 * The highest speed read, engine rpm: the figures reach it.
 * @param {readonly ReadingSet[]} sets
 * @param {number} ratio
 */
const fastestRead = (sets, ratio) =>
	Math.max(
		0,
		...sets.flatMap(({ points, speedUnit }) =>
			points.map(({ rpm }) => (speedUnit === "engine" ? rpm : rpm * ratio)),
		),
	);

/** @param {Judgement} judgement */
function hero(judgement) {
	return h(
		"section",
		{ class: `hero is-${judgement.verdict}`, "aria-labelledby": "hero-word" },
		heroWord("The curve", judgement.verdict),
		h("p", { class: "hero-summary" }, inEnglish(judgement.summary)),
	);
}

/**
 * What the verdict stands on: which readings, and how it was worked out.
 * @param {Judgement} judgement @param {Case} given @param {(wish: string) => void} choose
 */
function about(judgement, given, choose) {
	return fold(
		"verdict/about",
		{ title: "What is judged, and how" },
		judgedVisit(given, choose),
		working("the verdict", judgement.working, judgement.sources),
	);
}

/**
 * Which readings are judged; a choice when there are several.
 * @param {Case} given
 * @param {(wish: string) => void} choose
 */
function judgedVisit({ visits, chosen, earlier }, choose) {
	const runs = runsOf(visits);
	if (visits.length + earlier.length < 2)
		return h("p", { class: "note" }, `Judged: ${visits.map((one) => visitName(one, runs)).join("")}.`);
	return selectField({
		label: "Readings judged",
		value: chosen,
		options: [
			{ value: "", text: "newest bench and car" },
			...visits.map((one) => ({ value: one.id, text: visitName(one, runs) })),
			...earlier.map((one) => ({ value: earlierKey(one), text: earlierName(one, runs) })),
		],
		onChange: choose,
	});
}

/**
 * A day by what was last read on it: its title, or what its newest set tells of.
 * @param {Doc<Visit>} visit @param {import("../record/runs.js").Run[]} runs
 */
function visitName({ id, body }, runs) {
	const mine = runs.filter((run) => run.visit.id === id);
	const last = mine.at(-1);
	const places = [...new Set(mine.map(({ set }) => set.place))];
	return [(last && ownName(last)) || "readings", dateWords(body.date), places.join(" and ")]
		.filter(Boolean)
		.join(", ");
}

/** @param {Case["earlier"][0]} curve @param {import("../record/runs.js").Run[]} runs */
function earlierName({ set }, runs) {
	const run = runs.find((one) => one.set.id === set.id);
	return run ? `${runTitle(run)}, ${complete(set).length} readings` : "";
}

/** @param {Finding[]} list @param {PlateInput[]} figures */
function reasons(list, figures) {
	if (!list.length) return null;
	const numbered = new Set(figures.flatMap((figure) => (figure.callouts ?? []).map((callout) => callout.number)));
	return fold(
		"verdict/findings",
		{ title: "What is found", id: "findings-title", answer: list.map(({ title }) => inEnglish(title)).join("; ") },
		findings(list, numbered),
	);
}

/**
 * The readings that would decide, in the units they will be read in, and the
 * way to entering one. An earlier curve is not read on.
 * @param {Judgement} judgement @param {Case} given @param {{carId: string, go: (hash: string) => void}} how
 * @returns {[NextReading[], import("./accounts.js").Way]}
 */
function nextReadings({ nextReadings: list = [] }, given, { carId, go }) {
	const car = garage.get("car", carId);
	if (!car || !given.spec) return [[], { idle: null, take: null }];
	const isEarlier = given.chosen.includes("/");
	const visits = given.chosen && !isEarlier ? given.visits.filter(({ id }) => id === given.chosen) : given.visits;
	const idle = idleOf({ car, distributor: garage.get("distributor", car.body.distributorId), answers: {} });
	const ratio = ratioOf(given.spec);
	const take = async (/** @type {NextReading} */ next) => {
		const { visit, set } = await beginReading(car, visits, next);
		go(address("car", carId, "readings", visit, set));
	};
	return [
		readingsToTake(list, idle).map((next) =>
			inUnitsOf(next, setToContinue(visits, next.place)?.set ?? null, ratio),
		),
		{ idle, take: isEarlier ? null : take },
	];
}

/** @param {Judgement} judgement @param {Case} given */
function everyReading(judgement, given) {
	const counts = /** @type {const} */ (["pass", "watch", "fail", "unknown"])
		.map((verdict) => [judgement.points.filter((point) => point.verdict === verdict).length, verdict])
		.filter(([n]) => n);
	if (!counts.length) return null;
	return fold(
		"verdict/readings",
		{
			title: "Every reading",
			id: "readings-title",
			answer: `In band: ${readingsInBand(judgement.counts)}. As read: ${counts.map(([n, verdict]) => `${n} ${verdict}`).join(", ")}`,
		},
		readingTables(judgement, given.sets),
	);
}

/** @param {MendOption} option @param {{carId: string, go: (hash: string) => void}} how */
function tryMend(option, { carId, go }) {
	go(address("car", carId, "what-if", toAddress(option.change)));
}
