// Keeps the whole app on the phone. The server puts two constants before this
// text: FILES (path → "sha256-…" of the bytes it serves) and VERSION (the hash
// of FILES). All of a version is kept or none of it; a file that has not
// changed is taken from the version before.

const worker = /** @type {ServiceWorkerGlobalScope} */ (/** @type {unknown} */ (self));

/** @type {{[path: string]: string}} */
const files = typeof FILES === "undefined" ? {} : FILES; // bare, as in development: nothing is kept
const version = typeof VERSION === "undefined" ? "bare" : VERSION;
const prefix = "app-";
const cacheName = prefix + version;
const hashHeader = "X-Kept-Hash";

/** @param {string} path */
const at = (path) => new URL(path.replace(/^\//, ""), worker.registration.scope).href;

worker.addEventListener("install", (event) => event.waitUntil(install()));
worker.addEventListener("activate", (event) => event.waitUntil(activate()));
worker.addEventListener("fetch", (event) => {
	const url = new URL(event.request.url);
	if (event.request.method === "POST" && url.href === at("share"))
		return event.respondWith(takeShared(event.request));
	if (event.request.method !== "GET" || url.origin !== location.origin) return;
	if (url.href.startsWith(at("api/"))) return;
	event.respondWith(answer(event.request));
});
worker.addEventListener("message", (event) => {
	if (event.data === "skip-waiting") worker.skipWaiting();
	if (event.data === "version") event.source?.postMessage({ version });
});

async function install() {
	const older = await olderCaches();
	const cache = await caches.open(cacheName);
	try {
		await Promise.all(
			Object.entries(files).map(async ([path, hash]) => {
				await cache.put(at(path), (await kept(older, path, hash)) ?? (await fetched(path, hash)));
			}),
		);
	} catch (error) {
		await caches.delete(cacheName); // the version before stays whole
		throw error;
	}
}

/**
 * kept finds a file in an older version, if it is the same one.
 * @param {Cache[]} older
 * @param {string} path
 * @param {string} hash
 */
async function kept(older, path, hash) {
	for (const cache of older) {
		const response = await cache.match(at(path));
		if (response?.headers.get(hashHeader) === hash) return response;
	}
	return null;
}

/**
 * fetched gets a file from the server; the browser refuses it if its bytes do
 * not have the hash.
 * @param {string} path
 * @param {string} hash
 */
async function fetched(path, hash) {
	const response = await fetch(at(path), { integrity: hash, cache: "no-cache" });
	if (!response.ok) throw new Error(`${path}: ${response.status}`);
	const headers = new Headers(response.headers);
	headers.set(hashHeader, hash);
	headers.delete("Content-Encoding"); // the bytes kept are the plain ones
	headers.delete("Content-Length");
	return new Response(await response.arrayBuffer(), { status: 200, headers });
}

async function activate() {
	for (const name of await caches.keys()) {
		if (name.startsWith(prefix) && name !== cacheName) await caches.delete(name);
	}
	await worker.clients.claim();
}

/** @param {Request} request */
async function answer(request) {
	const cache = await caches.open(cacheName);
	const hit = await cache.match(request, { ignoreSearch: true });
	if (hit) return hit;
	if (request.mode === "navigate") {
		const page = (await cache.match(at(""))) ?? (await cache.match(at("index.html")));
		if (page) return page;
	}
	return fetch(request);
}

const largestShared = 8_000_000; // bytes; as js/figures/source-box.js has it

/**
 * takeShared keeps a table that another app hands over (share_target of the manifest), and opens its page.
 * js/figures/shared-page.js takes it from there.
 * @param {Request} request
 */
async function takeShared(request) {
	const form = await request.formData();
	const file = form.get("file");
	const isFile = file instanceof File;
	const isTooLarge = isFile && file.size > largestShared;
	const text = isFile ? (isTooLarge ? "" : await file.text()) : String(form.get("text") ?? "");
	const headers = {
		"Content-Type": "text/plain; charset=utf-8",
		"X-Name": encodeURIComponent(isFile ? file.name : String(form.get("title") ?? "")).slice(0, 600),
		"X-Too-Large": isTooLarge ? "yes" : "no",
	};
	const cache = await caches.open("shared");
	await cache.put(at("shared-figures"), new Response(text, { headers }));
	return Response.redirect(`${at("")}#/figures`, 303);
}

async function olderCaches() {
	const names = (await caches.keys()).filter((name) => name.startsWith(prefix) && name !== cacheName);
	return Promise.all(names.map((name) => caches.open(name)));
}
