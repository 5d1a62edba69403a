// Copies that wait for a choice because two people changed the same thing.
// Those of the server are listed on the phone, so that they can be looked at
// with the server switched off, and the choices made, sent when it answers.
// Those this phone set aside itself are in own-copies.js.

import { garage } from "./garage.js";
import { asWritten } from "../kit/format.js";
import { thisPhone } from "./this-phone.js";
import { taken } from "./merge.js";
import { carryOut, newCopy, sameVersion } from "./own-copies.js";
import { ask } from "./server.js";

/**
 * @typedef {import("./own-copies.js").Copy} Copy
 * @typedef {"kept" | "current" | "both"} Take kept: the copy becomes what stands; current: what stands stays; both: the
 *   copy becomes a document of its own
 * @typedef {{kind: Kind, id: string, revision: string, take: Take, current: string, newId: string}} KeptChoice
 */

export const bothChanged = "changed in two places";

const events = new EventTarget();
/**
 * @type {{copies: Copy[], own: Copy[], choices: KeptChoice[], moved: string[]}} copies: the server's. moved: chosen
 *   about, but what stands had changed meanwhile
 */
const state = { copies: [], own: [], choices: [], moved: [] };

/** @param {{kind: string, id: string, revision: string}} copy */
export const copyKey = ({ kind, id, revision }) => `${kind}/${id}/${revision}`;

/** keptCopies lists the copies that wait for a choice, the oldest first. */
export const keptCopies = () =>
	[
		...state.copies.filter((copy) => !state.choices.some((choice) => copyKey(choice) === copyKey(copy))),
		...state.own,
	].sort((a, b) => asWritten(a.keptAt, b.keptAt));

/** allCopies lists every copy that is on the phone, those chosen about but not sent yet too. */
export const allCopies = () => [...state.copies, ...state.own];

/** choicesWaiting counts the choices that the server does not know yet. */
export const choicesWaiting = () => state.choices.length;

/** hasMoved says whether a choice about a copy came too late. @param {Copy} copy */
export const hasMoved = (copy) => state.moved.includes(copyKey(copy));

/** @param {() => void} fn @returns {() => void} a function that stops it */
export function onKept(fn) {
	events.addEventListener("kept", fn);
	return () => events.removeEventListener("kept", fn);
}

/** loadKept reads what is on the phone, and again whenever another tab has changed it. */
export async function loadKept() {
	thisPhone.onChange((key) => {
		if (["keptCopies", "keptChoices", "ownCopies"].includes(key)) readKept();
	});
	garage.on("overruled", async (version) =>
		setAside([newCopy(version, { device: (await thisPhone.get("deviceName")) || "this phone", why: bothChanged })]),
	);
	await readKept();
}

async function readKept() {
	const [copies, choices, own] = await Promise.all(
		["keptCopies", "keptChoices", "ownCopies"].map((key) => thisPhone.get(key)),
	);
	Object.assign(state, { copies: copies ?? [], choices: choices ?? [], own: own ?? [] });
	changed();
}

/**
 * @param {"copies" | "choices" | "own"} what
 * @param {(list: any[]) => any[]} work what becomes of the list as whichever tab kept it last
 */
async function change(what, work) {
	const key = { copies: "keptCopies", choices: "keptChoices", own: "ownCopies" }[what];
	state[what] = await thisPhone.change(key, (list) => work(list ?? []));
	changed();
}

/**
 * setAside keeps copies that this phone made, but for those that say what
 * another copy says. It gives how many wait now that did not before.
 * @param {Copy[]} copies
 */
export async function setAside(copies) {
	let added = 0;
	if (copies.length)
		await change("own", (own) => {
			const fresh = copies.filter(
				(copy, n) =>
					![...own, ...state.copies, ...copies.slice(0, n)].some((other) => sameVersion(other, copy)),
			);
			added = fresh.length;
			return [...own, ...fresh];
		});
	return added;
}

/**
 * choose decides about a copy. It resolves when the phone has the choice; the
 * server gets it when it answers. About a copy of this phone it is carried out
 * at once.
 * @param {Copy} copy @param {Take} take
 */
export async function choose(copy, take) {
	const { kind, id, revision } = copy;
	if (copy.isOwn) {
		await carryOut(copy, take);
		return change("own", (own) => own.filter((one) => copyKey(one) !== copyKey(copy)));
	}
	const choice = {
		kind,
		id,
		revision,
		take,
		current: garage.get(kind, id)?.revision ?? "",
		newId: take === "both" ? garage.newId() : "",
	};
	state.moved = state.moved.filter((key) => key !== copyKey(copy));
	await change("choices", (choices) => [...choices.filter((one) => copyKey(one) !== copyKey(copy)), choice]);
}

/** sendChoices sends what was chosen. A refusal other than "it has changed" or "done already" is thrown. */
export async function sendChoices() {
	for (const choice of [...state.choices]) {
		try {
			const { kind, id, revision, take, current, newId } = choice;
			const answer = await ask("POST", `garage/${kind}/${id}/kept/${revision}`, {
				take,
				current,
				newId,
				device: (await thisPhone.get("deviceName")) ?? "",
			});
			const said = /** @type {AnyDoc[]} */ ([answer.document, answer.new].filter((doc) => doc));
			await garage.settle(said, (ours, isWaiting, doc) =>
				isWaiting ? null : { doc: taken(ours, doc), stillWaiting: false },
			);
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
	const isOther = (/** @type {any} */ one) => copyKey(one) !== copyKey(choice);
	await change("choices", (choices) => choices.filter(isOther));
	if (isSettled) await change("copies", (copies) => copies.filter(isOther));
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
	for (const copy of copies) next.push(known.get(copyKey(copy)) ?? (await ask("GET", `garage/${copyPath(copy)}`)));
	await change("copies", () => next);
	if (state.own.length)
		// the server asks about those
		await change("own", (own) => own.filter((copy) => !next.some((other) => sameVersion(other, copy))));
}

/** @param {Copy} copy */
const copyPath = ({ kind, id, revision }) => `${kind}/${id}/kept/${revision}`;

function changed() {
	events.dispatchEvent(new Event("kept"));
}
