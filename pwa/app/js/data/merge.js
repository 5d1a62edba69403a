// What becomes of a document when this phone and the server meet. Pure: the
// queue and the network are in sync.js.

/**
 * afterPush gives the document to keep once the server has answered a push.
 * Changed again since means that it still waits, from the new revision.
 * @param {AnyDoc} now as it is on the phone
 * @param {AnyDoc} pushed as it was when it was sent
 * @param {{revision: string}} answer
 */
export function afterPush(now, pushed, answer) {
	return { doc: { ...now, revision: answer.revision }, stillWaiting: now.changedAt !== pushed.changedAt };
}

/**
 * afterPull gives the document to keep when the server sends one, or null to
 * leave the phone's alone: one that waits to be pushed is never overwritten,
 * the push itself brings the two together.
 * @param {AnyDoc | null} ours
 * @param {AnyDoc} theirs
 * @param {boolean} isWaiting
 */
export function afterPull(ours, theirs, isWaiting) {
	if (isWaiting) return null;
	if (ours && ours.revision === theirs.revision && ours.deleted === theirs.deleted) return null;
	// A tombstone carries no body; ours stays, so that the car can be brought back.
	return theirs.deleted && ours ? { ...theirs, body: theirs.body ?? ours.body } : theirs;
}

/**
 * unite brings our version of a document together with the server's after
 * both had changed. The later change stands; of a visit, readings that only
 * the other has are added, because a measurement is never dropped.
 * needsPush says that the result is not what the server has.
 * @param {AnyDoc} ours
 * @param {AnyDoc} theirs the server's current version
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
