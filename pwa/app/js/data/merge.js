// What becomes of a document when this phone and the server meet. Pure: the
// queue and the network are in sync.js. The server alone brings two versions
// together (its rules stand in store/merge.go); the phone pushes what it has
// with the revision it was edited from, takes what the server answers, and
// leaves alone what has been edited here meanwhile.

import { rebase } from "./unite.js";

/** @typedef {{doc: AnyDoc, stillWaiting: boolean}} Outcome what to keep, and whether it is still to be pushed */

/**
 * afterPush gives what to keep once the server has answered a push, or null to
 * leave the phone's alone.
 * @param {AnyDoc} now as it is on the phone
 * @param {AnyDoc} pushed as it was when it was sent
 * @param {{revision: string, document?: AnyDoc}} answer document: what is current there, when it is not what was pushed
 * @returns {Outcome | null}
 */
export function afterPush(now, pushed, answer) {
	if (now.revision !== pushed.revision) return null; // this answer was settled before
	if (now.changedAt !== pushed.changedAt) return { doc: { ...now, revision: answer.revision }, stillWaiting: true }; // edited meanwhile, from what was pushed
	return { doc: answer.document ? taken(now, answer.document) : { ...now, revision: answer.revision }, stillWaiting: false };
}

/**
 * afterPull gives what to keep when the server lists a document, or null to
 * leave the phone's alone: one that waits to be pushed is never overwritten,
 * the push itself brings the two together.
 * @param {AnyDoc | null} ours
 * @param {AnyDoc} theirs
 * @param {boolean} isWaiting
 * @param {Comparison["why"]} [why] set while everything is compared
 * @returns {Outcome | null}
 */
export function afterPull(ours, theirs, isWaiting, why) {
	if (isWaiting) return null;
	if (ours && ours.revision === theirs.revision && ours.deleted === theirs.deleted) return null;
	if (ours && !ours.deleted && why === "other") return { doc: ours, stillWaiting: true }; // that file may have lost what ours says
	return { doc: taken(ours, theirs), stillWaiting: false };
}

/**
 * @typedef {object} Comparison of everything here with everything there
 * @property {"forgotten" | "other"} why forgotten: old deletions are no longer listed; other: the server has another file than before
 * @property {Set<string>} listed keys of what the server has
 */

/**
 * afterComparison gives what becomes of a document the server did not list, or
 * null.
 * @param {AnyDoc} ours
 * @param {boolean} isWaiting
 * @param {Comparison["why"]} why
 * @returns {Outcome | null}
 */
export function afterComparison(ours, isWaiting, why) {
	if (isWaiting || ours.deleted) return null;
	return why === "other" ? { doc: ours, stillWaiting: true } : { doc: { ...ours, deleted: true }, stillWaiting: false };
}

/**
 * taken is the server's version as the phone keeps it. A deletion carries no
 * body; ours stays, so that the car can be brought back.
 * @param {AnyDoc | null} ours
 * @param {AnyDoc} theirs
 * @returns {AnyDoc}
 */
export function taken(ours, theirs) {
	return theirs.deleted ? { ...theirs, body: ours?.body ?? null } : theirs;
}

/**
 * onTopOf puts what was typed in one tab on what is in the phone's store,
 * which another tab, or the server through it, may have changed meanwhile.
 * @param {AnyDoc | null} stored
 * @param {AnyDoc} typed
 * @param {AnyDoc | undefined} base the version typed was edited from
 * @returns {AnyDoc}
 */
export function onTopOf(stored, typed, base) {
	if (!stored) return typed;
	const isSeen = base?.revision === stored.revision && base.changedAt === stored.changedAt;
	if (isSeen) return typed.revision === stored.revision ? typed : { ...typed, revision: stored.revision };
	return {
		...typed, revision: stored.revision, deleted: typed.deleted === base?.deleted ? stored.deleted : typed.deleted,
		changedAt: after(typed.changedAt, stored.changedAt), body: rebase(base?.body, typed.body, stored.body),
	};
}

/** The later of two times, and later than the second. @param {string} at @param {string} than */
const after = (at, than) => new Date(Math.max(Date.parse(at), Date.parse(than) + 1)).toISOString();

/**
 * unite brings a document of a file together with the phone's. The later
 * change stands; of a visit, readings that only the other has are added,
 * because a measurement is never dropped. needsPush says that the result is
 * not what the phone had.
 * @param {AnyDoc} ours the file's version
 * @param {AnyDoc} theirs the phone's version
 * @returns {{doc: AnyDoc, needsPush: boolean}}
 */
export function unite(ours, theirs) {
	const oursIsLater = ours.changedAt > theirs.changedAt;
	const [first, second] = oursIsLater ? [ours, theirs] : [theirs, ours];
	const doc = { ...first, revision: theirs.revision, body: first.body ?? second.body };
	if (ours.kind === "visit" && first.body && second.body) doc.body = uniteVisit(first.body, second.body);
	return { doc, needsPush: doc.deleted !== theirs.deleted || !same(doc.body, theirs.body) };
}

/**
 * uniteVisit takes the first visit and adds the sets, readings, events and facts that
 * only the second has.
 * @param {Visit} first
 * @param {Visit} second
 * @returns {Visit}
 */
export function uniteVisit(first, second) {
	const sets = first.sets.map((set) => {
		const other = second.sets.find(({ id }) => id === set.id);
		return other ? { ...set, readings: uniteByID(set.readings, other.readings) } : set;
	});
	const united = { ...first, sets: uniteByID(sets, second.sets) };
	if (first.events || second.events) united.events = uniteByID(first.events ?? [], second.events ?? []);
	return first.facts || second.facts ? { ...united, facts: { ...second.facts, ...first.facts } } : united;
}

/**
 * @template {{id: string}} T
 * @param {T[]} first
 * @param {T[]} second
 * @returns {T[]}
 */
function uniteByID(first, second) {
	const have = new Set(first.map(({ id }) => id));
	return [...first, ...second.filter(({ id }) => !have.has(id))];
}

/** @param {unknown} a @param {unknown} b @returns {boolean} */
function same(a, b) {
	return JSON.stringify(ordered(a)) === JSON.stringify(ordered(b));
}

/** @param {any} value @returns {any} the same with object keys in order */
function ordered(value) {
	if (Array.isArray(value)) return value.map(ordered);
	if (value === null || typeof value !== "object") return value;
	return Object.fromEntries(Object.keys(value).sort().map((key) => [key, ordered(value[key])]));
}
