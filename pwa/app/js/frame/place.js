// Where the person is: the page to come back to after a call, a crash or a
// dead battery, and how far each page was scrolled when it was left.

import { thisPhone } from "../kept/this-phone.js";

const key = "place"; // in the phone's own store: localStorage is written too late for a browser that is killed
const stale = 12 * 3600 * 1000; // ms: the next morning begins at the garage. Chosen.

/** @type {Map<string, number>} by history entry */
const scrolls = new Map();
let entry = "";
let count = 0;

/**
 * keepPlace notes the page now shown and scrolls to where it was left, when it
 * was come back to; a page newly gone to starts at its top.
 * @param {string} hash
 * @param {boolean} isNew not the page shown before
 * @param {boolean} isWorking a page to come back to after a crash
 * @param {boolean} isFirst the page the app begins with: it stands at its top
 */
export function keepPlace(hash, isNew, isWorking, isFirst) {
	thisPhone.put(key, isWorking ? { hash, at: Date.now() } : undefined).catch(() => {});
	if (!isNew) return;
	const before = history.state?.entry;
	entry = before ?? `${Date.now()}-${++count}`;
	if (!before) history.replaceState({ entry }, "");
	if (!isFirst) scrollTo(0, scrolls.get(entry) ?? 0);
}

/** resumePlace goes back to where the app was left, if it was started without an address. */
export async function resumePlace() {
	history.scrollRestoration = "manual";
	addEventListener(
		"scroll",
		() => {
			if (entry) scrolls.set(entry, scrollY);
		},
		{ passive: true },
	);
	addEventListener("popstate", () => {
		entry = "";
	}); // the browser may scroll before the next page is drawn
	if (location.hash && location.hash !== "#/") return;
	const left = await thisPhone.get(key).catch(() => undefined);
	if (!left || Date.now() - left.at > stale) return;
	history.replaceState(null, "", "#/"); // "back" leads to the garage
	history.pushState(null, "", left.hash);
}
