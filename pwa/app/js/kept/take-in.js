// What becomes of the documents and copies of a file: they are added to what
// is here, by the rules of the server's own import (store/import.go). Nothing
// here is thrown away: where both changed one and the same thing, the later
// stands and the other waits as a copy for a choice.

import { garage } from "./garage.js";
import { takePhotosIn } from "./photos/photo-file.js";
import { thisPhone } from "./this-phone.js";
import { bothChanged, setAside } from "./copies.js";
import { isTooLarge, marksWith, newCopy, versionMark } from "./own-copies.js";
import { same, unite } from "./unite.js";
import { fits, whole } from "./whole.js";

/**
 * @typedef {object} TakenIn
 * @property {number} added documents that were not here
 * @property {number} united documents here that got something new
 * @property {number} removed documents that came as removed, and were not here
 * @property {number} left documents removed in the file, and left here as they are
 * @property {number} photos that were not here
 * @property {number} copies copies that wait for a choice now, and did not before
 */

const removedHere = "deleted elsewhere",
	removedThere = "removed in the file";

/**
 * takeIn brings what passed the gate into the garage. A document that the file
 * says is removed is not removed here, nor on any server.
 * @param {import("./backup.js").GarageFile} file
 * @returns {Promise<TakenIn>}
 */
export async function takeIn({ made, documents, copies, photos = [] }) {
	const sum = { added: 0, united: 0, removed: 0, left: 0, copies: 0, photos: 0 };
	const from = {
		file: made ? `a file of ${made.slice(0, 10)}` : "a file",
		here: (await thisPhone.get("deviceName")) || "this phone",
		asked: new Set((await thisPhone.get("askedVersions")) ?? []),
	};
	for (const theirs of documents) await takeOne({ ...theirs, changedAt: believable(theirs.changedAt) }, from, sum);
	for (const copy of copies) await takeCopy({ ...copy, changedAt: believable(copy.changedAt) }, from, sum);
	sum.photos = await takePhotosIn(photos); // last: where there is no room the documents are in
	return sum;
}

/** A time no later than now, as the server has it. @param {string} at */
const believable = (at) => new Date(Math.min(Date.parse(at), Date.now())).toISOString();

/**
 * @typedef {{file: string, here: string, asked: Set<string>}} From
 * @param {AnyDoc} theirs @param {From} from @param {TakenIn} sum
 */
async function takeOne(theirs, from, sum) {
	const ours = garage.get(theirs.kind, theirs.id);
	if (!ours) return arrive(theirs, sum);
	if (!theirs.body) {
		if (!ours.deleted) sum.left++;
		return;
	}
	const said = whole(theirs.kind, theirs.body);
	if ((ours.body && same(said, ours.body)) || from.asked.has(versionMark(theirs))) return;
	if (!ours.body && theirs.deleted) return bringBody(theirs, sum);
	if (theirs.deleted && !ours.deleted) sum.left++;
	if (theirs.deleted || ours.deleted) {
		const { body, isLost } = unite(said, ours.body ?? {});
		if (isLost || !same(body, ours.body))
			await aside(theirs, theirs.deleted ? removedThere : removedHere, from.file, from, sum);
		return;
	}
	await bringTogether(ours, theirs, from, sum);
}

/** Both are there and differ. @param {AnyDoc} ours @param {AnyDoc} theirs @param {From} from @param {TakenIn} sum */
async function bringTogether(ours, theirs, from, sum) {
	const isLater = Date.parse(theirs.changedAt) > Date.parse(ours.changedAt);
	const [older, newer] = isLater ? [ours, theirs] : [theirs, ours];
	let { body, isLost } = unite(whole(older.kind, older.body), whole(newer.kind, newer.body));
	if (isTooLarge(body) || !fits(ours.kind, body)) [body, isLost] = [newer.body, true];
	// first, so that nothing is lost should the app be closed between
	if (isLost) await aside(older, bothChanged, isLater ? from.here : from.file, from, sum, theirs);
	if (same(body, ours.body)) return;
	await garage.put(ours.kind, ours.id, body);
	sum.united++;
}

/** @param {AnyDoc} theirs @param {TakenIn} sum */
async function arrive(theirs, sum) {
	if (!theirs.deleted) {
		await garage.put(theirs.kind, theirs.id, theirs.body, theirs.changedAt);
		sum.added++;
		return;
	}
	// what is removed here need not be there
	await garage.settle([theirs], (now) => (now ? null : { doc: theirs, stillWaiting: false }));
	sum.removed++;
}

/** Removed on both sides, and what was in it comes from the file. @param {AnyDoc} theirs @param {TakenIn} sum */
async function bringBody(theirs, sum) {
	await garage.settle([theirs], (now, isWaiting) =>
		now && !now.body ? { doc: { ...now, body: theirs.body }, stillWaiting: isWaiting } : null,
	);
	sum.removed++;
}

/** @param {import("./backup.js").GarageFile["copies"][0]} copy @param {From} from @param {TakenIn} sum */
async function takeCopy(copy, from, sum) {
	const ours = garage.get(copy.kind, copy.id);
	if (!ours)
		return arrive(
			{ kind: copy.kind, id: copy.id, changedAt: copy.changedAt, deleted: false, body: copy.body, revision: "" },
			sum,
		); // its document is not in the file: it is one by itself
	if ((!ours.deleted && same(whole(copy.kind, copy.body), ours.body)) || from.asked.has(versionMark(copy))) return;
	await aside(
		copy,
		ours.deleted ? removedHere : bothChanged,
		copy.device || from.file,
		from,
		sum,
		copy,
		copy.revision,
	);
}

/**
 * aside sets a version aside, and remembers which one of the file it was about.
 * @param {AnyDoc} version
 * @param {string} why
 * @param {string} device
 * @param {From} from
 * @param {TakenIn} sum
 * @param {AnyDoc} [about]
 * @param {string} [revision]
 */
async function aside(version, why, device, from, sum, about = version, revision) {
	sum.copies += await setAside([newCopy(version, { device, why, revision })]);
	const marks = [versionMark(about), versionMark(version)];
	marks.forEach((mark) => from.asked.add(mark));
	await thisPhone.change("askedVersions", (list) => marksWith(list, marks));
}
