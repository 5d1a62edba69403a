// The app's own door to the calculations, for tests: what it would ask of a
// server is answered by the program itself.

import { execFile } from "node:child_process";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import path from "node:path";
import { promisify } from "node:util";

// no other tab; before the garage looks for one, so this module is imported first
Object.assign(globalThis, { BroadcastChannel: undefined });

const top = new URL("../..", import.meta.url).pathname;

/**
 * openDoor builds the program and answers the app's questions with it.
 * @returns {Promise<() => Promise<void>>} what closes it
 */
export async function openDoor() {
	const folder = await mkdtemp(path.join(tmpdir(), "door-"));
	const program = path.join(folder, "pointsmith");
	await promisify(execFile)("go", ["build", "-o", program, "./cmd/pointsmith"], { cwd: top });
	Object.assign(globalThis, {
		document: {
			...globalThis.document,
			baseURI: "http://127.0.0.1/",
			visibilityState: "hidden",
			addEventListener() {},
		},
		addEventListener() {},
		fetch: async (/** @type {string} */ url, /** @type {{body: string}} */ { body }) => {
			const method = decodeURIComponent(/calc\/([^/?]+)$/.exec(url)?.[1] ?? "");
			const { out, wrong } = await new Promise((done) => {
				const child = execFile(program, ["calc", method], (_, stdout, stderr) =>
					done({ out: stdout, wrong: stderr }),
				);
				child.stdin?.end(body);
			});
			return {
				ok: out !== "",
				status: out ? 200 : 422,
				json: async () =>
					out ? JSON.parse(out) : { status: 422, field: "given", title: "Refused", detail: wrong.trim() },
			};
		},
	});
	return () => rm(folder, { recursive: true });
}
