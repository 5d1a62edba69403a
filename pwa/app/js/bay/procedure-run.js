// One procedure on one car: which step it stands at, what was answered. Kept
// on the phone at every key, so that it goes on at the same step after
// anything.

import { unusable } from "../record/figure-limits.js";
import { stopped } from "../safety/temporaries.js";
import { drafts } from "../kept/drafts.js";

/** @param {string} carId @param {string} procedure */
const keyOf = (carId, procedure) => `do/${carId}/${procedure}`;

/** @param {string} carId @param {string} procedure @returns {Promise<Run | null>} */
export const runOf = (carId, procedure) => drafts.get(keyOf(carId, procedure));

/** @param {string} carId @param {string} procedure @param {Run | undefined} run */
export const keepRun = (carId, procedure, run) => drafts.put(keyOf(carId, procedure), run);

/** @returns {Run} */
export const freshRun = () => ({ step: "", answers: {}, begun: new Date().toISOString() });

/**
 * stepsFor leaves out the steps that do not apply here. “only”: all of it must
 * be so, and what is not answered yet keeps the step in. “anyOf”: once one of
 * it is answered, one of the answers given must be among them.
 * @param {Procedure} procedure @param {{[key: string]: string}} answers
 */
export function stepsFor(procedure, answers) {
	const isSo = (/** @type {StepCondition} */ { answer, is }) => is.includes(answers[answer] ?? "");
	return procedure.steps.filter(
		({ only = [], anyOf = [] }) =>
			[only].flat().every((one) => !answers[one.answer] || isSo(one)) &&
			(!anyOf.some(({ answer }) => answers[answer]) || anyOf.some(isSo)),
	);
}

/**
 * missingAnswer finds the first thing asked that is not answered, or null.
 * @param {ProcedureStep} step @param {{[key: string]: string}} answers
 * @returns {Ask | null}
 */
export function missingAnswer(step, answers) {
	return (
		step.asks?.find(
			(one) =>
				!one.isOptional &&
				((answers[one.key] ?? "").trim() === "" || (one.kind === "timing" && !sideKnown(one.key, answers))),
		) ?? null
	);
}

/** hasFigures tells the steps that ask for a figure, with the keypad. @param {ProcedureStep} step */
export const hasFigures = ({ asks = [] }) => asks.some(({ kind }) => kind !== "choice" && kind !== "text");

/**
 * isAnswered tells whether what a step itself asks is in: before that an old
 * figure of an earlier step must not be taken for it.
 * @param {ProcedureStep} step @param {{[key: string]: string}} answers
 */
export function isAnswered(step, answers) {
	return (
		missingAnswer(step, answers) === null &&
		(!step.asks || step.asks.some(({ key }) => (answers[key] ?? "").trim() !== ""))
	);
}

/** @param {string} key @param {{[key: string]: string}} answers */
const sideKnown = (key, answers) =>
	(answers[`${key}.side`] !== undefined && answers[`${key}.side`] !== "") ||
	/^0+([.,]0*)?$/.test((answers[key] ?? "").trim());

/** @typedef {{key: string, problem: string, limit: string, do: string}} Objection */

/**
 * objection says why a step cannot be confirmed yet: the first thing asked
 * that is missing, or that cannot be; or null.
 * @param {ProcedureStep} step @param {{[key: string]: string}} answers
 * @returns {Objection | null}
 */
export function objection(step, answers) {
	for (const one of step.asks ?? []) {
		const bad = unusable(one, answers);
		if (bad) return { key: one.key, ...bad, problem: `${one.label.toLowerCase()}: ${bad.problem}` };
		const missing = missingAnswer({ ...step, asks: [one] }, answers);
		if (!missing) continue;
		if (one.kind === "timing" && (answers[one.key] ?? "").trim() !== "")
			return {
				key: one.key,
				problem: "the side of TDC is not chosen",
				limit: "before or after TDC",
				do: "Choose the side.",
			};
		return {
			key: one.key,
			problem: `${one.label.toLowerCase()}: nothing is entered`,
			limit: one.unit || "one answer",
			do: "Enter it, or go back one step.",
		};
	}
	return null;
}

/**
 * undoneBy lists what stands undone once a step is confirmed, also where an
 * answer decides it.
 * @param {ProcedureStep} step @param {{[key: string]: string}} answers
 */
export function undoneBy(step, answers) {
	return [
		...(step.undoes ?? []),
		...(step.mayUndo ?? []).filter(({ answer, is }) => is.includes(answers[answer] ?? "")).map(({ what }) => what),
	];
}

/** @typedef {import("../safety/temporaries.js").Standing} Standing */

/**
 * needsIgnition tells the steps that can only be done with current at the coil or the starter.
 * @param {ProcedureStep} step
 */
export const needsIgnition = ({ startsEngine, engine, cautions = [] }) =>
	startsEngine === true ||
	["ignition", "running", "fast", "road"].includes(engine) ||
	cautions.includes("ignitionOn");

/**
 * goesOnLive tells the steps that are done with the ignition on and the engine still, after it was switched on.
 * @param {ProcedureStep} step
 */
export const goesOnLive = ({ engine, cautions = [], undoes = [] }) =>
	(engine === "ignition" || (engine === "hand" && cautions.includes("ignitionOn"))) &&
	!undoes.includes("ignition-on");

/** mayBeBlocked tells the steps that something undone can stand in the way of. @param {ProcedureStep} step */
export const mayBeBlocked = (step) => step.finishes === true || needsIgnition(step);

/**
 * inTheWay gives what stands undone and is in the way of a step, or null.
 * @param {ProcedureStep} step @param {readonly Standing[]} list all that stands undone
 * @returns {import("../safety/temporaries.js").Stop | null}
 */
export function inTheWay(step, list) {
	if (step.finishes && list.length)
		return {
			list: [...list],
			title: "Not finished: put these back first",
			text: "Tick each. Then go on.",
		};
	return (
		(step.startsEngine && stopped(list, "noStart", "Do not start the engine")) ||
		(step.engine === "fast" && stopped(list, "noStart", "Do not raise the speed")) ||
		(step.engine === "running" && stopped(list, "noStart", "Stop the engine")) ||
		(step.proves && stopped(list, "noProof", "Tighten the clamp first")) ||
		(needsIgnition(step) && stopped(list, "noIgnition", "Not yet: the ignition is dead")) ||
		null
	);
}
