// The documents in memory, found by kind, and visits by their car and their
// distributor: a garage of thousands of visits is never walked through for one.

import { whole } from "./whole.js";

/** @typedef {(doc: AnyDoc) => boolean} Wanted */

export class Documents {
	/** @type {Map<string, AnyDoc>} by "kind/id" */
	#all = new Map();
	/** @type {Map<string, Set<string>>} keys by kind */
	#ofKind = new Map();
	/** @type {Map<string, Set<string>>} keys of visits by the id of their car or distributor */
	#visits = new Map();
	/** @type {Map<string, {kind: string, list: AnyDoc[]}>} lists made before, until a document of the kind changes */
	#lists = new Map();
	/** @type {Map<string, number>} how often what belongs to an id has come to say something else */
	#versions = new Map();

	get size() {
		return this.#all.size;
	}

	/** @param {string} key */
	get(key) {
		return this.#all.get(key);
	}

	/** @param {string} key */
	has(key) {
		return this.#all.has(key);
	}

	values() {
		return this.#all.values();
	}

	/** @param {string} key @param {AnyDoc} doc */
	set(key, doc) {
		const before = this.#all.get(key);
		this.#all.set(key, doc);
		within(this.#ofKind, doc.kind).add(key);
		for (const [name, { kind }] of this.#lists) if (kind === doc.kind) this.#lists.delete(name);
		const ids = new Set([doc.id, ...ownersOf(before), ...ownersOf(doc)]);
		for (const id of ownersOf(before)) this.#visits.get(id)?.delete(key);
		for (const id of ownersOf(doc)) within(this.#visits, id).add(key);
		if (versionOf(before) !== versionOf(doc))
			for (const id of ids) this.#versions.set(id, (this.#versions.get(id) ?? 0) + 1);
	}

	/**
	 * list gives those of a kind that are wanted, and is not worked out again before one of them changes.
	 * @param {string} name of the list @param {string} kind @param {Wanted} isWanted
	 * @param {(all: AnyDoc[]) => AnyDoc[]} asShown
	 */
	list(name, kind, isWanted, asShown) {
		const made = this.#lists.get(name);
		if (made) return made.list;
		const list = asShown(
			[...(this.#ofKind.get(kind) ?? [])]
				.map((key) => /** @type {AnyDoc} */ (this.#all.get(key)))
				.filter(isWanted),
		);
		this.#lists.set(name, { kind, list });
		return list;
	}

	/** visitsOf gives the visits of a car, of a distributor, or of both. @param {(string | undefined)[]} ids */
	visitsOf(...ids) {
		const keys = new Set(ids.flatMap((id) => (id ? [...(this.#visits.get(id) ?? [])] : [])));
		return [...keys].map((key) => /** @type {AnyDoc} */ (this.#all.get(key)));
	}

	/**
	 * version grows whenever a document of this id, or a visit of it, comes to say something else.
	 * @param {string} id
	 */
	version(id) {
		return this.#versions.get(id) ?? 0;
	}
}

/**
 * versionOf tells whether a document says something else than before: an answer that only brings a revision changes
 * nothing on a page.
 * @param {AnyDoc | undefined} doc
 */
export const versionOf = (doc) => (doc ? `${doc.changedAt} ${doc.mark} ${doc.deleted}` : "");

/** Whose a visit is; of other documents nobody's. @param {AnyDoc | undefined} doc @returns {string[]} */
const ownersOf = (doc) =>
	doc?.kind === "visit"
		? [doc.body?.carId, doc.body?.distributorId].filter((id) => typeof id === "string" && id)
		: [];

/** @param {Map<string, Set<string>>} map @param {string} key */
function within(map, key) {
	const found = map.get(key);
	if (found) return found;
	const made = new Set();
	map.set(key, made);
	return made;
}

/**
 * shown is a document as pages get it: with nothing missing that they count on, and frozen, since all pages are given
 * the same one. It is changed by update.
 * @param {AnyDoc} doc
 * @returns {AnyDoc}
 */
export function shown(doc) {
	if (!wholes.has(doc)) wholes.set(doc, frozen({ ...doc, body: whole(doc.kind, structuredClone(doc.body)) }));
	return /** @type {AnyDoc} */ (wholes.get(doc));
}

/**
 * With nothing missing, by the document as it is held: that is never changed in place.
 * @type {WeakMap<AnyDoc, AnyDoc>}
 */
const wholes = new WeakMap();

/** frozen is a value that nothing can change any more, to its last part. @template T @param {T} value @returns {T} */
function frozen(value) {
	if (typeof value !== "object" || value === null) return value;
	for (const part of Object.values(value)) frozen(part);
	return Object.freeze(value);
}
