// The calculation engine, off the page's thread. It says {ready: true} once,
// or {ready: false, why}, then answers {id, method, input} with
// {id, ok, value}: value is the method's output, or a problem document.

const scope = /** @type {DedicatedWorkerGlobalScope} */ (/** @type {unknown} */ (self));

/** @returns {any} what the Go program leaves behind */
const engine = () => /** @type {any} */ (globalThis).pointsmith;

/** @param {string} name a file that go generate leaves in wasm/ */
const beside = (name) => new URL(`../../wasm/${name}`, import.meta.url).href;

async function start() {
	await import(beside("wasm_exec.js")); // for its side effect; it comes from the Go that built the engine
	const go = new /** @type {any} */ (globalThis).Go();
	const { instance } = await load(beside("pointsmith.wasm"), go.importObject);
	const ended = go.run(instance);
	ended.then(
		() => scope.postMessage({ crashed: "the calculation engine stopped" }),
		(/** @type {unknown} */ error) => scope.postMessage({ crashed: String(error) }),
	);
	for (let tries = 0; !engine() && tries < 200; tries++) await new Promise((resolve) => setTimeout(resolve, 5));
	if (!engine()) throw new Error("the calculation engine started but does not answer");
}

/**
 * @param {string} url
 * @param {WebAssembly.Imports} imports
 */
async function load(url, imports) {
	const response = await fetch(url);
	if (!response.ok) throw new Error(`the calculation engine is not here (${response.status})`);
	if ((response.headers.get("Content-Type") ?? "").startsWith("application/wasm")) {
		return WebAssembly.instantiateStreaming(response, imports);
	}
	return WebAssembly.instantiate(await response.arrayBuffer(), imports);
}

/** @param {{id: number, method: string, input: unknown}} request */
function answer({ id, method, input }) {
	try {
		const { ok, text } = engine().call(method, JSON.stringify(input));
		scope.postMessage({ id, ok, value: JSON.parse(text) });
	} catch (error) {
		scope.postMessage({ crashed: String(error) });
	}
}

const ready = start();
scope.addEventListener("message", ({ data }) =>
	ready.then(
		() => answer(data),
		() => {},
	),
);
ready.then(
	() => scope.postMessage({ ready: true }),
	(error) => scope.postMessage({ ready: false, why: String(error?.message ?? error) }),
);
