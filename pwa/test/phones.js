// A real server with its garage, and phones that meet it, for the tests of a file.

import { execFile, spawn } from "node:child_process";
import { once } from "node:events";
import { mkdtemp, rm } from "node:fs/promises";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import path from "node:path";
import { after, before } from "node:test";
import { promisify } from "node:util";
import { Worker } from "node:worker_threads";

const top = new URL("../..", import.meta.url).pathname;
/** @type {any} */
let folder, program, server;
/** @type {any} of the server */
export let address;
/** @type {any[]} */
export const phones = [];

/** withServer has a server run while the tests of this file do. */
export function withServer() {
	before(
		async () => {
			folder = await mkdtemp(path.join(tmpdir(), "phones-"));
			program = path.join(folder, "pointsmith");
			await promisify(execFile)("go", ["build", "-o", program, "./cmd/pointsmith"], { cwd: top });
			address = `http://127.0.0.1:${await freePort()}/`;
			await start("garage.db");
		},
		{ timeout: 240_000 },
	);

	after(async () => {
		for (const phone of phones) await phone.worker.terminate();
		await stop();
		await rm(folder, { recursive: true, force: true });
	});
}

async function freePort() {
	const probe = createServer().listen(0, "127.0.0.1");
	await once(probe, "listening");
	const { port } = /** @type {any} */ (probe.address());
	probe.close();
	return port;
}

/** @param {string} file */
export async function start(file) {
	server = spawn(program, ["serve", "-listen", new URL(address).host, "-data", path.join(folder, file)], {
		stdio: "ignore",
	});
	for (let n = 0; n < 400; n++) {
		if (
			await fetch(`${address}api/v1/status`).then(
				(answer) => answer.ok,
				() => false,
			)
		)
			return;
		await new Promise((done) => setTimeout(done, 50));
	}
	throw new Error("the server does not answer");
}

export async function stop() {
	if (!server || server.exitCode !== null) return;
	server.kill("SIGTERM");
	await once(server, "exit");
}

/** @param {string} name */
export async function newPhone(name) {
	const worker = new Worker(new URL("./phone.js", import.meta.url), { workerData: { address, name } });
	const ask = async (/** @type {string} */ what, /** @type {any[]} */ ...words) => {
		if (what !== "start") worker.postMessage({ do: what, with: words });
		const [answer] = await once(worker, "message");
		if (answer.error) throw new Error(answer.error);
		return answer.value;
	};
	await ask("start");
	const phone = { worker, ask };
	phones.push(phone);
	return phone;
}

/** car gives a body of one. @param {any} more */
export const car = (/** @type {any} */ more) => ({
	name: "Linnet",
	owner: "",
	distributorId: "",
	facts: {},
	demo: false,
	...more,
});
/** fact gives one that was measured. @param {string} value */
export const fact = (/** @type {string} */ value) => ({ value, unit: "", source: "measured", note: "" });
