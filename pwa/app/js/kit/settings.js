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

const linksKey = "pointsmith.links-begin";

/** linksBegin is what was typed in the settings, right or not. */
export function linksBegin() {
	try {
		return localStorage.getItem(linksKey) ?? "";
	} catch {
		return ""; // no storage: nothing was said
	}
}

/** keepLinksBegin keeps it as it is typed. @param {string} text @returns {boolean} whether there was room */
export function keepLinksBegin(text) {
	try {
		if (text.trim() === "") localStorage.removeItem(linksKey);
		else localStorage.setItem(linksKey, text);
		return true;
	} catch {
		return false;
	}
}

/** linkStart is where links to cards begin, with a / at its end; "" where nothing is said that is an address. */
export const linkStart = () => linkStartIn(linksBegin()) ?? "";

const longestStart = 300; // characters; card.page takes no more

/**
 * linkStartIn reads an address that links can begin with; null where it is none.
 * @param {string} text @returns {string | null}
 */
export function linkStartIn(text) {
	const typed = text.trim();
	if (typed === "") return "";
	if (!URL.canParse(typed) || /[#?]/.test(typed)) return null;
	const { protocol, host, pathname, username, password, origin } = new URL(typed);
	if (!/^https?:$/.test(protocol) || !host || username || password) return null;
	const start = origin + pathname.replace(/\/?$/, "/");
	return start.length > longestStart || /["'^`{|}\\]/.test(start) ? null : start;
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
