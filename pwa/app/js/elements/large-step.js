// A step in type that reads at two metres: one thing a screen, first the
// cautions, then the action with its figure, then what is asked, one by one.

import { fill, h } from "../lib/dom.js";
import { choose } from "../settings.js";
import { cautions } from "../procedures/cautions.js";
import { deferral } from "./caution.js";
import { mark } from "./marks.js";
import { blockedBox, holdClock, pageAddress } from "./procedure-runner.js";
import { speak } from "./spoken.js";
import { engineWords, great, unbroken } from "./step-view.js";

/** @typedef {import("./procedure-runner.js").ProcedureRunner} Runner */

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
		if (at < screens.length - 1) return go(at + 1);
		runner.next();
	};
	const back = () => (at > 0 ? go(at - 1) : void runner.back());
	const draw = () => {
		const stop = runner.blocked();
		const isAction = screens[at].kind === "action";
		fill(root, head(runner),
			stop && isAction ? blockedBox(runner.car, stop, draw) : screens[at].make(next),
			h("p", { class: "large-hint" }, stop && isAction ? "Put it right first" : screens[at].kind === "ask" ? "Enter, then tap beside the keys" : "Tap anywhere for next", mark("next")));
		screens[at].shown?.();
	};
	fill(runner.root, root,
		h("div", { class: "large-foot" },
			h("button", { type: "button", class: "button", on: { click: back } }, mark("back"), h("span", null, "Back")),
			h("button", { type: "button", class: "button", on: { click: () => { choose("view", ""); runner.draw(); } } }, "Ordinary type")));
	draw();
	return { next, back };
}

/** @param {Runner} runner */
function head({ at, steps, step }) {
	return h("p", { class: "large-place" }, h("span", { class: "figures" }, `${at + 1}/${steps.length}`), ` ${engineWords[step.engine]}`);
}

/**
 * @param {Runner} runner
 * @returns {{kind: "caution" | "action" | "ask", make: (next: () => void) => HTMLElement, shown?: () => void}[]}
 */
function screensOf(runner) {
	const { step } = runner;
	const all = cautions();
	const lines = (step.cautions ?? []).map((id) => all[id]).filter(Boolean);
	return [
		...(lines.length ? [{ kind: /** @type {const} */ ("caution"), make: () => h("aside", { class: "caution large-caution", role: "note", "aria-label": "Caution before this step" },
			h("p", { class: "caution-head" }, mark("caution"), h("strong", null, "Caution")), h("ul", null, lines.map((line) => h("li", null, line))), h("p", { class: "note" }, deferral)) }] : []),
		{ kind: /** @type {const} */ ("action"), make: () => action(runner) },
		...(step.asks ?? []).map((one) => {
			/** @type {ReturnType<Runner["entry"]> | null} */
			let entry = null;
			return {
				kind: /** @type {const} */ ("ask"),
				make: (/** @type {() => void} */ next) => {
					entry = runner.entry([one], next);
					return h("div", { class: "large-ask" }, entry.element, runner.ear([one]), runner.problemElement, runner.verdictElement);
				},
				shown: () => { entry?.aimFirst(); speak(one.label); },
			};
		}),
	];
}

/** @param {Runner} runner */
function action(runner) {
	const { step, car, ctx } = runner;
	const room = h("div", { class: "large-figure" });
	if (step.figure) runner.figure().then((figure) => fill(room, great(figure)));
	return h("div", { class: "large-action" },
		h("h2", { class: "step-title" }, unbroken(step.title)), room,
		step.holdSeconds ? holdClock(step.holdSeconds, ctx.signal) : null,
		step.readings ? h("button", { type: "button", class: "button", on: { click: () => runner.openReadings() } }, "Take the readings") : null,
		step.page ? h("a", { class: "button", href: pageAddress(car, step.page.name) }, step.page.label) : null,
		step.judge && !step.asks ? runner.verdictElement : null);
}
