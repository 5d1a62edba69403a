// A table's text on its way in, kept half taken: what was pasted or chosen, and
// what was said to its questions.

import { drafts } from "./drafts.js";

/**
 * @typedef {object} FiguresDraft
 * @property {string} text
 * @property {string} name of the file; "" where it was pasted
 * @property {{[name: string]: string}} hints what the page it came from knows
 * @property {{[ask: string]: string}} answers
 * @property {"bench" | "car" | ""} place of readings whose rows do not say it
 */

/** @param {string} id of the car or the distributor */
const keyOf = (id) => `figures/${id}`;

/** newDraft is a text of which nothing is said. @param {Partial<FiguresDraft>} [given] @returns {FiguresDraft} */
export const newDraft = (given = {}) => ({ text: "", name: "", hints: {}, answers: {}, place: "", ...given });

export const figuresDraft = {
	/** @param {string} id @returns {Promise<FiguresDraft>} */
	get: async (id) => newDraft(await drafts.get(keyOf(id)).catch(() => undefined)),

	/** @param {string} id @param {FiguresDraft | undefined} draft undefined forgets it */
	put: (id, draft) => drafts.put(keyOf(id), draft?.text ? draft : undefined),
};
