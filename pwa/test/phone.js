// A phone for tests: the app's own garage and sync in a thread of its own, with
// an IndexedDB of its own, talking to a real server. It answers one command at
// a time: {do: name, with: [...]}.

import "fake-indexeddb/auto";
import { parentPort, workerData } from "node:worker_threads";

if (parentPort) await play(parentPort, workerData);

/** @param {import("node:worker_threads").MessagePort} port @param {{address: string, name: string}} of */
async function play(port, of) {
	Object.assign(globalThis, {
		document: { baseURI: of.address, visibilityState: "hidden", addEventListener() {} },
		addEventListener() {},
		BroadcastChannel: undefined, // the other phone is not another tab
	});
	const net = globalThis.fetch;
	let losesAnswers = false;
	/** @type {string[]} */
	const requests = [];
	globalThis.fetch = async (url, options) => {
		requests.push(`${options?.method ?? "GET"} ${new URL(url).pathname}`);
		const answer = await net(url, options);
		if (losesAnswers && options.method === "PUT") throw new TypeError("the link broke");
		return answer;
	};

	const { garage } = await import("../app/js/kept/garage.js");
	const { thisPhone } = await import("../app/js/kept/this-phone.js");
	const { syncNow, syncState, unsent } = await import("../app/js/kept/sync.js");
	const { unsaved } = await import("../app/js/kept/unsaved.js");
	const { glance } = await import("../app/js/kept/db.js");
	const { areCarried } = await import("../app/js/kept/carried.js");
	const { drafts } = await import("../app/js/kept/drafts.js");
	const { makeBackup, readBackup } = await import("../app/js/kept/backup.js");
	const { keptCopies, loadKept } = await import("../app/js/kept/copies.js");
	const { takeIn } = await import("../app/js/kept/take-in.js");
	const { keepPhoto, photoBytes, photoUse } = await import("../app/js/kept/photos/photos.js");
	const { syncPhotos } = await import("../app/js/kept/photos/photo-sync.js");
	await garage.open();
	await loadKept();
	await thisPhone.put("deviceName", of.name);

	const put = globalThis.IDBObjectStore.prototype.put;
	const commands = {
		full(/** @type {boolean} */ isFull) {
			globalThis.IDBObjectStore.prototype.put = isFull
				? () => {
						throw new DOMException("no room", "QuotaExceededError");
					}
				: put;
		},
		refusedPut: (kind, id, body) =>
			garage.put(kind, id, body).then(
				() => "taken",
				() => "refused",
			),
		unsent: () => unsent(),
		areCarried: () => areCarried(),
		draft: (key, value) => drafts.put(key, value).catch(() => {}),
		saveAgain: () => unsaved.saveAgain(),
		deleteStore: () =>
			new Promise((done) => {
				indexedDB.deleteDatabase("pointsmith").onsuccess = () => done(null);
			}),
		stored: async () => (await glance()).map(({ doc, isWaiting }) => [doc.body.name, isWaiting]),
		put: (kind, id, body) => garage.put(kind, id, body),
		get: (kind, id) => garage.get(kind, id),
		remove: (kind, id) => garage.remove(kind, id),
		waiting: () => garage.waiting(),
		kept: () => syncState().kept,
		copies: () => keptCopies().map(({ body }) => body),
		removed: () => garage.removed().map(({ id }) => id),
		everything: () => garage.everything(),
		requests: () => requests,
		exported: () => makeBackup(),
		keepPhoto: (bytes) => keepPhoto(bytes),
		photo: (id) => photoBytes(id),
		photoUse: () => photoUse(),
		syncPhotos: () => syncPhotos(),
		async takeIn(text) {
			const read = readBackup(text);
			return read.problem ?? takeIn(read);
		},
		async sync() {
			const agreed = await syncNow();
			return agreed || String(syncState().trouble?.title ?? "no answer");
		},
		async syncWithoutAnswers() {
			losesAnswers = true;
			await syncNow();
			losesAnswers = false;
		},
	};

	port.on("message", async ({ do: name, with: words }) => {
		try {
			port.postMessage({ value: await commands[name](...words) });
		} catch (error) {
			port.postMessage({ error: String(error?.stack ?? error) });
		}
	});
	port.postMessage({ value: "ready" });
}
