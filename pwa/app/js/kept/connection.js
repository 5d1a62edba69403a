// A connection to a store of this phone. Browsers drop it when the phone sleeps
// or memory is short: it is opened again, and the work tried once more.

/**
 * connectionTo gives what runs work on a store, with its object stores.
 * @param {string} name @param {number} version part of what is stored on phones: raise it only with a step to upgrade
 * @param {readonly string[]} stores
 * @returns {<T>(work: (db: IDBDatabase) => Promise<T>) => Promise<T>}
 */
export function connectionTo(name, version, stores) {
	/** @type {Promise<IDBDatabase> | null} */
	let connection = null;
	const forget = () => {
		connection = null;
	};
	const drop = () => {
		connection?.then(
			(db) => db.close(),
			() => {},
		);
		forget();
	};
	const open = () => {
		connection ??= opened(name, version, stores, { drop, forget });
		connection.catch(forget);
		return connection;
	};
	// A frozen page that holds a connection can block every other one.
	globalThis.document?.addEventListener("freeze", drop);
	return async (work) => {
		try {
			return await work(await open());
		} catch (error) {
			if (isFull(error)) throw error;
			drop();
			return work(await open());
		}
	};
}

/**
 * @param {string} name @param {number} version @param {readonly string[]} stores
 * @param {{drop: () => void, forget: () => void}} on
 * @returns {Promise<IDBDatabase>}
 */
const opened = (name, version, stores, { drop, forget }) =>
	new Promise((resolve, reject) => {
		const request = indexedDB.open(name, version);
		request.onupgradeneeded = () => {
			for (const store of stores) {
				if (!request.result.objectStoreNames.contains(store)) request.result.createObjectStore(store);
			}
		};
		request.onsuccess = () => {
			const db = request.result;
			db.onversionchange = drop; // a newer version of the app waits in another tab
			db.onclose = forget;
			resolve(db);
		};
		request.onerror = () => reject(request.error);
	});

/**
 * isFull says whether an error means that the phone has no room left.
 * @param {any} error
 */
export function isFull(error) {
	return error?.name === "QuotaExceededError";
}
