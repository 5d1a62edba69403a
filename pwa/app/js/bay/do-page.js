// Guided work: the list of what can be done, one procedure before it begins,
// or the step it stands at.

import { keepRun, freshRun, runOf, stepsFor } from "./procedure-run.js";
import { standing } from "../safety/standing.js";
import { deferral, trouble } from "../kit/caution.js";
import { button, nextButton } from "../kit/field.js";
import { mark } from "../kit/mark.js";
import { ProcedureRunner } from "./procedure-runner.js";
import { engineWords } from "./step-view.js";
import { fill, h } from "../kit/dom.js";
import { fold } from "../kit/fold.js";
import { firstAnswer } from "../kit/first-answer.js";
import { carState } from "../state/car-state.js";
import { address } from "../kit/address.js";
import { factText } from "../record/known.js";
import { procedureOf, procedures } from "./procedures/index.js";

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	const car = /** @type {Doc<Car>} */ (ctx.car);
	const { procedure: name, step } = ctx.params;
	if (!name) return showAll(root, car);
	const procedure = procedureOf(name);
	if (!procedure)
		return fill(
			root,
			trouble({ title: "There is no such work", do: "Choose one from the list." }),
			button("All guided work", address("car", car.id, "do")),
		);
	const kept = await runOf(car.id, name);
	/** @type {import("../state/car-state.js").CarState | null} */
	let state = null;
	if (!step || !kept) await firstAnswer(carState(car).then((found) => (state = found)));
	if (!step) return showBefore(root, ctx, procedure, kept, state);
	const run = kept ?? prefilled(ctx, procedure, state);
	run.step = step;
	await keepRun(car.id, name, run);
	await firstAnswer(new ProcedureRunner(root, ctx, procedure, run).begin());
}

/** @param {HTMLElement} root @param {Doc<Car>} car */
async function showAll(root, car) {
	const list = procedures();
	const runs = await Promise.all(list.map(({ name }) => runOf(car.id, name)));
	const last = runs.reduce((found, run) => (run && (!found || run.begun > found.begun) ? run : found), null);
	const begun = last && list[runs.indexOf(last)];
	fill(
		root,
		h("p", { class: "lead" }, "Choose the work. One step at a time, read aloud if you like."),
		begun
			? nextButton(`Go on: ${begun.title.replace(": ", ", ")}`, address("car", car.id, "do", begun.name))
			: null,
		h(
			"ol",
			{ class: "chain", role: "list" },
			list.map((procedure, i) => {
				const run = runs[i];
				const at = run ? stepsFor(procedure, run.answers).findIndex(({ id }) => id === run.step) : -1;
				return h(
					"li",
					null,
					h(
						"a",
						{ href: address("car", car.id, "do", procedure.name) },
						h(
							"span",
							{ class: "chain-text" },
							h("strong", null, procedure.title),
							h("span", { class: "note" }, at >= 0 ? `Begun: stands at step ${at + 1}` : procedure.why),
						),
						mark(at >= 0 ? "partly" : "next"),
					),
				);
			}),
		),
	);
}

/**
 * @param {HTMLElement} root @param {PageContext} ctx @param {Procedure} procedure @param {Run | null} run
 * @param {import("../state/car-state.js").CarState | null} state how the car stands
 */
function showBefore(root, ctx, procedure, run, state) {
	const car = /** @type {Doc<Car>} */ (ctx.car);
	const steps = stepsFor(procedure, (run ?? prefilled(ctx, procedure, state)).answers);
	const at = run ? steps.findIndex(({ id }) => id === run.step) : -1;
	const open = (/** @type {string} */ id) => ctx.go(address("car", car.id, "do", procedure.name, id));
	const begin = async () => {
		await keepRun(car.id, procedure.name, prefilled(ctx, procedure, state));
		open(steps[0].id);
	};
	const first = measuresOnly(car, procedure, state);
	const go = first ? button : nextButton;
	fill(
		root,
		h("h2", { class: "step-title" }, procedure.title),
		h("p", { class: "lead" }, procedure.why),
		first,
		at >= 0
			? go(`Go on at step ${at + 1}`, () => open(steps[at].id))
			: go(first ? "Begin: measure only" : "Begin", begin),
		at >= 0 ? button("Start again", begin) : null,
		h(
			"div",
			{ class: "tools-and-state" },
			h(
				"section",
				null,
				h("h3", null, "Tools"),
				h(
					"ul",
					null,
					procedure.tools.map((tool) => h("li", null, tool)),
				),
			),
			h(
				"section",
				null,
				h("h3", null, "Before you begin"),
				h(
					"ul",
					null,
					procedure.before.map((line) => h("li", null, line)),
				),
			),
		),
		standing(car.id).length
			? h("p", { class: "note" }, "Something is still to be put back: see the bar above.")
			: null,
		everyStep(steps, at),
		h("p", { class: "note" }, deferral),
	);
}

/**
 * While the curve fails a turned body would hide it.
 * @param {Doc<Car>} car @param {Procedure} procedure @param {import("../state/car-state.js").CarState | null} state
 */
function measuresOnly(car, procedure, state) {
	if (!state?.curveFails || !procedure.steps.some(moves)) return null;
	return [
		h(
			"p",
			{ class: "boxed" },
			mark("fail"),
			h("strong", null, " The curve fails."),
			" So this work only measures. The steps that turn the distributor are left out.",
		),
		nextButton("See what to do about the curve", address("car", car.id, "verdict")),
	];
}

/** @param {ProcedureStep} step */
const moves = ({ changes }) => changes === "distributor-moved";

/** @param {Procedure["steps"]} steps @param {number} at the one to go on with */
function everyStep(steps, at) {
	return fold(
		"do/steps",
		{ title: "The steps", answer: `${steps.length} of them` },
		h(
			"ol",
			{ class: "step-list", role: "list" },
			steps.map((step, i) =>
				h(
					"li",
					{ "aria-current": i === at ? "step" : null },
					h("span", { class: "chapter figures" }, String(i + 1)),
					h(
						"span",
						null,
						step.title,
						h(
							"small",
							null,
							` ${engineWords[step.engine]}${step.cautions?.length ? ", with cautions" : ""}`,
						),
					),
				),
			),
		),
	);
}

/**
 * What is known already of what a procedure asks stands there as known.
 * @param {PageContext} ctx
 * @param {Procedure} procedure
 * @param {import("../state/car-state.js").CarState | null} state
 */
function prefilled(ctx, procedure, state) {
	const run = freshRun();
	if (state?.curveFails) Object.assign(run.answers, { moves: "no", move: "no" });
	for (const one of procedure.steps.flatMap(({ asks }) => asks ?? [])) {
		if (one.kind !== "choice" || !one.lasting || !one.fact) continue;
		const known = factText(
			{ car: /** @type {Doc<Car>} */ (ctx.car), distributor: ctx.distributor, answers: {} },
			one.fact,
		);
		if (one.options?.some(({ value }) => value === known))
			Object.assign(run.answers, { [one.key]: known, [`${one.key}.known`]: "yes" });
	}
	return run;
}
