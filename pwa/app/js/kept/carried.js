// What the server has although this phone has no room for it: a full phone sends what it cannot store, so that a
// reload loses nothing that the server took.

import { isFull } from "./db.js";
import { garage } from "./garage.js";
import { afterPush } from "./merge.js";
import { thisPhone } from "./this-phone.js";
import { unsaved } from "./unsaved.js";

/**
 * By "kind/id": the version that was sent, and its revision there.
 * @type {Map<string, {mark: string, revision: any}>}
 */
const carried = new Map();

/** unlessFull goes on where the phone is full; any other failure fails. @param {unknown} error */
export function unlessFull(error) {
	if (!isFull(error)) throw error;
}

/**
 * note keeps a fact about this phone, and goes on without it where the phone is full.
 * @param {string} key @param {unknown} value
 */
export const note = (key, value) => thisPhone.put(key, value).catch(unlessFull);

/** baseOf gives what a document is sent as edited from. @param {AnyDoc} doc */
export const baseOf = (doc) => carried.get(pathOf(doc))?.revision ?? doc.revision;

/**
 * isCarried says whether the server has a document of this phone as it stands here.
 * @param {string} path "kind/id"
 */
export function isCarried(path) {
	if (!carried.size) return false;
	const [kind, id] = /** @type {[Kind, string]} */ (path.split("/"));
	return carried.get(path)?.mark === (garage.get(kind, id)?.mark ?? null);
}

/** areCarried says whether the server has all that this phone could not save. A draft it never has. */
export const areCarried = () => unsaved.every(isCarried);

/**
 * settlePush keeps what the server answered to a push. Without room for it the answer is kept in mind. What another
 * phone said there is not lost by what is typed here next: facts and readings unite, of all else the server keeps a
 * copy (store/merge.go).
 * @param {AnyDoc} doc as it was sent @param {{revision: any, document?: AnyDoc}} answer
 */
export async function settlePush(doc, answer) {
	try {
		await garage.settle([doc], (now) => afterPush(now ?? doc, doc, answer));
		carried.delete(pathOf(doc));
	} catch (error) {
		unlessFull(error);
		carried.set(pathOf(doc), { mark: /** @type {string} */ (doc.mark), revision: answer.revision });
	}
}

/**
 * settleCarried keeps an answer that was kept in mind, once there is room. Nothing is sent.
 * @param {AnyDoc} doc
 */
export const settleCarried = (doc) => settlePush(doc, { revision: baseOf(doc) });

/** @param {AnyDoc} doc */
const pathOf = ({ kind, id }) => `${kind}/${id}`;
