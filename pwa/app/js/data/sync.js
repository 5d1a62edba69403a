// Sends what changed here to the server and fetches what changed there, when a
// server answers. Nothing waits for it and it may never succeed: the phone's
// own store is the truth. navigator.onLine is not asked, because it says "yes"
// with the server switched off.

import { afterComparison, afterPull, afterPush } from "./merge.js";
import { garage } from "./garage.js";
import { appURL, timeLimit } from "../platform.js";

const soon = 1_000; // ms after a change
const often = 30_000; // ms between looks while the server answers
const seldom = 300_000; // ms at most between tries while it does not

const events = new EventTarget();
/** @type {{at: Date | null, trouble: Problem | null, refused: {key: string, problem: Problem}[], kept: number}} */
const state = { at: null, trouble: null, refused: [], kept: 0 };
let pause = often;
let isBusy = false;
let isWanted = false;
/** @type {any} */
let timer = null;

/** syncState: when the server last agreed, why it refuses us, what it refused, how many copies there wait for a choice. */
export const syncState = () => state;

/** @param {() => void} fn @returns {() => void} a function that stops it */
export function onSync(fn) {
	events.addEventListener("sync", fn);
	return () => events.removeEventListener("sync", fn);
}

/** startSync begins; call it once the garage is open. */
export async function startSync() {
	const at = await garage.phone("syncedAt");
	if (at) state.at = new Date(at);
	garage.on("change", (change) => { if (change.from === "here") schedule(soon); });
	document.addEventListener("visibilitychange", () => { if (document.visibilityState === "visible") schedule(0); });
	addEventListener("online", () => schedule(0));
	schedule(0);
}

/** join keeps the key of a garage and syncs with it. @param {string} key */
export async function join(key) {
	await garage.setPhone("garageKey", key);
	state.trouble = null;
	return syncNow();
}

/** syncNow makes one round and says whether the server answered and agreed. */
export async function syncNow() {
	if (isBusy) {
		isWanted = true;
		return false;
	}
	isBusy = true;
	try {
		await push();
		await pull();
		state.at = new Date();
		state.trouble = null;
		await garage.setPhone("syncedAt", state.at.toISOString());
		pause = often;
		return true;
	} catch (error) {
		if (/** @type {any} */ (error)?.status) state.trouble = /** @type {Problem} */ (error);
		pause = Math.min(seldom, pause * 2);
		return false;
	} finally {
		isBusy = false;
		events.dispatchEvent(new Event("sync"));
		// What was typed during the round waits too; what was refused waits for a change.
		const isSoon = isWanted || (!state.trouble && pause === often && garage.waiting().length > state.refused.length);
		schedule(isSoon ? soon : pause);
		isWanted = false;
	}
}

/** @param {number} wait ms */
function schedule(wait) {
	clearTimeout(timer);
	timer = setTimeout(() => { if (document.visibilityState === "visible" || wait <= soon) syncNow(); }, wait);
}

async function push() {
	state.refused = [];
	const sending = await garage.phone("sending");
	if (sending) await pushOne(sending);
	for (const key of garage.waiting()) {
		const [kind, id] = /** @type {[Kind, string]} */ (key.split("/"));
		const doc = garage.get(kind, id);
		if (doc) await pushOne(doc);
	}
}

/**
 * pushOne sends a document. It is remembered until that very push has been
 * answered: when the answer is lost, the same is sent again, and the server
 * knows it again. What has been typed since then follows it, edited from it.
 * @param {AnyDoc} doc
 */
async function pushOne(doc) {
	await garage.setPhone("sending", doc);
	const path = `${doc.kind}/${doc.id}`;
	const words = { base: doc.revision, changedAt: doc.changedAt, device: (await garage.phone("deviceName")) ?? "" };
	try {
		const answer = doc.deleted ? await ask("DELETE", path, words) : await ask("PUT", path, { ...words, body: doc.body });
		const next = afterPush(garage.get(doc.kind, doc.id) ?? doc, doc, answer);
		if (next) await garage.settle(next.doc, next.stillWaiting);
	} catch (problem) {
		if (![400, 409, 413, 422].includes(/** @type {any} */ (problem)?.status)) throw problem;
		state.refused.push({ key: path, problem: /** @type {Problem} */ (problem) });
	}
	await garage.setPhone("sending", undefined);
}

/**
 * pull fetches page by page what changed since last time; it can break off
 * after any page. When the server asks for it, everything is compared: that
 * has to go through in one piece, or it begins anew next time.
 */
async function pull() {
	let place = (await garage.phone("feed")) ?? { cursor: (await garage.phone("cursor")) ?? 0, garage: "" };
	/** @type {import("./merge.js").Comparison | null} */
	let comparison = null;
	for (let more = true; more;) {
		const page = await ask("GET", `?after=${encodeURIComponent(place.cursor)}&garage=${encodeURIComponent(place.garage)}`);
		if (page.compare) comparison = { why: page.compare, listed: new Set() };
		for (const theirs of page.documents) {
			comparison?.listed.add(`${theirs.kind}/${theirs.id}`);
			const next = afterPull(garage.get(theirs.kind, theirs.id), theirs, garage.isWaiting(theirs.kind, theirs.id), comparison?.why);
			if (next) await garage.settle(next.doc, next.stillWaiting);
		}
		const isNew = page.cursor !== place.cursor || page.garage !== place.garage;
		place = { cursor: page.cursor, garage: page.garage };
		state.kept = page.kept;
		more = page.more;
		if (comparison && !more) await settleUnlisted(comparison);
		if (isNew && (!comparison || !more)) await garage.setPhone("feed", place);
	}
	if (comparison?.why === "other" && garage.waiting().length) isWanted = true;
}

/** @param {import("./merge.js").Comparison} comparison */
async function settleUnlisted({ why, listed }) {
	for (const { kind, id } of garage.everything()) {
		const ours = garage.get(kind, id);
		const next = ours && !listed.has(`${kind}/${id}`) ? afterComparison(ours, garage.isWaiting(kind, id), why) : null;
		if (next) await garage.settle(next.doc, next.stillWaiting);
	}
}

/**
 * ask talks to the garage on the server; a refusal is thrown as its Problem.
 * @param {string} method
 * @param {string} path
 * @param {unknown} [body]
 */
async function ask(method, path, body) {
	const key = await garage.phone("garageKey");
	const headers = /** @type {{[name: string]: string}} */ ({});
	if (key) headers.Authorization = `Bearer ${key}`;
	if (body !== undefined) headers["Content-Type"] = "application/json";
	const response = await fetch(appURL("api/v1/garage" + (path.startsWith("?") ? path : "/" + path)), {
		method, headers, cache: "no-store", body: body === undefined ? undefined : JSON.stringify(body), signal: timeLimit(15_000),
	});
	const type = response.headers.get("Content-Type") ?? "";
	if (!type.includes("json")) throw new Error("no Pointsmith server at this address"); // a plain web host answers with a page
	const answer = await response.json();
	if (!response.ok) throw { ...answer, status: response.status };
	return answer;
}
