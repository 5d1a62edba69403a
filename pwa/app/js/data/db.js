// The phone's own store. Browsers drop the connection when the phone sleeps or
// memory is short, so every piece of work opens it again and tries once more.

const name = "pointsmith";
const version = 1; // part of what is stored on phones: raise it only together with an upgrade step below

/** Stores: documents by "kind/id", waiting (keys not yet on the server), drafts, and facts about this phone. */
const stores = ["documents", "waiting", "drafts", "phone"];

/** @type {Promise<IDBDatabase> | null} */
let connection = null;

/**
 * read runs work on a read-only transaction and gives the result of the
 * request it returns.
 * @template T
 * @param {string} store
 * @param {(store: IDBObjectStore) => IDBRequest<T>} work
 * @returns {Promise<T>}
 */
export function read(store, work) {
	return again((db) => new Promise((resolve, reject) => {
		const request = work(db.transaction(store, "readonly").objectStore(store));
		request.onsuccess = () => resolve(request.result);
		request.onerror = () => reject(request.error);
	}));
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
	clearTimeout(flushing);
	flushing = setTimeout(() => transact(() => {}, "strict").catch(() => {}), untilFlush);
	return transact(work, "relaxed");
}

const untilFlush = 250; // ms without another write
/** @type {any} */
let flushing = null;

/**
 * @param {(store: (name: string) => IDBObjectStore) => void} work
 * @param {"strict" | "relaxed"} durability
 * @returns {Promise<void>}
 */
function transact(work, durability) {
	return again((db) => new Promise((resolve, reject) => {
		const transaction = db.transaction(stores, "readwrite", { durability });
		transaction.oncomplete = () => resolve();
		transaction.onabort = () => reject(transaction.error ?? new DOMException("the phone gave up saving", "AbortError"));
		work((store) => transaction.objectStore(store));
		if (durability === "strict") transaction.objectStore("phone").put(Date.now(), "flushedAt"); // one that writes nothing would flush nothing
		transaction.commit?.();
	}));
}

/**
 * isFull says whether an error means that the phone has no room left.
 * @param {any} error
 */
export function isFull(error) {
	return error?.name === "QuotaExceededError";
}

/**
 * @template T
 * @param {(db: IDBDatabase) => Promise<T>} work
 * @returns {Promise<T>}
 */
async function again(work) {
	try {
		return await work(await open());
	} catch (error) {
		if (isFull(error)) throw error;
		drop();
		return work(await open());
	}
}

function open() {
	connection ??= new Promise((resolve, reject) => {
		const request = indexedDB.open(name, version);
		request.onupgradeneeded = () => {
			for (const store of stores) {
				if (!request.result.objectStoreNames.contains(store)) request.result.createObjectStore(store);
			}
		};
		request.onsuccess = () => {
			const db = request.result;
			db.onversionchange = drop; // a newer version of the app waits in another tab
			db.onclose = () => { connection = null; };
			resolve(db);
		};
		request.onerror = () => reject(request.error);
	});
	connection.catch(() => { connection = null; });
	return connection;
}

function drop() {
	connection?.then((db) => db.close(), () => {});
	connection = null;
}

// A frozen page that holds a connection can block every other one.
globalThis.document?.addEventListener("freeze", drop);
