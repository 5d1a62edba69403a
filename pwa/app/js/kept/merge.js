// What becomes of a document when this phone and the server meet. Pure: the
// queue and the network are in sync.js. The server alone brings two versions
// together (its rules stand in store/merge.go); the phone pushes what it has
// with the revision it was edited from, takes what the server answers, and
// leaves alone what has been edited here meanwhile.

import { rebase, same } from "./unite.js";

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
	// edited meanwhile, from what was pushed
	if (!isSameVersion(now, pushed)) return { doc: { ...now, revision: answer.revision }, stillWaiting: true };
	return {
		doc: answer.document ? taken(now, answer.document) : { ...now, revision: answer.revision },
		stillWaiting: false,
	};
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
	// that file may have lost what ours says
	if (ours && !ours.deleted && why === "other") return { doc: ours, stillWaiting: true };
	return { doc: taken(ours, theirs), stillWaiting: false };
}

/**
 * @typedef {object} Comparison of everything here with everything there
 * @property {"forgotten" | "other"} why forgotten: old deletions are no longer listed; other: the server has another
 *   file than before
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
	return why === "other"
		? { doc: ours, stillWaiting: true }
		: { doc: { ...ours, deleted: true }, stillWaiting: false };
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
 * @param {string} mark a new one, for what the two make together
 * @returns {{doc: AnyDoc, isLost: boolean}} isLost: something stored gave way to what was typed
 */
export function onTopOf(stored, typed, base, mark) {
	if (!stored) return { doc: typed, isLost: false };
	const { revision } = stored;
	if (base?.revision === revision && isSameVersion(base, stored))
		return { doc: typed.revision === revision ? typed : { ...typed, revision }, isLost: false };
	const changedAt = after(typed.changedAt, stored.changedAt);
	if (base?.deleted === stored.deleted && same(base.body, stored.body))
		return { doc: { ...typed, revision, changedAt }, isLost: false }; // only the server's name for it is new
	const { body, isLost } = rebase(base?.body, typed.body, stored.body);
	return {
		doc: {
			...typed,
			mark,
			revision,
			changedAt,
			deleted: typed.deleted === base?.deleted ? stored.deleted : typed.deleted,
			body,
		},
		isLost,
	};
}

/** The later of two times, and later than the second. @param {string} at @param {string} than */
const after = (at, than) => new Date(Math.max(Date.parse(at), Date.parse(than) + 1)).toISOString();

/**
 * isSameVersion tells whether two documents of one revision say the same. The
 * time alone does not tell: two tabs may type in one millisecond, and what is
 * brought together may bear the time of one half.
 * @param {AnyDoc} one
 * @param {AnyDoc} other
 */
const isSameVersion = (one, other) => one.changedAt === other.changedAt && one.mark === other.mark;
