// A connection to a store of this phone. Browsers drop it when the phone sleeps
// or memory is short: it is opened again, and the work tried once more.

const untilLook = 500; // ms from a connection that was taken away to a new one. Chosen

/**
 * connectionTo gives what runs work on a store, with its object stores.
 * @param {string} name @param {number} version part of what is stored on phones: raise it only with a step to upgrade
 * @param {readonly string[]} stores
 * @param {() => void} [onEmptied] called where the store was deleted under the open app, and stands anew and empty
 * @returns {<T>(work: (db: IDBDatabase) => Promise<T>) => Promise<T>}
 */
export function connectionTo(name, version, stores, onEmptied = () => {}) {
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
	let wasOpen = false;
	const open = () => {
		connection ??= opened(name, version, stores, { drop: dropAndLook, forget: forgetAndLook }).then(
			({ db, isNew }) => {
				if (isNew && wasOpen) onEmptied();
				wasOpen = true;
				return db;
			},
		);
		connection.catch(forget);
		return connection;
	};
	// Nobody may type for a long time: whether the store was deleted is seen to at once.
	const look = () => setTimeout(() => open().catch(() => {}), untilLook);
	const dropAndLook = () => {
		drop();
		look();
	};
	const forgetAndLook = () => {
		forget();
		look();
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
 * @returns {Promise<{db: IDBDatabase, isNew: boolean}>}
 */
const opened = (name, version, stores, { drop, forget }) =>
	new Promise((resolve, reject) => {
		const request = indexedDB.open(name, version);
		let isNew = false;
		request.onupgradeneeded = ({ oldVersion }) => {
			isNew = oldVersion === 0;
			for (const store of stores) {
				if (!request.result.objectStoreNames.contains(store)) request.result.createObjectStore(store);
			}
		};
		request.onsuccess = () => {
			const db = request.result;
			db.onversionchange = drop; // a newer version of the app waits in another tab
			db.onclose = forget;
			resolve({ db, isNew });
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
