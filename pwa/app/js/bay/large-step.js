// A step in type that reads at two metres: one thing a screen, first the
// cautions, then the action with its figure, then what is asked, one by one.

import { fill, h } from "../kit/dom.js";
import { goesOnLive, objection } from "./procedure-run.js";
import { choose } from "../kit/settings.js";
import { cautions } from "../safety/cautions.js";
import { deferral } from "../kit/caution.js";
import { stepClock } from "./hold-clock.js";
import { liveIgnition } from "./live-ignition.js";
import { mark, verdictWord } from "../kit/mark.js";
import { blockedBox, pageAddress } from "./step-way.js";
import { speak } from "../kit/spoken.js";
import { engineWords, great, unbroken } from "./step-view.js";
import { inEnglish } from "../kit/words.js";

/**
 * @typedef {object} Runner what runs the procedure, as a large step needs it
 * @property {HTMLElement} root @property {PageContext} ctx @property {Procedure} procedure @property {Run} run
 * @property {Doc<Car>} car @property {ProcedureStep[]} steps @property {number} at @property {ProcedureStep} step
 * @property {HTMLElement} problemElement @property {HTMLElement} verdictElement
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
 * @property {() => Promise<void>} openReadings
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
		if (screens[at].kind === "action" && runner.blocked()) return draw();
		const { ask } = screens[at];
		const bad = ask ? objection({ ...runner.step, asks: [ask] }, runner.run.answers) : null;
		if (bad) return runner.refuse(bad);
		if (at < screens.length - 1) return go(at + 1);
		runner.next();
	};
	const back = () => (at > 0 ? go(at - 1) : void runner.back());
	const draw = () => {
		const stop = runner.blocked();
		const isAction = screens[at].kind === "action";
		fill(
			root,
			head(runner),
			stop && isAction ? blockedBox(runner.car, stop, draw) : screens[at].make(next),
			screens[at].kind === "figure"
				? null
				: h(
						"p",
						{ class: "large-hint" },
						stop && isAction
							? "Put it right first"
							: screens[at].kind === "ask"
								? "Choose, then tap beside it"
								: "Tap anywhere for next",
						mark("next"),
					),
		);
		screens[at].shown?.();
	};
	fill(
		runner.root,
		root,
		h(
			"div",
			{ class: "large-foot" },
			h(
				"button",
				{ type: "button", class: "button", on: { click: back } },
				mark("back"),
				h("span", null, "Back"),
			),
			h(
				"button",
				{
					type: "button",
					class: "button",
					on: {
						click: () => {
							choose("view", "");
							runner.draw();
						},
					},
				},
				"Ordinary type",
			),
		),
	);
	draw();
	return { next, back };
}

/** @param {Runner} runner */
function head({ at, steps, step }) {
	return h(
		"p",
		{ class: "large-place" },
		h("span", { class: "figures" }, `${at + 1}/${steps.length}`),
		` ${engineWords[step.engine]}`,
	);
}

/**
 * @param {Runner} runner
 * @returns {{kind: "caution" | "action" | "text" | "figure" | "ask" | "verdict", make: (next: () => void) =>
 *   HTMLElement, shown?: () => void, ask?: Ask}[]}
 */
function screensOf(runner) {
	const { step } = runner;
	const all = cautions();
	const lines = (step.cautions ?? []).map((id) => all[id]).filter(Boolean);
	return [
		...inScreens(lines).map((part, i, all) => ({
			kind: /** @type {const} */ ("caution"),
			make: () => cautionScreen(part, i, all.length),
		})),
		{ kind: /** @type {const} */ ("action"), make: () => action(runner) },
		...(hasRoomForText(step)
			? []
			: [{ kind: /** @type {const} */ ("text"), make: () => h("div", { class: "large-action" }, textOf(step)) }]),
		...(step.asks ?? []).map((one) => {
			/** @type {ReturnType<Runner["entry"]> | null} */
			let entry = null;
			return {
				ask: one,
				kind:
					one.kind === "choice" || one.kind === "text"
						? /** @type {const} */ ("ask")
						: /** @type {const} */ ("figure"), // the keypad has its own "next"
				make: (/** @type {() => void} */ next) => {
					entry = runner.entry([one], next);
					return h("div", { class: "large-ask" }, entry.element, runner.ear([one]), runner.problemElement);
				},
				shown: () => {
					entry?.aimFirst();
					speak(one.label);
				},
			};
		}),
		...(step.judge && step.asks
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

const room = 230; // characters of caution that one screen of 390 by 844 px holds in this type, counted on the screen

/**
 * inScreens deals the lines of a caution out, as many to a screen as it holds.
 * @param {string[]} lines
 * @returns {string[][]}
 */
function inScreens(lines) {
	/** @type {string[][]} */
	const screens = [];
	let left = 0;
	for (const [i, line] of lines.entries()) {
		const length = line.length + (i === lines.length - 1 ? deferral.length : 0);
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
 * hasRoomForText says whether a step's text stands on the screen of its action: heights in px as they come out in this
 * type at 390 by 844.
 * @param {ProcedureStep} step
 */
function hasRoomForText(step) {
	const { title, text = [], figure, page, readings } = step;
	const lines = (/** @type {string} */ line, /** @type {number} */ letters) => Math.ceil(line.length / letters);
	const height =
		44 * lines(title, 15) +
		(figure ? 190 : 0) +
		(page || readings ? 80 : 0) +
		(goesOnLive(step) ? 150 : 0) +
		text.reduce((sum, line) => sum + 31 * lines(line, 27) + 10, 0);
	return text.length === 0 || height <= 530;
}

/** @param {Runner} runner */
async function tellVerdict(runner) {
	const outcome = await runner.judgeNow();
	if (outcome) speak(`${verdictWord(outcome.verdict)}. ${inEnglish(outcome.text)}`);
}

/** @param {string[]} lines @param {number} at @param {number} count */
function cautionScreen(lines, at, count) {
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
		at === count - 1 ? h("p", { class: "note" }, deferral) : null,
	);
}

/** @param {Runner} runner */
function action(runner) {
	const { step, car, ctx } = runner;
	const figureRoom = h("div", { class: "large-figure" });
	if (step.figure) runner.figure().then((figure) => fill(figureRoom, great(figure)));
	return h(
		"div",
		{ class: "large-action" },
		h("h2", { class: "step-title" }, unbroken(step.title)),
		figureRoom,
		hasRoomForText(step) ? textOf(step) : null,
		liveIgnition(car, step, runner.procedure.title, ctx.signal),
		stepClock(step, ctx.signal),
		step.readings
			? h(
					"button",
					{ type: "button", class: "button", on: { click: () => runner.openReadings() } },
					"Take the readings",
				)
			: null,
		step.page ? h("a", { class: "button", href: pageAddress(car, step.page.name) }, step.page.label) : null,
		step.judge && !step.asks ? runner.verdictElement : null,
	);
}
