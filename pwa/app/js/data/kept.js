// Copies that the server set aside because two people changed the same thing:
// a list on the phone, so that they can be looked at with the server switched
// off, and the choices made, sent when it answers.

import { garage } from "./garage.js";
import { taken } from "./merge.js";
import { ask } from "./server.js";

/**
 * @typedef {AnyDoc & {name: string, device: string, keptAt: string, why: string}} Copy
 * @typedef {"kept" | "current" | "both"} Take kept: the copy becomes what stands; current: what stands stays; both: the copy becomes a document of its own
 * @typedef {{kind: Kind, id: string, revision: string, take: Take, current: string, newId: string}} KeptChoice
 */

const events = new EventTarget();
/** @type {{copies: Copy[], choices: KeptChoice[], moved: string[]}} moved: chosen about, but what stands had changed meanwhile */
const state = { copies: [], choices: [], moved: [] };

/** @param {{kind: string, id: string, revision: string}} copy */
export const copyKey = ({ kind, id, revision }) => `${kind}/${id}/${revision}`;

/** keptCopies lists the copies that wait for a choice, the oldest first. */
export const keptCopies = () => state.copies.filter((copy) => !state.choices.some((choice) => copyKey(choice) === copyKey(copy)));

/** choicesWaiting counts the choices that the server does not know yet. */
export const choicesWaiting = () => state.choices.length;

/** hasMoved says whether a choice about a copy came too late. @param {Copy} copy */
export const hasMoved = (copy) => state.moved.includes(copyKey(copy));

/** @param {() => void} fn @returns {() => void} a function that stops it */
export function onKept(fn) {
	events.addEventListener("kept", fn);
	return () => events.removeEventListener("kept", fn);
}

/** loadKept reads what is on the phone. */
export async function loadKept() {
	const [copies, choices] = await Promise.all([garage.phone("keptCopies"), garage.phone("keptChoices")]);
	Object.assign(state, { copies: copies ?? [], choices: choices ?? [] });
	changed();
}

/**
 * choose decides about a copy. It resolves when the phone has the choice; the
 * server gets it when it answers.
 * @param {Copy} copy @param {Take} take
 */
export async function choose(copy, take) {
	const { kind, id, revision } = copy;
	const choice = { kind, id, revision, take, current: garage.get(kind, id)?.revision ?? "", newId: take === "both" ? garage.newId() : "" };
	state.choices = [...state.choices, choice];
	state.moved = state.moved.filter((key) => key !== copyKey(copy));
	changed();
	await garage.setPhone("keptChoices", state.choices);
}

/** sendChoices sends what was chosen. A refusal other than "it has changed" or "done already" is thrown. */
export async function sendChoices() {
	for (const choice of [...state.choices]) {
		try {
			const { kind, id, revision, take, current, newId } = choice;
			const answer = await ask("POST", `garage/${kind}/${id}/kept/${revision}`, { take, current, newId, device: (await garage.phone("deviceName")) ?? "" });
			const said = /** @type {AnyDoc[]} */ ([answer.document, answer.new].filter((doc) => doc));
			await garage.settle(said, (ours, isWaiting, doc) => (isWaiting ? null : { doc: taken(ours, doc), stillWaiting: false }));
			await forget(choice, true);
		} catch (problem) {
			const { status, title = "" } = /** @type {any} */ (problem);
			if (status !== 404 && status !== 409) throw problem;
			const isDecided = status === 404 || /chosen|decided/i.test(title); // somebody else chose before
			if (!isDecided) state.moved.push(copyKey(choice));
			await forget(choice, isDecided);
		}
	}
}

/** @param {KeptChoice} choice @param {boolean} isSettled */
async function forget(choice, isSettled) {
	state.choices = state.choices.filter((one) => one !== choice);
	if (isSettled) state.copies = state.copies.filter((copy) => copyKey(copy) !== copyKey(choice));
	await garage.setPhone("keptChoices", state.choices.length ? state.choices : undefined);
	await garage.setPhone("keptCopies", state.copies);
	changed();
}

/**
 * takeKept fetches the copies when the server has another number of them,
 * or none of those known here.
 * @param {number} count
 */
export async function takeKept(count) {
	if (count === 0 && state.copies.length === 0) return;
	const { copies } = count === 0 ? { copies: [] } : await ask("GET", "kept");
	const known = new Map(state.copies.map((copy) => [copyKey(copy), copy]));
	const isSame = copies.length === known.size && copies.every((/** @type {Copy} */ copy) => known.has(copyKey(copy)));
	if (isSame) return;
	/** @type {Copy[]} */
	const next = [];
	for (const copy of copies) next.push(known.get(copyKey(copy)) ?? await ask("GET", `garage/${copyPath(copy)}`));
	state.copies = next;
	await garage.setPhone("keptCopies", next);
	changed();
}

/** @param {Copy} copy */
const copyPath = ({ kind, id, revision }) => `${kind}/${id}/kept/${revision}`;

function changed() {
	events.dispatchEvent(new Event("kept"));
}
