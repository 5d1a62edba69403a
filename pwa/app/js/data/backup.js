// The whole garage as one file, and back. Everything that comes in from a file
// passes through readBackup: the one gate.

import { garage } from "./garage.js";
import { nameProblem } from "./cars.js";
import { unite } from "./merge.js";

const format = "pointsmith garage 1"; // part of files people keep: a new number means a new shape
const most = { bytes: 20 * 1024 * 1024, documents: 20_000 };
const kinds = ["car", "distributor", "visit"];

/** makeBackup gives the text of the file. A deletion whose car was never here has nothing in it to take along. */
export function makeBackup() {
	const documents = garage.everything().filter(({ body }) => body && Object.keys(body).length > 0).map(({ kind, id, changedAt, deleted, body }) => ({ kind, id, changedAt, deleted, body }));
	return JSON.stringify({ format, made: new Date().toISOString(), documents }, null, "\t");
}

/**
 * readBackup checks a file and gives its documents, or what is wrong with it.
 * @param {string} text
 * @returns {{documents: AnyDoc[], problem: Problem | null}}
 */
export function readBackup(text) {
	/** @param {string} title @param {string} limit @param {string} action */
	const refuse = (title, limit, action) => ({ documents: [], problem: { title, limit, do: action } });
	if (text.length > most.bytes) return refuse("The file is too large", "20 million characters", "Choose a file that this app exported.");
	let data;
	try {
		data = JSON.parse(text);
	} catch {
		return refuse("The file is not whole, or not a garage", "JSON as exported here", "Export it again, or fetch it again: a part may be missing.");
	}
	if (data?.format !== format || !Array.isArray(data.documents)) return refuse("The file is not an exported garage", `"format": "${format}"`, "Choose a file that this app exported.");
	if (data.documents.length > most.documents) return refuse("The file holds too many documents", `${most.documents}`, "Split it.");
	for (const [index, doc] of data.documents.entries()) {
		const wrong = documentTrouble(doc);
		if (wrong) return refuse(`Document ${index + 1} of the file: ${wrong}`, "documents as exported here", "Nothing was taken in. Export the garage again.");
	}
	return { documents: data.documents.map((/** @type {AnyDoc} */ doc) => ({ kind: doc.kind, id: doc.id, changedAt: doc.changedAt, deleted: doc.deleted === true, body: doc.body, revision: "" })), problem: null };
}

/**
 * takeIn brings documents into the garage: the later change stands, readings
 * are added, nothing here is thrown away. It gives how many changed something.
 * @param {AnyDoc[]} documents
 */
export async function takeIn(documents) {
	let taken = 0;
	for (const theirs of documents) {
		const ours = garage.get(theirs.kind, theirs.id);
		const { doc, needsPush } = ours ? unite(theirs, ours) : { doc: theirs, needsPush: true };
		if (!needsPush) continue;
		taken++;
		await garage.put(doc.kind, doc.id, doc.body, ours ? undefined : doc.changedAt);
		if (doc.deleted) await garage.remove(doc.kind, doc.id);
	}
	return taken;
}

/** @param {any} doc @returns {string} what is wrong, or "" */
function documentTrouble(doc) {
	if (!kinds.includes(doc?.kind)) return "its kind is none of car, distributor, visit";
	if (typeof doc.id !== "string" || !/^[a-z0-9]{16,32}$/.test(doc.id)) return "its id is not 16 to 32 of a–z and 0–9";
	if (typeof doc.changedAt !== "string" || Number.isNaN(Date.parse(doc.changedAt))) return "it does not say when it was changed";
	if (typeof doc.body !== "object" || doc.body === null || Array.isArray(doc.body)) return "it is empty";
	if (doc.kind !== "visit" && (typeof doc.body.name !== "string" || nameProblem(doc.body.name))) return "its name cannot be used";
	if (doc.kind === "car" && (typeof doc.body.facts !== "object" || doc.body.facts === null)) return "its facts are missing";
	if (doc.kind === "distributor" && !Array.isArray(doc.body.sheet?.rows)) return "its table is missing";
	if (doc.kind === "visit" && !(Array.isArray(doc.body.sets) && doc.body.sets.every((/** @type {any} */ set) => Array.isArray(set?.readings)))) return "its readings are missing";
	return "";
}
