// Which cautions of a step stand open and which in a line: open from the step
// at which a hazard comes first in a run, in a line from the next step on. What
// was passed is kept with the run, so a new run begins anew.

import { caution, cautionLine } from "../kit/caution.js";
import { cautionName, cautions } from "../safety/cautions.js";

/**
 * openCautions gives the ids that stand open: no other step of this run was confirmed with them.
 * @param {ProcedureStep} step @param {Run} run
 */
export const openCautions = ({ id, cautions: all = [] }, { passed = {} }) =>
	all.filter((one) => (passed[one] ?? id) === id);

/** @param {ProcedureStep} step @param {Run} run */
const readCautions = (step, run) => {
	const open = openCautions(step, run);
	return (step.cautions ?? []).filter((one) => !open.includes(one));
};

/**
 * pass notes the cautions of a step that is confirmed: where each came first.
 * @param {ProcedureStep} step @param {Run} run
 */
export function pass({ id, cautions: all = [] }, run) {
	run.passed = { ...Object.fromEntries(all.map((one) => [one, id])), ...run.passed };
}

/** beginsRun tells the step a run begins with. @param {ProcedureStep} step @param {Run} run */
export const beginsRun = ({ id }, { passed = {} }) => Object.values(passed).every((at) => at === id);

/** @param {string[]} ids */
export const textsOf = (ids) => ids.map((id) => cautions()[id]).filter(Boolean);

/**
 * lineOf has the sign and the name of each caution, or is null where there is none.
 * @param {string[]} ids
 */
export function lineOf(ids) {
	const [texts, names] = [cautions(), cautionName()];
	return ids.length ? cautionLine(ids.map((id) => ({ name: names[id], text: texts[id] }))) : null;
}

/**
 * cautionsOf is what stands before the action of a step.
 * @param {ProcedureStep} step @param {Run} run
 * @param {boolean} [isRead] the person has said so: all of them in a line
 */
export function cautionsOf(step, run, isRead = false) {
	const open = openCautions(step, run);
	if (isRead) return [lineOf(step.cautions ?? [])];
	return [
		open.length ? caution("before this step", textsOf(open), beginsRun(step, run)) : null,
		lineOf(readCautions(step, run)),
	];
}
