// What this browser can and cannot do. Every feature test of the app is here:
// over plain HTTP many of these are missing and the app must still work.

/** True where a service worker can keep the app for use without a network. */
export const canWorkOffline =
	globalThis.isSecureContext === true && "serviceWorker" in navigator && "caches" in globalThis;

export const hasWasm = typeof WebAssembly === "object" && typeof Worker === "function";
export const hasBroadcast = typeof BroadcastChannel === "function";

const policy = /** @type {any} */ (globalThis).trustedTypes?.createPolicy("pointsmith", {
	/** @param {string} url */
	createScriptURL(url) {
		if (new URL(url, document.baseURI).origin !== location.origin)
			throw new TypeError("only this app's own scripts may run");
		return url;
	},
});

/**
 * breath lets the browser draw and hear in between two parts of a long piece of work.
 * @returns {Promise<void>}
 */
export const breath = () =>
	/** @type {any} */ (globalThis).scheduler?.yield?.() ?? new Promise((done) => setTimeout(done));

/**
 * scriptURL marks one of our own addresses as a script that may be started.
 * @param {string | URL} url
 * @returns {any}
 */
export function scriptURL(url) {
	return policy ? policy.createScriptURL(String(url)) : String(url);
}

/**
 * appURL resolves a path of the app, wherever the app is served from.
 * @param {string} path without a leading slash
 */
