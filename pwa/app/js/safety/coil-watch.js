// The coil watch: since when the ignition has been on with the engine still.
// It is kept on the phone, so that neither a reload nor a crash stops it, and
// it is the same in every tab. A coil that was on stays hot for a while, so the
// count of a car goes on where it ended, less what has cooled since.

import { thisPhone } from "../kept/this-phone.js";
import { hasBroadcast } from "../kit/platform.js";

/** Seconds. Common practice: one to two minutes at most with the engine still. */
export const limits = { first: 60, last: 120 };

/**
 * Seconds in which, off, the count falls to 37 %: heat left = seconds × e^(−off/600).
 * Chosen, no published figure seen: half a kilogram of coil in still air cools in
 * some ten minutes, and its oil lags behind its case. While it is on nothing is
 * taken off, which errs on the side of the coil.
 */
export const coolsIn = 600;

/**
 * @typedef {{since: number, car: string, why: string, carId?: string, carried?: number}} Watch since in ms of the
 *   clock; car by name, and by id where it is known; carried: seconds it was still warm by
 */
/** @typedef {{seconds: number, at: number}} Heat what a car's count stood at, and when, in ms of the clock */

const key = "coil-watch";
const heatKey = "coil-heat";
/** @type {{[car: string]: Heat}} */
let heats = {};
const events = new EventTarget();
/** @type {Watch | null} */
let watch = null;
/** @type {BroadcastChannel | null} */
let otherTabs = null;

export const coilWatch = {
	/** now gives the watch that runs, or null. */
	now: () => watch,

	/**
	 * begin starts it; one that runs already goes on.
	 * @param {string} car
	 * @param {string} why
	 * @param {string} [carId]
	 */
	begin(car, why, carId) {
		if (!watch)
			keep({
				since: Date.now(),
				car,
				why,
				...(carId ? { carId } : {}),
				carried: heatAfter(heats[car], Date.now()),
			});
	},

	/** end stops it, remembers the heat, and gives how long it ran and what the count stood at, in seconds. */
	end() {
		if (!watch) return { ran: 0, counted: 0 };
		const [ran, counted] = [secondsOf({ since: watch.since }), secondsOf(watch)];
		heats = heatsKept({ ...heats, [watch.car]: { seconds: counted, at: Date.now() } });
		thisPhone.put(heatKey, heats).catch(() => {});
		keep(null);
		return { ran, counted };
	},

	/** resume takes up a watch that ran when the app was left. */
	async resume() {
		otherTabs ??= hasBroadcast ? new BroadcastChannel("pointsmith.coil-watch") : null;
		if (otherTabs)
			otherTabs.onmessage = ({ data }) => {
				heats = heatsKept(data?.heats);
				take(readable(data?.watch));
			};
		heats = heatsKept(await thisPhone.get(heatKey).catch(() => null));
		take(readable(await thisPhone.get(key).catch(() => null)));
	},

	/** on calls fn at every start and stop, and gives a function that stops it. @param {() => void} fn */
	on(fn) {
		events.addEventListener("change", fn);
		return () => events.removeEventListener("change", fn);
	},
};

/**
 * secondsOf is what a watch counts: what was carried and how long it has run; a clock put back counts as none.
 * @param {Pick<Watch, "since" | "carried">} watch
 */
export function secondsOf({ since, carried = 0 }, now = Date.now()) {
	return Math.floor(carried + Math.max(0, (now - since) / 1000));
}

/** heatAfter is what is left of a count. @param {Heat | undefined} heat @param {number} now */
export function heatAfter(heat, now) {
	return heat ? heat.seconds * Math.exp(-Math.max(0, now - heat.at) / 1000 / coolsIn) : 0;
}

/**
 * heatsKept leaves out what has cooled to less than a second, and what cannot be read.
 * @param {any} kept
 * @returns {{[car: string]: Heat}}
 */
export function heatsKept(kept, now = Date.now()) {
	const all = Object.entries(kept && typeof kept === "object" ? kept : {});
	return Object.fromEntries(
		all.filter(
			([, heat]) => Number.isFinite(heat?.seconds) && Number.isFinite(heat?.at) && heatAfter(heat, now) >= 1,
		),
	);
}

/**
 * isOf tells whether a watch is of this car; one begun without an id goes by the name.
 * @param {Watch} of
 * @param {Doc<Car>} car
 */
export const isOf = (of, car) => (of.carId ? of.carId === car.id : of.car === car.body.name);

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
	thisPhone.put(key, next ?? undefined).catch(() => {});
	otherTabs?.postMessage({ watch: next, heats });
	take(next);
}

/** @param {Watch | null} next */
function take(next) {
	watch = next;
	events.dispatchEvent(new Event("change"));
}

/** @param {any} kept @returns {Watch | null} */
function readable(kept) {
	return kept && Number.isFinite(kept.since)
		? {
				since: kept.since,
				car: String(kept.car ?? ""),
				why: String(kept.why ?? ""),
				...(kept.carId ? { carId: String(kept.carId) } : {}),
				carried: Number.isFinite(kept.carried) ? Math.max(0, kept.carried) : 0,
			}
		: null;
}
