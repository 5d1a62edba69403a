// Copies that this phone set aside itself, when a file brought another version
// of something that is here. They wait for a choice as the server's do, with
// or without a server, and the choice is carried out on the spot.

import { longest } from "../../made/shapes.js";
import { garage } from "./garage.js";
import { canonical, same, unite } from "./unite.js";
import { whole } from "./whole.js";

/**
 * @typedef {AnyDoc & {name: string, device: string, keptAt: string, why: string, isOwn?: boolean}} Copy isOwn: set
 *   aside by this phone
 */

const longestName = longest["car.name"]; // characters
const mostKnown = 5_000; // versions of files remembered; chosen: some years of files from a friend
const largest = 1024 * 1024; // bytes of a body, as the server has it

/**
 * sameVersion says whether two copies say the same about the same document.
 * @param {{kind: Kind, id: string, body: any}} a
 * @param {{kind: Kind, id: string, body: any}} b
 */
export const sameVersion = (a, b) =>
	a.kind === b.kind && a.id === b.id && same(whole(a.kind, a.body), whole(b.kind, b.body));

/**
 * newCopy makes a copy of a version that does not stand.
 * @param {{kind: Kind, id: string, changedAt: string, body: any}} version
 * @param {{device: string, why: string, revision?: string}} how device: where it comes from
 * @returns {Copy}
 */
export function newCopy({ kind, id, changedAt, body }, { device, why, revision }) {
	return {
		kind,
		id,
		changedAt,
		body,
		revision: revision ?? garage.newId(),
		deleted: false,
		device,
		why,
		name: copyName(kind, body, changedAt, device),
		keptAt: new Date().toISOString(),
		isOwn: true,
	};
}

/**
 * copyName is "NAME (from DEVICE, DATE)" as a list shows it: a long name is
 * shortened. A copy's name is not lengthened again.
 * @param {Kind} kind
 * @param {any} body
 * @param {string} changedAt
 * @param {string} device
 */
function copyName(kind, body, changedAt, device) {
	const { name, suffix } = copyNameParts(kind, body, changedAt, device);
	const letters = [...name];
	const room = longestName - [...suffix].length;
	return (letters.length > room ? `${letters.slice(0, room - 1).join("")}…` : name) + suffix;
}

/** @param {Kind} kind @param {any} body @param {string} changedAt @param {string} device */
function copyNameParts(kind, body, changedAt, device) {
	const from = [...device.replace(/[<>()\p{C}]/gu, "").trim()].slice(0, 24).join("") || "another device";
	const suffix = ` (from ${from}, ${changedAt.slice(0, 10)})`;
	const name = String(body.name || body.title || `${kind} of ${body.date ?? ""}`).replace(
		/( \(from [^()]*, \d{4}-\d\d-\d\d\))+$/,
		"",
	);
	return { name, suffix };
}

/**
 * named is the body under the name of a copy, whole. Where that is longer than
 * a name may be, the copy keeps its own, and nothing is cut. @param {Copy} copy
 */
function named({ kind, body, changedAt, device }) {
	const { name, suffix } = copyNameParts(kind, body, changedAt, device);
	const key = kind === "visit" ? "title" : "name";
	const most = longest[/** @type {"car.name"} */ (`${kind}.${key}`)];
	return [...name, ...suffix].length <= most ? { ...body, [key]: name + suffix } : body;
}

/**
 * carryOut does what was chosen about a copy of this phone. Where the copy is
 * taken, readings, facts and events that only the other has stay.
 * @param {Copy} copy @param {"kept" | "current" | "both"} take
 */
export async function carryOut(copy, take) {
	const { kind, id, body } = copy;
	const now = garage.get(kind, id);
	if (take === "kept")
		await garage.put(kind, id, fitting(now && !now.deleted ? unite(now.body, whole(kind, body)).body : body));
	if (take === "both") await garage.put(kind, garage.newId(), fitting(named(copy)));
}

/** @param {any} body */
function fitting(body) {
	if (isTooLarge(body))
		throw {
			title: "Both together are too large for one document",
			limit: "1 MiB",
			do: "Keep both, each on its own.",
		};
	return body;
}

/** isTooLarge says whether no server would take the body. @param {any} body */
export const isTooLarge = (body) => new TextEncoder().encode(JSON.stringify(body)).length > largest;

/**
 * versionMark names one version of a document, so that a file brought in twice
 * asks once.
 * @param {{kind: Kind, id: string, changedAt: string, body: any}} version
 */
export function versionMark({ kind, id, changedAt, body }) {
	let sum = 0x811c9dc5; // FNV-1a, 32 bits: told apart must only be versions of one document and moment
	for (const byte of new TextEncoder().encode(canonical(whole(kind, body)))) sum = Math.imul(sum ^ byte, 0x01000193);
	return `${kind}/${id}/${Date.parse(changedAt)}/${(sum >>> 0).toString(36)}`;
}

/**
 * marksWith adds to the versions that have been asked about, and forgets the oldest.
 * @param {string[] | undefined} marks
 * @param {string[]} more
 */
export const marksWith = (marks, more) => [...new Set([...(marks ?? []), ...more])].slice(-mostKnown);
