// Keeps the app on the phone: registers the service worker, says when it is
// ready, and brings new versions in without taking anything away.

import { appURL, canWorkOffline, scriptURL } from "../kit/platform.js";

const between = 30_000; // ms at least between two looks for a new version
const events = new EventTarget();
let state = canWorkOffline ? "starting" : "impossible";
/** What tells the person. @type {Telling} */
let telling = { offer: (take) => take(), announce() {} };
let wasTouched = false;
let lastLook = 0;

/**
 * @typedef {{offer: (take: () => void) => void, announce: (text: string) => void}} Telling offer: asks whether to take
 *   the new version in now
 */

/** offlineState is "impossible", "starting", "ready" or "failed". */
export const offlineState = () => state;

/** @param {() => void} fn @returns {() => void} a function that stops it */
export function onOffline(fn) {
	events.addEventListener("state", fn);
	return () => events.removeEventListener("state", fn);
}

/** startOffline is called once, at start. @param {Telling} tell */
export async function startOffline(tell) {
	telling = tell;
	if (!canWorkOffline) return;
	for (const event of ["input", "pointerdown", "keydown"])
		addEventListener(
			event,
			() => {
				wasTouched = true;
			},
			{ once: true, capture: true },
		);
	const hadWorker = Boolean(navigator.serviceWorker.controller);
	try {
		const registration = await navigator.serviceWorker.register(scriptURL(appURL("sw.js")), {
			updateViaCache: "none",
		});
		if (registration.waiting) newVersion(registration.waiting);
		registration.addEventListener("updatefound", () => watch(registration, registration.installing));
		watch(registration, registration.installing);
		lookForUpdates(registration);
		reloadOnTakeover(hadWorker);
		await navigator.serviceWorker.ready;
		become("ready");
		if (!hadWorker) telling.announce("Ready to work offline.");
	} catch (error) {
		console.warn("service worker", error);
		become("failed");
	}
}

/** @param {ServiceWorkerRegistration} registration @param {ServiceWorker | null} worker */
function watch(registration, worker) {
	worker?.addEventListener("statechange", () => {
		if (worker.state === "installed" && navigator.serviceWorker.controller) newVersion(worker);
		if (worker.state === "redundant" && !registration.active) become("failed");
	});
}

/** @param {ServiceWorker} worker */
function newVersion(worker) {
	const take = () => worker.postMessage("skip-waiting");
	if (wasTouched) telling.offer(take);
	else take();
}

/** @param {boolean} hadWorker */
function reloadOnTakeover(hadWorker) {
	let isReloading = false;
	navigator.serviceWorker.addEventListener("controllerchange", () => {
		if (!hadWorker || isReloading) {
			// the first worker takes over a page that is already right
			hadWorker = true;
			return;
		}
		isReloading = true;
		location.reload();
	});
}

/** @param {ServiceWorkerRegistration} registration */
function lookForUpdates(registration) {
	const look = () => {
		if (document.visibilityState !== "visible" || Date.now() - lastLook < between) return;
		lastLook = Date.now();
		registration.update().catch(() => {}); // no server: the version here goes on working
	};
	document.addEventListener("visibilitychange", look);
	addEventListener("pageshow", look);
	addEventListener("focus", look);
	lastLook = Date.now();
}

/**
 * forget takes the app's files off the phone so that they are fetched afresh.
 * The garage (IndexedDB) is not touched.
 */
export async function forget() {
	if (!canWorkOffline) return;
	for (const registration of await navigator.serviceWorker.getRegistrations()) await registration.unregister();
	for (const name of await caches.keys()) await caches.delete(name);
}

/** @param {string} next */
function become(next) {
	state = next;
	events.dispatchEvent(new Event("state"));
}
