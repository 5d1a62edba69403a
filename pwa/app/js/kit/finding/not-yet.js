// What a concluding screen says while it cannot conclude: why, and the one
// thing to do next.

import { h } from "../dom.js";
import { address } from "../address.js";
import { inEnglish } from "../words.js";
import { mark } from "../mark.js";

/**
 * @param {string} title @param {string} text @param {{href: string, label: string} | null} next
 * @returns {HTMLElement}
 */
export function notYet(title, text, next) {
	return h(
		"section",
		{ class: "not-yet" },
		h("h2", null, inEnglish(title)),
		h("p", null, inEnglish(text)),
		next ? nextLink(next.href, next.label) : null,
	);
}

/** The one link on a screen that says "do this next". @param {string} href @param {string} label */
export function nextLink(href, label) {
	return h("a", { class: "button next", href }, label, " ", mark("next"));
}

/** @param {string} state of the engine @param {string} carId */
export function stillStarting(state, carId) {
	const text =
		state === "failed"
			? "The engine on this phone did not start; the server is being asked."
			: "It takes a second or two the first time. Everything you entered is safe.";
	return h(
		"section",
		{ class: "not-yet", role: "status", "aria-busy": state === "failed" ? null : "true" },
		h("h2", null, "The engine is starting"),
		h("p", null, text),
		h("a", { class: "button", href: address("car", carId, "readings") }, "Go on with readings meanwhile"),
	);
}
