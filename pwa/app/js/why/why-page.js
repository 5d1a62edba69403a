// Show why: one cycle of this car's own engine, turned by hand or slowly by
// itself, from the points to the fire; and chapters that each tell one idea.

import { onReady } from "../engine/client.js";
import { ask } from "../engine/ask.js";
import { followGarage } from "../kept/follow.js";
import { address } from "../kit/address.js";
import { fill, h } from "../kit/dom.js";
import { button, problemLine } from "../kit/field.js";
import { working } from "../kit/finding/working.js";
import { firstAnswer, patient } from "../kit/first-answer.js";
import { fold } from "../kit/fold.js";
import { latestOnly } from "../kit/latest-only.js";
import { inEnglish } from "../kit/words.js";
import { chapterPart, chapterList } from "./chapter-part.js";
import { chapters } from "./chapters.js";
import { crankStepper, jumpButtons, player, speedStepper } from "./controls.js";
import { eventOf, momentWords } from "./moment.js";
import { knownOf, missingOf } from "./turn-input.js";
import { notToScale, whyFigure } from "./why-figure.js";

/** @typedef {import("./moment.js").Turn} Turn */
/** @typedef {import("./turn-input.js").Known} Known */
/** @typedef {import("./turn-input.js").State} State */

const usual = { rpm: 1500, stop: "spark" };

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	const carId = ctx.params.car;
	const number = Number(ctx.params.chapter);
	const chapter = chapters[number - 1] ?? null;
	/** @type {State} */
	const state = {
		rpm: (chapter ?? usual).rpm,
		deg: 0,
		spark: null,
		dwell: null,
		vacuumKPa: chapter?.knob === "vacuum" ? 0 : null,
		shift: 0,
		turn: null,
		known: null,
	};
	const sheet = sheetOf(state, chapter ? number : 0, ctx, () => work());
	fill(root, sheet.parts);

	let isFirst = true;
	const work = latestOnly(
		async () => {
			const known = await knownOf(carId);
			const { turn, shift } = await turnOf(known, state);
			if (ctx.signal.aborted) return;
			Object.assign(state, { known, turn, shift });
			if (isFirst) state.deg = eventOf(turn, (chapter ?? usual).stop) ?? eventOf(turn, "spark") ?? 0;
			isFirst = false;
			sheet.draw();
		},
		(problem) => {
			if (!ctx.signal.aborted) sheet.fails(/** @type {Problem} */ (problem));
		},
	);
	ctx.signal.addEventListener("abort", onReady(work));
	await firstAnswer(followGarage(ctx.signal, work), patient);
}

/**
 * The turn that is looked at: this car's, with what was moved in its place.
 * @param {Known} known @param {State} state @returns {Promise<{turn: Turn, shift: number}>}
 */
async function turnOf({ input, dwell, capsule }, { rpm, spark, dwell: moved, vacuumKPa }) {
	const light = vacuumKPa === null ? {} : { vacuumKPa, ...(capsule ? { capsule } : {}) };
	const as = { ...input, ...light, engineRPM: rpm };
	if (spark !== null) return { turn: await ask("time.turn", { ...as, sparkCrankDeg: spark }), shift: 0 };
	if (moved === null || dwell === null) return { turn: await ask("time.turn", as), shift: 0 };
	const ratio = input.driveRatio === undefined ? {} : { driveRatio: input.driveRatio };
	const [found, { timingShiftCrankDeg: shift }] = await Promise.all([
		ask("time.turn", as),
		ask("points.shift", { dwellFromDistDeg: dwell, dwellToDistDeg: moved, ...ratio }),
	]);
	const at = found.timing ? { sparkCrankDeg: found.timing.sparkCrankDeg + shift } : {};
	return { turn: await ask("time.turn", { ...as, ...at, points: { dwellDistDeg: moved } }), shift };
}

/**
 * The parts of the page and what draws them.
 * @param {State} state @param {number} number of the chapter, or 0 @param {PageContext} ctx @param {() => void} work
 */
