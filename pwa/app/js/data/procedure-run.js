// One procedure on one car: which step it stands at, what was answered. Kept
// on the phone at every key, so that it goes on at the same step after
// anything.

import { garage } from "./garage.js";

/** @param {string} carId @param {string} procedure */
const keyOf = (carId, procedure) => `do/${carId}/${procedure}`;

/** @param {string} carId @param {string} procedure @returns {Promise<Run | null>} */
export const runOf = (carId, procedure) => garage.draft(keyOf(carId, procedure));

/** @param {string} carId @param {string} procedure @param {Run | undefined} run */
export const keepRun = (carId, procedure, run) => garage.setDraft(keyOf(carId, procedure), run);

/** @returns {Run} */
export const freshRun = () => ({ step: "", answers: {}, begun: new Date().toISOString() });

/**
 * stepsFor leaves out the steps that do not apply here: those that hang on an
 * answer or fact which says otherwise. One not answered yet stays in.
 * @param {Procedure} procedure @param {{[key: string]: string}} answers
 */
export function stepsFor(procedure, answers) {
	return procedure.steps.filter(({ only }) => !only || !answers[only.answer] || only.is.includes(answers[only.answer]));
}

/**
 * missingAnswer finds the first thing asked that is not answered, or null.
 * @param {ProcedureStep} step @param {{[key: string]: string}} answers
 * @returns {Ask | null}
 */
export function missingAnswer(step, answers) {
	return step.asks?.find((one) => !one.isOptional && ((answers[one.key] ?? "").trim() === "" || (one.kind === "timing" && !sideKnown(one.key, answers)))) ?? null;
}

/** @param {string} key @param {{[key: string]: string}} answers */
const sideKnown = (key, answers) => answers[`${key}.side`] !== undefined && answers[`${key}.side`] !== "" || /^0+([.,]0*)?$/.test((answers[key] ?? "").trim());

/**
 * undoneBy lists what stands undone once a step is confirmed, also where an
 * answer decides it.
 * @param {ProcedureStep} step @param {{[key: string]: string}} answers
 */
export function undoneBy(step, answers) {
	return [...(step.undoes ?? []), ...(step.mayUndo ?? []).filter(({ answer, is }) => is.includes(answers[answer] ?? "")).map(({ what }) => what)];
}
