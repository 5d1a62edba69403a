// Sends what changed here to the server and fetches what changed there, when a
// server answers. Nothing waits for it and it may never succeed: the phone's
// own store is the truth. navigator.onLine is not asked, because it says "yes"
// with the server switched off.

import { baseOf, isCarried, note, settleCarried, settlePush } from "./carried.js";
import { afterComparison, afterPull } from "./merge.js";
import { garage } from "./garage.js";
import { thisPhone } from "./this-phone.js";
import { loadKept, sendChoices, takeKept } from "./copies.js";
import { ask, hasServer } from "./server.js";
import { onlyHere } from "../kit/platform.js";

const soon = 1_000; // ms after a change
const often = 30_000; // ms between looks while the server answers
const seldom = 300_000; // ms at most between rounds while it does not
// Something waits to be sent and the page can be seen: the server is asked whether it is there. Chosen: with the
// longest answer less than 5 s from its return to the sending, by one request without a body.
const whileWaiting = 2_000; // ms between two such questions
const probing = 2_500; // ms for the answer
const whileRefused = 10_000; // ms between rounds while it answers and will not have them (chosen)
// ms; a tab that holds on for longer is asleep (chosen: a first meeting with 10,000 documents takes some seconds)
const longestRound = 120_000;

const events = new EventTarget();
/**
 * at: when the two last agreed. metAt: when it last answered at all. access:
 * what this phone may do there, "" until the server was asked. rounds: how
 * often it was asked since the app was opened.
 * @type {{at: Date | null, metAt: Date | null, access: "" | "owner" | "guest" | "none", trouble: Problem | null,
 *   refused: {key: string, problem: Problem}[], kept: number, rounds: number}}
 */
const state = { at: null, metAt: null, access: "", trouble: null, refused: [], kept: 0, rounds: 0 };
let pause = often;
let isAway = false; // the last round had no answer
let isBusy = false;
let isWanted = false;
/** @type {any} */
let timer = null;

/**
 * syncState: when the server last agreed, why it refuses us, what it refused, how many copies there wait for a choice.
 */
export const syncState = () => state;

/** @param {() => void} fn @returns {() => void} a function that stops it */
export function onSync(fn) {
	events.addEventListener("sync", fn);
	return () => events.removeEventListener("sync", fn);
}

/** startSync begins; call it once the garage is open. */
export async function startSync() {
	const [at, metAt] = await Promise.all(["syncedAt", "metAt"].map((key) => thisPhone.get(key)));
	if (at) state.at = new Date(at);
	if (metAt) state.metAt = new Date(metAt);
	await loadKept();
	events.dispatchEvent(new Event("sync"));
	if (!hasServer()) return;
	garage.on("change", (change) => {
		if (change.from === "here") schedule(soon, look);
	});
	document.addEventListener("visibilitychange", () => {
		if (document.visibilityState === "visible") schedule(0, look);
	});
	for (const event of ["online", "focus", "pageshow"]) addEventListener(event, () => schedule(0, look));
	schedule(0);
}

/** forgetAccess makes the next round ask anew what this phone may do. */
export function forgetAccess() {
	state.access = "";
	state.trouble = null;
}

/** syncNow makes one round and says whether the server answered and agreed. */
export async function syncNow() {
	if (!hasServer()) return false;
	if (isBusy) {
		isWanted = true;
		return false;
	}
	isBusy = true;
	try {
		const isIn = await mayEnter(); // every tab asks this for itself, also while another one is at a round
		const isFree = !isIn || (await onlyHere("pointsmith.sync", round, longestRound));
		isWanted ||= !isFree;
		pause = often;
		isAway = false;
		return isIn && isFree;
	} catch (error) {
		const problem = /** @type {Problem} */ (error);
		isAway = !problem?.status;
		if (problem?.status) state.trouble = problem;
		if (problem?.status === 401 && state.access) {
			state.access = ""; // shut out since: ask anew
			isWanted = true;
		}
		pause = Math.min(seldom, pause * 2);
		return false;
	} finally {
		isBusy = false;
		state.rounds++;
		events.dispatchEvent(new Event("sync"));
		scheduleNext();
		isWanted = false;
	}
}

/** What was typed during a round waits too; what was refused waits for a change. */
function scheduleNext() {
	const isWaiting = unsent() > state.refused.length;
	if (isWanted || (!state.trouble && pause === often && isWaiting)) return schedule(soon);
	if (!isWaiting || state.access === "none") return schedule(pause);
	if (isAway) return schedule(whileWaiting, probe);
	schedule(Math.min(pause, whileRefused));
}

/** look makes a round, or asks first whether the server is there: a round that nobody answers takes long. */
const look = () => (isAway ? probe() : syncNow());

