// Figures as they go out: the book's table and a run of readings, as figures.write
// takes them. No screen.

import { toReadingSet, toSpec } from "../record/sheet.js";

/**
 * specOut gives the book's table, or what is still missing in it.
 * @param {Sheet} sheet
 * @returns {{input: object | null, problem: FieldProblem | null}}
 */
export function specOut(sheet) {
	const { spec, problem } = toSpec(sheet);
	if (!spec) return { input: null, problem };
	const { angleUnit, speedUnit, base, points } = spec;
	return { input: { what: "spec", angleUnit, speedUnit, base, rows: points }, problem: null };
}

/**
 * readingsOut gives a set of readings, or what is still missing in it.
 * @param {VisitSet} set
 * @returns {{input: object | null, problem: Problem | null}}
 */
export function readingsOut(set) {
	const { place, angleUnit, speedUnit, base, vacuum, points } = toReadingSet(set);
	if (!angleUnit || !speedUnit || !base)
		return {
			input: null,
			problem: {
				title: "Not said yet: which degrees and which speeds these are",
				limit: "crank or distributor, engine or distributor, base in or out",
				do: "Say it at the set of readings first.",
			},
		};
	const of = { ...(place ? { place } : {}), ...(vacuum ? { vacuum } : {}) };
	return {
		input: { what: "readings", angleUnit, speedUnit, base, rows: points.map((point) => ({ ...point, ...of })) },
		problem: null,
	};
}
