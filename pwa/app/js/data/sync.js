// Sends what changed here to the server and fetches what changed there, when a
// server answers. Nothing waits for it and it may never succeed: the phone's
// own store is the truth. navigator.onLine is not asked, because it says "yes"
// with the server switched off.

import { afterPull, afterPush, unite } from "./merge.js";
import { garage } from "./garage.js";
import { appURL, timeLimit } from "../platform.js";

const soon = 1_000; // ms after a change
const often = 30_000; // ms between looks while the server answers
const seldom = 300_000; // ms at most between tries while it does not

const events = new EventTarget();
/** @type {{at: Date | null, trouble: Problem | null, refused: {key: string, problem: Problem}[]}} */
const state = { at: null, trouble: null, refused: [] };
let pause = often;
let isBusy = false;
let isWanted = false;
/** @type {any} */
let timer = null;

/** syncState: when the server last agreed, why it refuses us, what it refused. */
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
		schedule(isWanted ? soon : pause);
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
	for (const key of garage.waiting()) {
		const [kind, id] = /** @type {[Kind, string]} */ (key.split("/"));
		const doc = garage.get(kind, id);
		if (doc) await pushOne(doc);
	}
}

/** @param {AnyDoc} doc */
async function pushOne(doc) {
	const path = `${doc.kind}/${doc.id}`;
	const words = { base: doc.revision, changedAt: doc.changedAt };
	let answer;
	try {
		answer = doc.deleted ? await ask("DELETE", path, words) : await ask("PUT", path, { ...words, body: doc.body });
	} catch (problem) {
		const { status } = /** @type {any} */ (problem);
		if (doc.deleted && status === 404) answer = { revision: doc.revision }; // it never got there
		else if (status === 422 || status === 413 || status === 400) return void state.refused.push({ key: path, problem: /** @type {Problem} */ (problem) });
		else throw problem;
	}
	if (!answer.kept) {
		const { doc: next, stillWaiting } = afterPush(garage.get(doc.kind, doc.id) ?? doc, doc, answer);
		return garage.settle(next, stillWaiting);
	}
	const theirs = await ask("GET", path);
	const { doc: next, needsPush } = unite(garage.get(doc.kind, doc.id) ?? doc, theirs);
	await garage.settle(needsPush ? { ...next, changedAt: new Date().toISOString() } : next, needsPush);
	if (needsPush) isWanted = true;
}

async function pull() {
	const after = (await garage.phone("cursor")) ?? 0;
	const { cursor, documents } = await ask("GET", `?after=${encodeURIComponent(after)}`);
	for (const theirs of documents) {
		const next = afterPull(garage.get(theirs.kind, theirs.id), theirs, garage.isWaiting(theirs.kind, theirs.id));
		if (next) await garage.settle(next, false);
	}
	if (cursor !== after) await garage.setPhone("cursor", cursor);
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
