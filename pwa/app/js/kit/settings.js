// How this phone shows things. Kept in localStorage, because it is wanted
// before anything is painted; nothing that was measured is kept there.

import { speak } from "./words.js";

/** @typedef {"theme" | "text" | "terms" | "view" | "voice"} Setting */

/** choices per setting; the first is what stands until someone chooses. */
export const choices = {
	theme: /** @type {const} */ (["", "light", "dark", "sunlight"]),
	text: /** @type {const} */ (["", "large", "larger"]),
	terms: /** @type {const} */ (["uk", "us"]),
	view: /** @type {const} */ (["", "large"]), // of the guided work
	voice: /** @type {const} */ (["", "on"]), // steps and figures read aloud
};

/** @param {Setting} name @returns {string} */
export function setting(name) {
	let kept = "";
	try {
		kept = localStorage.getItem("pointsmith." + name) ?? "";
	} catch {
		// No storage: the first choice stands.
	}
	return /** @type {readonly string[]} */ (choices[name]).includes(kept) ? kept : choices[name][0];
}

/** @param {Setting} name @param {string} value */
export function choose(name, value) {
	try {
		if (value === choices[name][0]) localStorage.removeItem("pointsmith." + name);
		else localStorage.setItem("pointsmith." + name, value);
	} catch {
		// No storage: the choice holds until the app is closed.
	}
	apply(name, value);
}

export function applySettings() {
	for (const name of /** @type {Setting[]} */ (Object.keys(choices))) apply(name, setting(name));
}

/** @param {Setting} name @param {string} value */
function apply(name, value) {
	if (name === "terms") speak(value === "us" ? "us" : "uk");
	else if (value) document.documentElement.dataset[name] = value;
	else delete document.documentElement.dataset[name];
	const ground = getComputedStyle(document.documentElement).getPropertyValue("--paper").trim();
	if (ground) document.querySelector('meta[name="theme-color"]')?.setAttribute("content", ground);
}
