// The one door to the calculations: the worker on this phone answers, and
// where it cannot start the server is asked instead, with the same words.

import { Messenger } from "./messenger.js";
import { hasServer } from "../kept/server.js";
import { appURL, hasWasm, scriptURL, timeLimit } from "../kit/platform.js";

const events = new EventTarget();
/** @type {Messenger | null} */
let messenger = null;

/** start wakes the engine; call does it too, so this only saves time. */
export function start() {
	if (!hasWasm) return null;
	messenger ??= new Messenger(
		() => new Worker(scriptURL(new URL("worker.js", import.meta.url)), { type: "module", name: "calculation" }),
		(state) => queueMicrotask(() => events.dispatchEvent(new CustomEvent("state", { detail: state }))),
	);
	return messenger;
}

/**
 * call runs a calculation. It fails with a Problem naming field, limit and
 * what to do.
 * @param {string} method
 * @param {unknown} input
 * @returns {Promise<any>}
 */
export async function call(method, input) {
	try {
		const here = start();
		if (here) return await here.ask(method, input);
	} catch (problem) {
		if (!(/** @type {any} */ (problem)?.unanswered)) throw problem;
	}
	return askServer(method, input);
}

/** engineState is "starting", "ready" or "failed" (then the server is asked). */
export function engineState() {
	return messenger?.state ?? (hasWasm ? "starting" : "failed");
}

const rest = 500; // ms without a question: the page on the screen has asked what it asks (judgement)

/**
 * engineRests comes when the engine has had nothing to do for a moment, or cannot start.
 * @param {number} [most] ms to wait at most
 */
export async function engineRests(most = 15_000) {
	const end = Date.now() + most;
	for (let since = Date.now(); Date.now() < end && Date.now() - since < rest;) {
		await new Promise((done) => setTimeout(done, rest / 5));
		if (messenger?.isAtWork) since = Date.now();
	}
}

/** engineTrouble says why the engine failed, or "". */
export function engineTrouble() {
	return messenger?.why ?? (hasWasm ? "" : "this browser has no WebAssembly");
}

/**
 * onReady calls fn once the engine answers, at once if it does already.
 * @param {() => void} fn
 * @returns {() => void} a function that stops it
 */
export function onReady(fn) {
	start();
	if (engineState() === "ready") {
		queueMicrotask(fn);
		return () => {};
	}
	return onState((state) => {
		if (state === "ready") fn();
	});
}

/**
 * onState calls fn at every change of the engine's state.
 * @param {(state: string) => void} fn
 * @returns {() => void}
 */
export function onState(fn) {
	const listener = (/** @type {any} */ event) => fn(event.detail);
	events.addEventListener("state", listener);
	return () => events.removeEventListener("state", listener);
}

/** @param {string} method @param {unknown} input */
async function askServer(method, input) {
	let response;
	try {
		if (!hasServer()) throw new TypeError("there is no server to ask");
		response = await fetch(appURL(`api/v1/calc/${encodeURIComponent(method)}`), {
			method: "POST",
			headers: { "Content-Type": "application/json" },
			body: JSON.stringify(input),
			signal: timeLimit(15_000),
		});
	} catch {
		throw /** @type {Problem} */ ({
			title: "Nothing can calculate just now",
			detail: `The engine on this phone did not start (${engineTrouble()}) and ${hasServer() ? "the server does not answer" : "there is no server to ask"}.`,
			do: `Go on entering: everything is saved. Reload the app${hasServer() ? ", or connect to the server," : ""} for the verdict.`,
		});
	}
	const answer = await response
		.json()
		.catch(() => ({ title: `The server answered ${response.status} without an explanation` }));
	if (!response.ok) throw answer;
	return answer;
}
