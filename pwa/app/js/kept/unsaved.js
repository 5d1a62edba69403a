// What the phone would not take: it is counted, said on the screen, and tried
// again by itself every few seconds.

import { isFull } from "./db.js";

const patience = 5_000; // ms until what could not be saved is tried again. Chosen
const events = new EventTarget();
/** @type {Set<Unsaved>} */
const all = new Set();
/** @type {any} */
let retrying = null;
let isNoRoom = false;
let wasRefused = false;

export const unsaved = {
	/** count counts documents and drafts of which the phone does not have the last change. */
	count: () => [...all].reduce((sum, { size }) => sum + size, 0),

	/** isNoRoom says whether it would not take them because it is full. */
	isNoRoom: () => isNoRoom,

	/** isRefused says whether the phone would not take something that is still not saved. */
	isRefused: () => wasRefused && unsaved.count() > 0,

	/** every says whether of all that is not saved it is so. @param {(key: string) => boolean} isSo */
	every: (isSo) => [...all].every((one) => one.keys().every(isSo)),

	/** saveAgain tries once more what the phone would not take. */
	async saveAgain() {
		for (const one of all) await one.saveAgain();
	},

	/**
	 * on calls fn when a draft was refused, or taken after all, and gives a function that stops it.
	 * @param {() => void} fn
	 */
	on(fn) {
		events.addEventListener("unsaved", fn);
		return () => events.removeEventListener("unsaved", fn);
	},

	/** tell tells those who listen. */
	tell() {
		events.dispatchEvent(new Event("unsaved"));
	},
};

/** Unsaved is what of one kind the phone does not have yet, by key. */
export class Unsaved {
	/** @type {Map<string, unknown>} */
	#held = new Map();
	#save;

	/** @param {(key: string, value: any) => Promise<unknown>} save tries once more; it never fails */
	constructor(save) {
		this.#save = save;
		all.add(this);
	}

	get size() {
		return this.#held.size;
	}

	keys() {
		return [...this.#held.keys()];
	}

	/** @param {string} key */
	has(key) {
		return this.#held.has(key);
	}

	/** @param {string} key @param {unknown} [value] */
	add(key, value) {
		this.#held.set(key, value);
	}

	/** @param {string} key */
	delete(key) {
		return this.#held.delete(key);
	}

	/** refused has everything tried again in a while. @param {unknown} error */
	refused(error) {
		isNoRoom = isFull(error);
		wasRefused = true;
		clearTimeout(retrying);
		retrying = setTimeout(() => unsaved.saveAgain(), patience);
	}

	async saveAgain() {
		for (const [key, value] of [...this.#held]) await this.#save(key, value);
	}
}
