// What is undone for a while and must be put back before finishing. The names
// are those of the method work.order, which keeps the same list; this one is
// here because the list must stand on every screen before the engine has
// started, and when it cannot start. A browser test holds the two together.

import { firstCapital, inEnglish } from "../kit/words.js";

/**
 * @typedef {object} Temporary
 * @property {string} id
 * @property {string} what what is undone, in words
 * @property {string} putBack what to do
 * @property {string} [noStart] why the engine must not be started while it stands
 * @property {string} [noIgnition] why a step that needs the ignition cannot be done while it stands
 * @property {string} [noProof] why timing that is read while it stands is not proved
 * @property {number} [afterMinutes] from then on it says so by itself
 */

/** Common practice; 40 minutes is chosen: longer than any one check with the pipe off. @type {Temporary[]} */
export const temporaries = [
	{
		id: "vacuum-pipe",
		what: "vacuum pipe off and plugged",
		putBack: "Unplug the pipe and put it back on the capsule",
		afterMinutes: 40,
	},
	{
		id: "retard-hose",
		what: "retard pipe off and plugged",
		putBack: "Unplug the pipe and put it back",
		afterMinutes: 40,
	},
	{
		id: "piston-stop",
		what: "piston stop in the plug hole",
		putBack: "Screw out the stop",
		noStart: "turning against the stop breaks piston and thread",
	},
	{ id: "plugs-out", what: "plugs out", putBack: "Fit the plugs", noStart: "the holes are open" },
	{ id: "plug-leads", what: "plug leads off", putBack: "Put the leads on, each on its own plug" },
	{
		id: "king-lead",
		what: "coil lead out of the cap, on earth",
		putBack: "Push the coil lead fully into the cap and the coil",
		noStart: "the spark of the coil goes to earth",
	},
	{
		id: "coil-feed",
		what: "coil feed off",
		putBack: "Put the feed back on the coil",
		noStart: "the coil has no current",
		noIgnition: "the coil has no current: a test lamp or a meter shows nothing",
	},
	{
		id: "clamp-loose",
		what: "clamp of the distributor loose",
		putBack: "Tighten the clamp",
		noStart: "the body can turn by itself and the timing with it",
		noProof: "the body can turn by itself: what is read now proves nothing",
	},
	{
		id: "clamp-light",
		what: "clamp of the distributor only lightly tight",
		putBack: "Engine stopped: tighten the clamp",
	},
	{ id: "card-in-points", what: "card between the points", putBack: "Pull the card out" },
	{ id: "ballast-bridged", what: "ballast bridged", putBack: "Take the bridge off", afterMinutes: 5 },
	{ id: "ignition-on", what: "ignition on, engine still", putBack: "Switch off", afterMinutes: 2 },
	{ id: "lamp-lead", what: "test lamp connected", putBack: "Take the test lamp off" },
	{ id: "strobe-leads", what: "strobe connected", putBack: "Engine stopped: take its leads off" },
	{ id: "idle-screw", what: "idle screw turned away from its place", putBack: "Set the idle speed back" },
	{ id: "cap-off", what: "distributor cap off", putBack: "Fit the cap, both clips on", noStart: "the cap is off" },
	{
		id: "battery-off",
		what: "battery disconnected",
		putBack: "Connect it, earth lead last",
		noStart: "the starter has no current",
		noIgnition: "the ignition has no current: a test lamp or a meter shows nothing",
	},
	{ id: "bonnet-prop", what: "bonnet on a prop of its own", putBack: "Take the prop away" },
	{ id: "other", what: "something else off or loose", putBack: "Put it back" },
];

/** temporaryOf gives one in the English now chosen. @param {string} id @returns {Temporary} */
export function temporaryOf(id) {
	const found = temporaries.find((each) => each.id === id) ?? temporaries[temporaries.length - 1];
	const { what, putBack, noStart, noIgnition, noProof } = found;
	return {
		...found,
		...{ what: inEnglish(what), putBack: inEnglish(putBack) },
		...(noStart ? { noStart: inEnglish(noStart) } : {}),
		...(noProof ? { noProof: inEnglish(noProof) } : {}),
		...(noIgnition ? { noIgnition: inEnglish(noIgnition) } : {}),
	};
}

/**
 * @typedef {Temporary & {since: string, minutes: number, isOverdue: boolean}} Standing
 */

/**
 * standingIn walks the events, the earliest first, and gives what was undone
 * and not put back.
 * @param {readonly WorkEvent[]} events in the order of time
 * @param {number} now ms
 * @returns {Standing[]}
 */
export function standingIn(events, now) {
	/** @type {Map<string, string>} id → since */
	const open = new Map();
	for (const event of events) {
		for (const id of event.restored ?? []) open.delete(id);
		for (const id of event.undone ?? []) if (!open.has(id)) open.set(id, event.at);
	}
	return [...open].map(([id, since]) => {
		const temporary = temporaryOf(id);
		const minutes = Math.max(0, Math.floor((now - Date.parse(since)) / 60_000));
		return {
			...temporary,
			id,
			since,
			minutes,
			isOverdue: temporary.afterMinutes !== undefined && minutes >= temporary.afterMinutes,
		};
	});
}

/**
 * A reason why something must not be done now, and what to put back first.
 * @typedef {{list: Standing[], title: string, text: string}} Stop
 */

/**
 * stopped gives what of the list stands in the way, with the reason of each, or null.
 * @param {readonly Standing[]} list @param {"noStart" | "noIgnition" | "noProof"} reason @param {string} title
 * @returns {Stop | null}
 */
export function stopped(list, reason, title) {
	const stops = list.filter((each) => each[reason]);
	if (stops.length === 0) return null;
	const why = stops.map((each) => `${firstCapital(each.what)}: ${each[reason]}.`);
	return { list: stops, title, text: why.join(" ") };
}

/**
 * inMinutes says how long something has stood: "43 minutes", "3 hours".
 * @param {number} minutes
 */
export function inMinutes(minutes) {
	if (minutes < 1) return "just now";
	if (minutes < 120) return minutes === 1 ? "1 minute" : `${minutes} minutes`;
	const hours = Math.round(minutes / 60);
	return hours < 48 ? `${hours} hours` : `${Math.round(hours / 24)} days`;
}