/** probe asks whether the server is back, before anything is sent. */
async function probe() {
	const isThere = await ask("GET", "status", undefined, probing).then(
		() => true,
		(/** @type {any} */ problem) => Boolean(problem?.status),
	);
	if (isThere) return syncNow();
	scheduleNext();
}

/** unsent is how many documents were changed here and are not on the server; none are missed where there is none. */
export const unsent = () => (hasServer() ? garage.waiting().filter((key) => !isCarried(key)).length : 0);

/**
 * One round, for a phone that is let in. One that knows no garage yet asks before it sends: what is deleted there
 * later, and forgotten after a year, it can then be told (see Feed in store).
 */
async function round() {
	if (!(await thisPhone.get("feed"))) await pull();
	await push();
	await sendChoices();
	await pull();
	state.at = state.metAt = new Date();
	state.trouble = null;
	for (const key of ["syncedAt", "metAt"]) await note(key, state.at.toISOString());
}

/** mayEnter asks aside what this phone may do, so that one that is not paired makes no refused requests. */
async function mayEnter() {
	if (state.access === "owner" || state.access === "guest") return true;
	state.access = (await ask("GET", "status")).access ?? "owner"; // a server of before there were codes says nothing
	state.metAt = new Date();
	await note("metAt", state.metAt.toISOString());
	const isIn = state.access !== "none";
	state.trouble = isIn
		? null
		: {
				title: "This phone is not paired with the garage",
				status: 401,
				do: "Pair it with the code that the server shows. Until then everything works and stays on this phone.",
			};
	return isIn;
}

/** While nobody sees the page it waits until somebody does. @param {number} wait ms @param {() => unknown} [then] */
function schedule(wait, then = syncNow) {
	clearTimeout(timer);
	timer = setTimeout(() => {
		if (document.visibilityState === "visible" || wait <= soon) then();
	}, wait);
}

async function push() {
	state.refused = [];
	const sending = await thisPhone.get("sending");
	if (sending) await pushOne(sending);
	for (const key of garage.waiting()) {
		const [kind, id] = /** @type {[Kind, string]} */ (key.split("/"));
		const doc = garage.get(kind, id);
		if (doc) await (isCarried(key) ? settleCarried(doc) : pushOne(doc));
	}
}

/**
 * pushOne sends a document. It is remembered until that very push has been
 * answered: when the answer is lost, the same is sent again, and the server
 * knows it again. What has been typed since then follows it, edited from it.
 * @param {AnyDoc} doc
 */
async function pushOne(doc) {
	await note("sending", doc);
	const path = `${doc.kind}/${doc.id}`;
	const words = { base: baseOf(doc), changedAt: doc.changedAt, device: (await thisPhone.get("deviceName")) ?? "" };
	try {
		const answer = doc.deleted
			? await ask("DELETE", `garage/${path}`, words)
			: await ask("PUT", `garage/${path}`, { ...words, body: doc.body });
		await settlePush(doc, answer);
	} catch (problem) {
		if (![400, 409, 413, 422].includes(/** @type {any} */ (problem)?.status)) throw problem;
		state.refused.push({ key: path, problem: /** @type {Problem} */ (problem) });
	}
	await note("sending", undefined);
}

/**
 * pull fetches page by page what changed since last time; it can break off
 * after any page. When the server asks for it, everything is compared: that
 * has to go through in one piece, or it begins anew next time.
 */
async function pull() {
	let place = (await thisPhone.get("feed")) ?? { cursor: (await thisPhone.get("cursor")) ?? 0, garage: "" };
	/** @type {import("./merge.js").Comparison | null} */
	let comparison = null;
	for (let more = true; more;) {
		const page = await ask(
			"GET",
			`garage?after=${encodeURIComponent(place.cursor)}&garage=${encodeURIComponent(place.garage)}`,
		);
		if (page.compare) comparison = { why: page.compare, listed: new Set() };
		const theirs = /** @type {AnyDoc[]} */ (page.documents);
		for (const { kind, id } of theirs) comparison?.listed.add(`${kind}/${id}`);
		await garage.settle(theirs, (ours, isWaiting, said) => afterPull(ours, said, isWaiting, comparison?.why));
		const isNew = page.cursor !== place.cursor || page.garage !== place.garage;
		place = { cursor: page.cursor, garage: page.garage };
		more = page.more;
		if (comparison && !more) await settleUnlisted(comparison);
		if (isNew && (!comparison || !more)) await note("feed", place);
		state.kept = page.kept ?? 0;
		if (!more) await takeKept(state.kept);
	}
	if (comparison?.why === "other" && garage.waiting().length) isWanted = true;
}

/** @param {import("./merge.js").Comparison} comparison */
async function settleUnlisted({ why, listed }) {
	const unlisted = garage.inBrief().filter(({ kind, id }) => !listed.has(`${kind}/${id}`));
	await garage.settle(unlisted, (ours, isWaiting) => (ours ? afterComparison(ours, isWaiting, why) : null));
}
