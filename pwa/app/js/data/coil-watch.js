// The coil watch: since when the ignition has been on with the engine still.
// It is kept on the phone, so that neither a reload nor a crash stops it, and
// it is the same in every tab.

import { garage } from "./garage.js";
import { hasBroadcast } from "../platform.js";

/** Seconds. Common practice: one to two minutes at most with the engine still. */
export const limits = { first: 60, last: 120 };

/** @typedef {{since: number, car: string, why: string}} Watch since in ms of the clock; car by name */

const key = "coil-watch";
const events = new EventTarget();
/** @type {Watch | null} */
let watch = null;
/** @type {BroadcastChannel | null} */
let otherTabs = null;

export const coilWatch = {
	/** now gives the watch that runs, or null. */
	now: () => watch,

	/** begin starts it; one that runs already goes on. @param {string} car @param {string} why */
	begin(car, why) {
		if (!watch) keep({ since: Date.now(), car, why });
	},

	/** end stops it and gives how long it ran, in seconds. */
	end() {
		const seconds = watch ? secondsOf(watch) : 0;
		keep(null);
		return seconds;
	},

	/** resume takes up a watch that ran when the app was left. */
	async resume() {
		otherTabs ??= hasBroadcast ? new BroadcastChannel("pointsmith.coil-watch") : null;
		if (otherTabs) otherTabs.onmessage = ({ data }) => take(readable(data));
		take(readable(await garage.phone(key).catch(() => null)));
	},

	/** on calls fn at every start and stop, and gives a function that stops it. @param {() => void} fn */
	on(fn) {
		events.addEventListener("change", fn);
		return () => events.removeEventListener("change", fn);
	},
};

/** secondsOf is how long a watch has run; a clock put back counts as none. @param {Watch} watch */
export function secondsOf({ since }, now = Date.now()) {
	return Math.max(0, Math.floor((now - since) / 1000));
}

/**
 * stageOf says what is due after so many seconds.
 * @param {number} seconds
 * @returns {"counting" | "soon" | "alarm"}
 */
export function stageOf(seconds) {
	return seconds >= limits.last ? "alarm" : seconds >= limits.first ? "soon" : "counting";
}

/** clockOf writes seconds as minutes and seconds, "1:05". @param {number} seconds */
export function clockOf(seconds) {
	return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;
}

/** @param {Watch | null} next */
function keep(next) {
	garage.setPhone(key, next ?? undefined).catch(() => {});
	otherTabs?.postMessage(next);
	take(next);
}

/** @param {Watch | null} next */
function take(next) {
	watch = next;
	events.dispatchEvent(new Event("change"));
}

/** @param {any} kept @returns {Watch | null} */
function readable(kept) {
	return kept && Number.isFinite(kept.since) ? { since: kept.since, car: String(kept.car ?? ""), why: String(kept.why ?? "") } : null;
}
