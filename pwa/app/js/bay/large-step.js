// A step in type that reads at two metres: first the cautions that are new in
// this run, then the action with its figure and what is asked, one by one. What
// explains it is a tap aside.

import { fill, h } from "../kit/dom.js";
import { goesOnLive, hasFigures, objection } from "./procedure-run.js";
import { choose } from "../kit/settings.js";
import { deferral } from "../kit/caution.js";
import { stepClock } from "./hold-clock.js";
import { liveIgnition } from "./live-ignition.js";
import { button } from "../kit/field.js";
import { mark, verdictWord } from "../kit/mark.js";
import { pageAddress } from "./step-way.js";
import { blockedBox } from "../safety/restore-list.js";
import { speak } from "../kit/spoken.js";
import { beginsRun, lineOf, openCautions, textsOf } from "./step-cautions.js";
import { engineWords, great, stepTitle } from "./step-view.js";
import { inEnglish } from "../kit/words.js";

/**
 * @typedef {object} Runner what runs the procedure, as a large step needs it
 * @property {HTMLElement} root @property {PageContext} ctx @property {Procedure} procedure @property {Run} run
 * @property {Doc<Car>} car @property {ProcedureStep[]} steps @property {number} at @property {ProcedureStep} step
 * @property {Outcome | null} outcome @property {HTMLElement} problemElement @property {HTMLElement} verdictElement
 * @property {() => ReturnType<typeof import("./procedure-run.js").inTheWay>} blocked what stands in the way of this
 *   step, or null
 * @property {() => Promise<Outcome | null>} judgeNow
 * @property {() => Promise<import("./procedure-figures.js").Figure | null>} figure
 * @property {(asks?: Ask[], onDone?: () => void) => ReturnType<typeof import("./figure-entry.js").figureEntry>} entry
 * @property {(asks?: Ask[]) => HTMLElement | null} ear
 * @property {(bad: import("./procedure-run.js").Objection) => void} refuse
 * @property {() => void} draw
 * @property {() => Promise<void>} next
 * @property {() => Promise<void>} back
 * @property {() => Promise<void>} openReadings @property {boolean} isLast
 * @property {() => boolean} readsFirst @property {() => void} begins
 */

/**
 * largeStep draws the first screen of a step and gives what a tap does.
 * @param {Runner} runner
 */
export function largeStep(runner) {
	const screens = screensOf(runner);
	let at = 0;
	const root = h("div", { class: "large" });
	const go = (/** @type {number} */ to) => {
		at = to;
		draw();
	};
	const next = () => {
		if (isText) return show(false);
		if (isStep(screens[at]) && runner.blocked()) return draw();
		const { ask } = screens[at];
		const bad = ask ? objection({ ...runner.step, asks: [ask] }, runner.run.answers) : null;
		if (bad) return runner.refuse(bad);
		const following = screens[at + 1];
		// what is judged elsewhere may not be judged yet
		if (following && (following.kind !== "verdict" || runner.step.asks || runner.outcome)) return go(at + 1);
		runner.next();
	};
	const back = () => (isText ? show(false) : at > 0 ? go(at - 1) : void runner.back());
	let isText = false; // what explains the step is looked at
	const show = (/** @type {boolean} */ wanted) => {
		isText = wanted;
		draw();
	};
	const draw = () => {
		const screen = screens[at];
		const stop = isStep(screen) ? runner.blocked() : null;
		fill(
			root,
			head(runner),
			isText ? h("div", { class: "large-action" }, textOf(runner.step)) : null,
			!isText && stop ? blockedBox(runner.car, stop, draw) : null,
			!isText && !stop ? screen.make(next) : null,
			screen.kind === "figure" && !isText && !stop ? null : hint(stop ? "stop" : isText ? "text" : screen.kind),
		);
		fill(foot, footOf(runner, back, isStep(screen) && !isText && !stop && hasMore(runner.step) ? show : null));
		if (!isText && !stop) screen.shown?.();
	};
	const foot = h("div", { class: "large-foot" });
	fill(runner.root, root, foot);
	draw();
	return { next, back, redraw: draw };
}

/** @typedef {{kind: "caution" | "action" | "figure" | "ask" | "verdict", make: (next: () => void) => HTMLElement,
 *   shown?: () => void, ask?: Ask}} Screen */

/** Whether the step itself is done on a screen. @param {Screen} screen */
const isStep = ({ kind }) => kind === "action" || kind === "ask" || kind === "figure";

/** @param {string} kind */
function hint(kind) {
	const words = {
		stop: "Put it right first",
		ask: "Choose, then tap beside it",
		text: "Tap anywhere to go back to the step",
	}[kind];
	return h("p", { class: "large-hint" }, words ?? "Tap anywhere for next", mark(kind === "text" ? "back" : "next"));
}

/**
 * @param {Runner} runner @param {() => void} back
 * @param {((isText: boolean) => void) | null} more where there is more to say than has room
 */
const footOf = (runner, back, more) => [
	h("button", { type: "button", class: "button", on: { click: back } }, mark("back"), h("span", null, "Back")),
	more ? button("More", () => more(true)) : null,
	button("Ordinary type", () => {
		choose("view", "");
		runner.draw();
	}),
];

