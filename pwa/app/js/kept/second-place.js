// Is there a second place where the garage is? When neither a server nor a
// file has it for a week, that is said, once and gently.

import { garage } from "./garage.js";
import { thisPhone } from "./this-phone.js";
import { askToKeep, isKept } from "../kit/platform.js";

const day = 24 * 3600 * 1000; // ms
// chosen: browsers that clear unused stores do it after a week at the soonest (WebKit, 7 days of use)
const patience = 7 * day;

/**
 * daysAlone gives for how many days what is here has been nowhere else, or
 * null while that is less than a week or nothing of worth is here.
 * @param {{now: number, changedAt: string[], syncedAt?: string, exportedAt?: string, laterAt?: string}} known
 *   changedAt: of the cars that are no demo
 * @returns {number | null}
 */
export function daysAlone({ now, changedAt, syncedAt = "", exportedAt = "", laterAt = "" }) {
	const safe = Math.max(...[syncedAt, exportedAt].map((at) => Date.parse(at) || 0));
	const unsafe = changedAt.map((at) => Date.parse(at)).filter((at) => at > safe && at <= now);
	if (!unsafe.length) return null;
	const since = Math.max(safe, Math.min(...unsafe));
	if (now - since < patience || now - (Date.parse(laterAt) || 0) < patience) return null;
	return Math.floor((now - since) / day);
}

/** reminder gives the days to remind of, or null. */
export async function reminder() {
	const all = garage.inBrief();
	const own = all.filter(({ isOwn }) => isOwn);
	const ids = new Set(own.map(({ id }) => id));
	const visits = all.filter(
		({ kind, carId, distributorId }) => kind === "visit" && (ids.has(carId) || ids.has(distributorId)),
	);
	const [syncedAt, exportedAt, laterAt] = await Promise.all(
		["syncedAt", "exportedAt", "remindLaterAt"].map((key) => thisPhone.get(key).catch(() => undefined)),
	);
	return daysAlone({
		now: Date.now(),
		changedAt: [...own, ...visits].map(({ changedAt }) => changedAt),
		syncedAt,
		exportedAt,
		laterAt,
	});
}

/** remindLater is silent for another week. */
export const remindLater = () => thisPhone.put("remindLaterAt", new Date().toISOString()).catch(() => {});

const events = new EventTarget();

/**
 * onExported calls fn whenever the garage went into a file, and gives a function that stops it.
 * @param {() => void} fn
 */
export function onExported(fn) {
	events.addEventListener("exported", fn);
	return () => events.removeEventListener("exported", fn);
}

/** noteExport remembers that the garage went into a file. */
export async function noteExport() {
	await thisPhone.put("exportedAt", new Date().toISOString()).catch(() => {});
	events.dispatchEvent(new Event("exported"));
}

/**
 * askOnceItMatters asks the browser to keep the store when the first thing of
 * the person's own is typed: a promise asked for on an empty page is refused
 * more often, and some browsers put it to the person.
 */
export function askOnceItMatters() {
	const off = garage.on("change", async ({ from, kind, id }) => {
		if (from !== "here" || kind !== "car" || garage.get("car", id)?.body?.demo) return;
		off();
		if ((await isKept()) === false) askToKeep();
	});
}
