// Parts of the verdict that come after it, or do not.

import { h } from "../kit/dom.js";

/**
 * An answer that may be refused while the verdict stands.
 * @param {Promise<any>} asked
 * @returns {Promise<{answer: any, problem: Problem | null}>}
 */
export async function optional(asked) {
	try {
		return { answer: await asked, problem: null };
	} catch (problem) {
		return { answer: null, problem: /** @type {Problem} */ (problem) };
	}
}

/** Stands while an answer is awaited. @param {string} title @param {string} [id] */
export function beingWorkedOut(title, id) {
	return h(
		"section",
		{ "aria-busy": "true" },
		h("h2", id ? { id } : null, title),
		h("p", { class: "note", role: "status" }, "Being worked out …"),
	);
}

/** @param {string} title @param {Problem | null} problem */
export function unanswered(title, problem) {
	const text = [problem?.detail ?? problem?.title, problem?.do].filter(Boolean).join(" ");
	return h("section", null, h("h2", null, title), h("p", null, text || "The readings do not show it."));
}
