// The phone's own store. Browsers drop the connection when the phone sleeps or
// memory is short, so every piece of work opens it again and tries once more.

import { connectionTo } from "./connection.js";

export { isFull } from "./connection.js";

const name = "pointsmith";
const version = 1; // part of what is stored on phones: raise it only together with an upgrade step below

/** Stores: documents by "kind/id", waiting (keys not yet on the server), drafts, and facts about this phone. */
const stores = ["documents", "waiting", "drafts", "phone"];

/** again runs work on it; a dropped connection is opened again, once. */
const again = connectionTo(name, version, stores, () => emptied.dispatchEvent(new Event("emptied")));
const emptied = new EventTarget();

/**
 * onEmptied writes the garage again when its store was deleted under the open app.
 * @param {() => {doc: AnyDoc, isWaiting: boolean}[]} inMemory @param {(error: unknown) => void} onRefused
 */
export const onEmptied = (inMemory, onRefused) =>
	emptied.addEventListener("emptied", () => {
		const all = new Map(inMemory().map((one) => [`${one.doc.kind}/${one.doc.id}`, one]));
		exchange([...all.keys()], (key, stored) => {
			const one = all.get(key);
			return stored || !one ? null : { doc: one.doc, stillWaiting: one.isWaiting };
		}).catch(onRefused);
	});

/**
 * read runs work on a read-only transaction and gives the result of the
 * request it returns.
 * @template T
 * @param {string} store
 * @param {(store: IDBObjectStore) => IDBRequest<T>} work
 * @returns {Promise<T>}
 */
export function read(store, work) {
	return again(
		(db) =>
			new Promise((resolve, reject) => {
				const request = work(db.transaction(store, "readonly").objectStore(store));
				request.onsuccess = () => resolve(request.result);
				request.onerror = () => reject(request.error);
			}),
	);
}

/**
 * glance reads some documents and whether they wait, all as they stand at one
 * moment; without keys, every document.
 * @param {string[]} [keys]
 * @returns {Promise<{doc: AnyDoc, isWaiting: boolean}[]>} those that are there
 */
export function glance(keys) {
	return again(
		(db) =>
			new Promise((resolve, reject) => {
				const transaction = db.transaction(["documents", "waiting"], "readonly");
				const [documents, waiting] = ["documents", "waiting"].map((store) => transaction.objectStore(store));
				const marks = waiting.getAllKeys();
				const found = keys ? keys.map((key) => documents.get(key)) : [documents.getAll()];
				transaction.onabort = () => reject(transaction.error);
				transaction.oncomplete = () => {
					const waits = new Set(marks.result);
					resolve(
						found
							.flatMap(({ result }) => result ?? [])
							.map((doc) => ({ doc, isWaiting: waits.has(`${doc.kind}/${doc.id}`) })),
					);
				};
			}),
	);
}

/**
 * write runs work on a transaction over all stores and resolves once the
 * browser has it: from then on it outlives the app and the browser. Waiting
 * for the disk at every keystroke would make a queue of the last ones, so the
 * disk is asked for a moment later; that is for a battery that dies.
 * @param {(store: (name: string) => IDBObjectStore) => void} work
 * @returns {Promise<void>}
 */
export function write(work) {
	flushSoon();
	return transact((store, transaction) => {
		work(store);
		transaction.commit?.();
	}, "relaxed");
}

/**
 * exchange reads documents, and whether they wait, and writes what work makes
 * of each (null: nothing), in one transaction: no other tab can write between
 * the reading and the writing. Durable as write is. Work may be asked twice
 * about the same, when the connection was lost.
 * @param {string[]} keys
 * @param {(key: string, stored: AnyDoc | null, isWaiting: boolean) => {doc: AnyDoc, stillWaiting: boolean} | null} work
 * @returns {Promise<void>}
 */
export function exchange(keys, work) {
	flushSoon();
	return transact((store, transaction, guard) => {
		const [documents, waiting] = [store("documents"), store("waiting")];
		let left = keys.length;
		const marks = waiting.getAllKeys(); // one request, and answered before those below
		/** @type {Set<IDBValidKey>} */
		let waits;
		marks.onsuccess = () => {
			waits = new Set(marks.result);
		};
		for (const key of keys) {
			const stored = documents.get(key);
			stored.onsuccess = () =>
				guard(() => {
					const outcome = work(key, stored.result ?? null, waits.has(key));
					if (outcome) documents.put(outcome.doc, key);
					if (outcome?.stillWaiting) waiting.put(outcome.doc.changedAt, key);
					else if (outcome && waits.has(key)) waiting.delete(key);
					if (--left === 0) transaction.commit?.();
				});
		}
	}, "relaxed");
}

/**
 * revise replaces a value of a store by what work makes of it (undefined: it
 * goes), in one transaction, and gives the new value.
 * @param {string} name @param {string} key @param {(value: any) => any} work
 * @returns {Promise<any>}
 */
export async function revise(name, key, work) {
	flushSoon();
	/** @type {any} */
	let next;
	await transact((store, _, guard) => {
		const found = store(name).get(key);
		found.onsuccess = () =>
			guard(() => {
				next = work(found.result);
				if (next === undefined) store(name).delete(key);
				else store(name).put(next, key);
			});
	}, "relaxed");
	return next;
}

const untilFlush = 250; // ms without another write
/** @type {any} */
let flushing = null;

function flushSoon() {
	clearTimeout(flushing);
	flushing = setTimeout(
		() => transact((store) => store("phone").put(Date.now(), "flushedAt"), "strict").catch(() => {}),
		untilFlush,
	); // one that writes nothing would flush nothing
}

/**
 * transact runs work on a transaction over all stores. What is done when a
 * request answers goes through guard, which ends the transaction on an error.
 * @param {(store: (name: string) => IDBObjectStore, transaction: IDBTransaction, guard: (step: () => void) => void) =>
 *   void} work
 * @param {"strict" | "relaxed"} durability
 * @returns {Promise<void>}
 */
function transact(work, durability) {
	return again(
		(db) =>
			new Promise((resolve, reject) => {
				const transaction = db.transaction(stores, "readwrite", { durability });
				/** @type {unknown} */
				let failure = null;
				transaction.oncomplete = () => resolve();
				transaction.onabort = () =>
					reject(failure ?? transaction.error ?? new DOMException("the phone gave up saving", "AbortError"));
				work(
					(store) => transaction.objectStore(store),
					transaction,
					(step) => {
						try {
							step();
						} catch (error) {
							failure = error;
							transaction.abort();
						}
					},
				);
			}),
	);
}