export function appURL(path) {
	return new URL(path, document.baseURI.replace(/[?#].*$/, "")).href;
}

/**
 * randomID makes an id of 20 characters of [a-z0-9]. It does without
 * crypto.randomUUID, which plain HTTP does not have.
 */
export function randomID() {
	const letters = "abcdefghijklmnopqrstuvwxyz0123456789";
	let id = "";
	while (id.length < 20) {
		for (const byte of crypto.getRandomValues(new Uint8Array(32))) {
			if (byte < 252 && id.length < 20) id += letters[byte % 36]; // 252 = 7 × 36: every letter equally likely
		}
	}
	return id;
}

/** @type {Map<string, number>} since when a work has been another tab's, ms */
const elsewhere = new Map();

/**
 * onlyHere does work while no other tab of the app does work of that name. It
 * gives false, and does nothing, when one is at it; but not for ever: a tab
 * that the phone has put to sleep may hold on to it. Where the browser has no
 * locks (over plain HTTP, and old ones) the work is done all the same.
 * @param {string} name @param {() => Promise<void>} work @param {number} patience ms
 * @returns {Promise<boolean>}
 */
export async function onlyHere(name, work, patience) {
	const locks = globalThis.navigator?.locks;
	if (!locks) {
		await work();
		return true;
	}
	return locks.request(name, { ifAvailable: true }, async (lock) => {
		const since = elsewhere.get(name) ?? Date.now();
		if (!lock && Date.now() - since < patience) {
			elsewhere.set(name, since);
			return false;
		}
		elsewhere.delete(name);
		await work();
		return true;
	});
}

/**
 * timeLimit is a signal that aborts after the given time.
 * @param {number} ms
 * @returns {AbortSignal | undefined}
 */
export function timeLimit(ms) {
	return typeof AbortSignal.timeout === "function" ? AbortSignal.timeout(ms) : undefined;
}

/** Whether this is the app on the home screen, not a page in a browser. */
export const isInstalled =
	globalThis.matchMedia?.("(display-mode: standalone)").matches === true ||
	/** @type {any} */ (globalThis.navigator)?.standalone === true;

/** askToKeep asks the browser not to clear the garage when space is short. */
export async function askToKeep() {
	try {
		return (await navigator.storage?.persist?.()) ?? false;
	} catch {
		return false;
	}
}

/** isKept says whether the browser has promised not to clear the garage; null where it does not tell. */
export async function isKept() {
	try {
		return (await navigator.storage?.persisted?.()) ?? null;
	} catch {
		return null;
	}
}

/** roomLeft gives the bytes that the browser would still keep; null where it does not tell. */
export async function roomLeft() {
	try {
		const { quota, usage } = (await globalThis.navigator?.storage?.estimate?.()) ?? {};
		return quota === undefined || usage === undefined ? null : Math.max(0, quota - usage);
	} catch {
		return null;
	}
}

/**
 * stayAwake keeps the screen on until the signal aborts, where the browser
 * can, and calls back where it cannot or will not. The lock is lost when the
 * page is hidden, so it is taken again.
 * @param {AbortSignal} signal @param {(why: string) => void} sleeps
 */
export function stayAwake(signal, sleeps) {
	const wakeLock = /** @type {any} */ (navigator).wakeLock;
	if (!wakeLock || !globalThis.isSecureContext)
		return sleeps("This browser cannot keep the screen on at this address.");
	/** @type {any} */
	let lock = null;
	const take = async () => {
		if (document.visibilityState !== "visible" || signal.aborted) return;
		try {
			lock = await wakeLock.request("screen");
			if (signal.aborted) lock.release();
		} catch {
			if (!signal.aborted) sleeps("The browser would not keep the screen on; a low battery is the usual reason.");
		}
	};
	document.addEventListener("visibilitychange", take, { signal });
	signal.addEventListener("abort", () => lock?.release());
	take();
}

/** Whether this browser can shake the phone. */
export const canVibrate = typeof globalThis.navigator?.vibrate === "function";

/** vibrate shakes the phone where it can. @param {number[]} pattern ms on and off in turn */
export function vibrate(pattern) {
	try {
		navigator.vibrate?.(pattern);
	} catch {
		// Not allowed before a tap: sound and screen remain.
	}
}

/**
 * sounder makes short tones. A browser lets it sound only after a tap; wake
 * is called from one.
 */
export function sounder() {
	/** @type {AudioContext | null} */
	let audio = null;
	return {
		wake() {
			try {
				audio ??= new AudioContext();
				if (audio.state === "suspended") audio.resume().catch(() => {});
			} catch {
				audio = null; // no sound here: vibration and screen remain
			}
		},
		isAwake: () => audio?.state === "running",
		/** @param {number} hertz @param {number} seconds */
		beep(hertz, seconds) {
			if (!audio || audio.state !== "running") return;
			const tone = audio.createOscillator();
			const loudness = audio.createGain();
			const from = audio.currentTime;
			tone.type = "square";
			tone.frequency.value = hertz;
			loudness.gain.setValueAtTime(0, from);
			loudness.gain.linearRampToValueAtTime(0.5, from + 0.02);
			loudness.gain.setValueAtTime(0.5, from + seconds - 0.03);
			loudness.gain.linearRampToValueAtTime(0, from + seconds);
			tone.connect(loudness).connect(audio.destination);
			tone.start(from);
			tone.stop(from + seconds);
		},
		/** Frees the sound of the phone. */
		rest() {
			audio?.close().catch(() => {});
			audio = null;
		},
	};
}

/** Whether this browser has a share sheet for text. */
export const canShare = () => typeof globalThis.navigator?.share === "function";

/**
 * canShareFiles says whether the share sheet takes a page as a file.
 * @param {string} name of the file
 */
export function canShareFiles(name) {
	try {
		return canShare() && navigator.canShare({ files: [new File(["x"], name, { type: "text/html" })] });
	} catch {
		return false; // no canShare, or no File: an old browser
	}
}

/**
 * share opens the share sheet. It gives false when the person turned it down.
 * @param {{title: string, text?: string, url?: string, files?: File[]}} what
 */
export async function share(what) {
	try {
		await navigator.share(what);
		return true;
	} catch (error) {
		if (/** @type {any} */ (error)?.name === "AbortError") return false;
		throw error;
	}
}

/**
 * copy puts a text on the clipboard. It gives false where the browser has no
 * clipboard for this page: the text must then be selected by hand.
 * @param {string} text
 */
export async function copy(text) {
	try {
		await navigator.clipboard.writeText(text);
		return true;
	} catch {
		return false;
	}
}

/** Whether other machines cannot reach this address. */
export const isOnlyHere = /^(localhost|127\.|\[::1\]|0\.0\.0\.0)/.test(globalThis.location?.hostname ?? "");
