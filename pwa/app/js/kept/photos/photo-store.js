// The pictures on this phone. They have a store of their own, apart from the
// documents (kept/db.js): a picture being written keeps no keystroke waiting,
// and an older app in another tab, or one put back, still opens its garage.

import { connectionTo } from "../connection.js";

const name = "pointsmith-photos";
const version = 1; // part of what is stored on phones

/**
 * @typedef {{id: string, bytes: number, at: string, sentTo: string, takenFor?: string}} Held sentTo: the garage it is
 *   known to be in; takenFor: the car it was taken for, until a visit names it
 */

const again = connectionTo(name, version, ["pictures", "index"]);

/**
 * put keeps a picture. It resolves once the phone has it; without room it fails (isFull of kept/db.js).
 * @param {string} id @param {Uint8Array} photo @param {{sentTo?: string, takenFor?: string}} [from]
 */
export const put = (id, photo, { sentTo = "", takenFor } = {}) =>
	work("readwrite", (pictures, index) => {
		const known = index.get(id);
		known.onsuccess = () => {
			if (!known.result) pictures.put(photo, id);
			const held = known.result ?? { id, bytes: photo.length, at: new Date().toISOString(), sentTo };
			if (!known.result || takenFor) index.put(takenFor ? { ...held, takenFor } : held, id);
		};
		return known;
	});

/** get gives a picture, or undefined. @param {string} id @returns {Promise<Uint8Array<ArrayBuffer> | undefined>} */
export const get = (id) => work("readonly", (pictures) => pictures.get(id));

/** held lists what is here, without the pictures. @returns {Promise<Held[]>} */
export const held = () => work("readonly", (_, index) => index.getAll());

/** note changes what is said of a picture, where it is here. @param {string} id @param {Partial<Held>} what */
export const note = (id, what) =>
	work("readwrite", (_, index) => {
		const known = index.get(id);
		known.onsuccess = () => {
			if (known.result) index.put({ ...known.result, ...what }, id);
		};
		return known;
	});

/**
 * work gives the result of the request it returns, once the transaction is through.
 * @param {IDBTransactionMode} mode @param {(pictures: IDBObjectStore, index: IDBObjectStore) => IDBRequest} ask
 * @returns {Promise<any>}
 */
const work = (mode, ask) => again((db) => through(db, mode, ask));

/**
 * @param {IDBDatabase} db @param {IDBTransactionMode} mode
 * @param {(pictures: IDBObjectStore, index: IDBObjectStore) => IDBRequest} ask
 */
const through = (db, mode, ask) =>
	new Promise((resolve, reject) => {
		// strict: a photo cannot be typed again, and they come seldom
		const transaction = db.transaction(["pictures", "index"], mode, { durability: "strict" });
		const request = ask(transaction.objectStore("pictures"), transaction.objectStore("index"));
		transaction.oncomplete = () => resolve(request.result);
		transaction.onabort = () =>
			reject(transaction.error ?? new DOMException("the phone gave up saving", "AbortError"));
	});
