// The door to the server, where there is one. The app may as well lie on a
// plain web host: then the garage stays on the phone and nothing is asked for.

import { thisPhone } from "./this-phone.js";
import { appURL, timeLimit } from "../kit/platform.js";

const patience = 15_000; // ms for one answer
const longPatience = 60_000; // ms for a picture; 400 kB over a poor link. Chosen
let isAlone = false;

/** hasServer says whether there is a server behind this address at all, switched on or not. */
export const hasServer = () => !isAlone;

/**
 * learnServer finds out, from what was learned before where it can; the file
 * that says so comes with the app and is kept with it.
 */
export async function learnServer() {
	const before = await thisPhone.get("alone").catch(() => undefined);
	if (before === undefined) return readNote();
	isAlone = before === true;
	readNote(); // it may have moved since
}

async function readNote() {
	try {
		const response = await fetch(appURL("site.json"), { signal: timeLimit(4_000) });
		const note = await response.json();
		isAlone = note.server === false;
		await thisPhone.put("alone", isAlone);
	} catch {
		// Not said: a server is looked for.
	}
}

/**
 * ask talks to the server; a refusal is thrown as its Problem.
 * @param {string} method
 * @param {string} path beneath api/v1/
 * @param {unknown} [body]
 * @param {number} [wait] ms for the answer
 * @returns {Promise<any>}
 */
export const ask = async (method, path, body, wait = patience) =>
	answerOf(
		body === undefined
			? await talk(method, path, wait)
			: await talk(method, path, wait, JSON.stringify(body), "application/json"),
	);

/**
 * sendBytes puts a picture.
 * @param {string} path @param {Uint8Array<ArrayBuffer>} bytes @param {string} type
 */
export const sendBytes = async (path, bytes, type) => answerOf(await talk("PUT", path, longPatience, bytes, type));

/** fetchBytes gets a picture. @param {string} path */
export async function fetchBytes(path) {
	const response = await talk("GET", path, longPatience);
	if (response.ok && (response.headers.get("Content-Type") ?? "").startsWith("image/"))
		return new Uint8Array(await response.arrayBuffer());
	await answerOf(response);
	throw new Error("no picture came");
}

/**
 * @param {string} method @param {string} path @param {number} wait @param {BodyInit} [body] @param {string} [type]
 */
async function talk(method, path, wait, body, type) {
	const headers = /** @type {{[name: string]: string}} */ ({});
	const key = await thisPhone.get("garageKey"); // of a phone that joined before there were codes
	if (key) headers.Authorization = `Bearer ${key}`;
	if (type) headers["Content-Type"] = type;
	return fetch(appURL(`api/v1/${path}`), { method, headers, cache: "no-store", body, signal: timeLimit(wait) });
}

/** @param {Response} response */
async function answerOf(response) {
	const type = response.headers.get("Content-Type") ?? "";
	// a plain web host answers with a page
	if (!type.includes("json")) throw new Error("no Pointsmith server at this address");
	const answer = await response.json();
	if (!response.ok) throw { ...answer, status: response.status };
	return answer;
}