/** @param {Runner} runner */
function head({ at, steps, step }) {
	return h(
		"p",
		{ class: "large-place" },
		h("span", { class: "figures" }, `${at + 1}/${steps.length}`),
		` ${engineWords[step.engine]}`,
	);
}

/** @param {Runner} runner @returns {Screen[]} */
function screensOf(runner) {
	const { step, run } = runner;
	const begins = beginsRun(step, run);
	const asks = step.asks ?? [];
	// with the ignition on there is no room for the keypad beside what is said of it
	const isAlone = asks.length === 0 || (goesOnLive(step) && hasFigures(step));
	return [
		...inScreens(textsOf(openCautions(step, run)), begins).map((part, i, all) => ({
			kind: /** @type {const} */ ("caution"),
			make: () => cautionScreen(part, i, all.length, begins),
		})),
		...(isAlone ? [{ kind: /** @type {const} */ ("action"), make: () => action(runner, null) }] : []),
		...asks.map((one) => askScreen(runner, one)),
		...(step.judge
			? [
					{
						kind: /** @type {const} */ ("verdict"),
						make: () => h("div", { class: "large-action" }, runner.verdictElement),
						shown: () => void tellVerdict(runner),
					},
				]
			: []),
	];
}

/** @param {Runner} runner @param {Ask} one @returns {Screen} */
function askScreen(runner, one) {
	/** @type {ReturnType<Runner["entry"]> | null} */
	let entry = null;
	return {
		ask: one,
		kind: one.kind === "choice" || one.kind === "text" ? "ask" : "figure", // the keypad has its own "next"
		make: (next) => {
			entry = runner.entry([one], next);
			return action(
				runner,
				h("div", { class: "large-ask" }, entry.element, runner.problemElement, runner.ear([one])),
			);
		},
		shown: () => {
			entry?.aimFirst();
			speak(one.label);
		},
	};
}

const room = 230; // characters of caution that one screen of 390 by 844 px holds in this type, counted on the screen

/**
 * inScreens deals the lines of a caution out, as many to a screen as it holds.
 * @param {string[]} lines @param {boolean} begins whether the run begins here
 * @returns {string[][]}
 */
function inScreens(lines, begins) {
	/** @type {string[][]} */
	const screens = [];
	let left = 0;
	for (const [i, line] of lines.entries()) {
		const length = line.length + (begins && i === lines.length - 1 ? deferral.length : 0);
		if (length > left || screens.length === 0) {
			screens.push([]);
			left = room;
		}
		screens.at(-1)?.push(line);
		left -= length;
	}
	return screens;
}

/** @param {ProcedureStep} step */
const textOf = (step) => (step.text ?? []).map((line) => h("p", { class: "large-text" }, line));

/**
 * hasMore says whether a step's text has no room on the screen of its action: heights in px as they come out in this
 * type at 390 by 844.
 * @param {ProcedureStep} step
 */
function hasMore(step) {
	const { title, text = [], figure, page, readings, asks = [] } = step;
	if (text.length === 0) return false;
	const lines = (/** @type {string} */ line, /** @type {number} */ letters) => Math.ceil(line.length / letters);
	const height =
		44 * lines(title, 15) +
		(figure ? 190 : 0) +
		(page || readings ? 80 : 0) +
		(goesOnLive(step) ? 150 : 0) +
		text.reduce((sum, line) => sum + 31 * lines(line, 27) + 10, 0);
	return asks.length > 0 || height > 440;
}

/** @param {Runner} runner */
async function tellVerdict(runner) {
	const outcome = await runner.judgeNow();
	if (outcome) speak(`${verdictWord(outcome.verdict)}. ${inEnglish(outcome.text)}`);
}

/**
 * @param {string[]} lines @param {number} at @param {number} count
 * @param {boolean} begins whether the run begins here
 */
function cautionScreen(lines, at, count, begins) {
	return h(
		"aside",
		{ class: "caution large-caution", role: "note", "aria-label": "Caution before this step" },
		h(
			"p",
			{ class: "caution-head" },
			mark("caution"),
			h("strong", null, "Caution"),
			count > 1 ? h("span", { class: "figures" }, ` ${at + 1} of ${count}`) : null,
		),
		h(
			"ul",
			null,
			lines.map((line) => h("li", null, line)),
		),
		begins && at === count - 1 ? h("p", { class: "note" }, deferral) : null,
	);
}

/** @param {Runner} runner @param {HTMLElement | null} asked */
function action(runner, asked) {
	const { step, car, ctx, run } = runner;
	const figureRoom = h("div", { class: "large-figure" });
	if (step.figure) runner.figure().then((figure) => fill(figureRoom, great(figure)));
	return h(
		"div",
		{ class: asked ? "large-action is-asking" : "large-action" },
		lineOf((step.cautions ?? []).filter((id) => asked || !openCautions(step, run).includes(id))),
		stepTitle(step),
		step.figure ? figureRoom : null,
		hasMore(step) ? null : textOf(step),
		asked && hasFigures(step) ? null : liveIgnition(car, step, runner.procedure.title, ctx.signal),
		stepClock(step, ctx.signal),
		asked,
		step.readings ? button("Take the readings", () => runner.openReadings()) : null,
		step.page ? button(step.page.label, pageAddress(car, step.page.name)) : null,
	);
}