function sheetOf(state, number, ctx, work) {
	const carId = ctx.params.car;
	const figure = whyFigure();
	const said = h("p", { class: "why-said", role: "status" }, "Working it out …");
	const [missing, below] = [h("div", { class: "why-missing" }), h("div", { class: "why-below" })];
	const part = chapterPart(state, number, work);

	const { turnTo, crank, jump, play } = turning(state, { figure, said, check: part.check, signal: ctx.signal });
	const speed = speedStepper(state.rpm, (rpm) => {
		state.rpm = rpm;
		work();
	});
	return {
		parts: [
			part.head,
			figure.element,
			said,
			missing,
			h(
				"div",
				{ class: "why-controls" },
				part.knob === "speed" ? [speed.element, part.asks] : part.asks,
				crank.element,
				jump.element,
				play.element,
				part.knob === "speed" ? null : speed.element,
			),
			h("div", { class: "why-list" }, chapterList(carId, number)),
			below,
		],
		draw() {
			const { turn, known } = state;
			if (!turn || !known) return;
			figure.draw(turn, known.rotation);
			jump.know(turn);
			crank.set(state.deg);
			part.draw();
			turnTo(state.deg);
			fill(missing, missingLine(turn, known, carId, state.vacuumKPa !== null));
			fill(below, assumedLines(turn), working("this turn", turn.working, turn.sources));
		},
		/** @param {Problem} problem */
		fails(problem) {
			fill(said);
			figure.element.removeAttribute("aria-busy");
			fill(missing, problemLine(problem), button("Look at the facts", address("car", carId, "facts")));
		},
	};
}

/**
 * What turns the crank: by hand, to what happens, or slowly by itself.
 * @param {State} state
 * @param {{figure: ReturnType<typeof whyFigure>, said: HTMLElement, check: () => void, signal: AbortSignal}} of
 */
function turning(state, { figure, said, check, signal }) {
	/** Shows an angle. @param {number} deg */
	const turnTo = (deg) => {
		state.deg = deg;
		figure.move(deg);
		if (state.turn) fill(said, inEnglish(momentWords(state.turn, deg)));
		check();
	};
	const crank = crankStepper(state.deg, (deg) => {
		play.stop();
		turnTo(deg);
	});
	const jump = jumpButtons((deg) => {
		play.stop();
		crank.set(deg);
		turnTo(deg);
	});
	const play = player({
		deg: () => state.deg,
		turn: slowly(
			(deg) => {
				state.deg = deg;
				figure.move(deg);
			},
			(deg) => {
				crank.set(deg);
				turnTo(deg);
			},
		),
		told: (isPlaying) => {
			said.setAttribute("aria-live", isPlaying ? "off" : "polite");
			if (isPlaying) return;
			crank.set(state.deg);
			turnTo(state.deg);
		},
		signal,
	});
	return { turnTo, crank, jump, play };
}

const between = 1000; // ms between two words while it plays: figures that change faster only flicker

/**
 * Draws every picture, and says what stands there now and then.
 * @param {(deg: number) => void} draw @param {(deg: number) => void} say
 */
function slowly(draw, say) {
	let last = 0;
	return (/** @type {number} */ deg) => {
		draw(deg);
		if (performance.now() - last < between) return;
		last = performance.now();
		say(deg);
	};
}

/**
 * What is not drawn, and where it is asked.
 * @param {Turn} turn @param {Known} known @param {string} carId @param {boolean} isLight
 */
function missingLine(turn, known, carId, isLight) {
	const { parts, wants, pages } = missingOf(turn, known, isLight);
	const lines = [
		known.isElectronic ? "An electronic trigger sets its own charge: points and current are not drawn." : "",
		parts.length ? `Not drawn: ${parts.join(", ")}.${wants.length ? ` Asked for: ${wants.join(", ")}.` : ""}` : "",
	].filter(Boolean);
	return [
		lines.length ? h("p", { class: "note" }, inEnglish(lines.join(" "))) : null,
		pages.map(({ page, label }) => button(label, address("car", carId, page))),
	];
}

/** @param {Turn} turn */
const assumedLines = ({ assumed }) =>
	fold(
		"why/assumed",
		{ title: "What this picture stands on", answer: `${assumed.length} taken that nobody said` },
		h(
			"p",
			null,
			"Full throttle unless the vacuum was moved, the middle of the book’s curve, cylinders that fire evenly.",
		),
		h("p", null, notToScale),
		h(
			"ul",
			null,
			assumed.map((line) => h("li", null, inEnglish(line))),
		),
	);
