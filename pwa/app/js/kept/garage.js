// The garage on this phone: the documents of cars, distributors and visits. It
// is the truth while working; the server holds a shared copy when there is one.
// What is half typed is in drafts.js, facts about the phone in this-phone.js,
// what the phone would not take in unsaved.js, the other tabs in tabs.js.

import { exchange, glance, onEmptied } from "./db.js";
import { Documents, shown, versionOf } from "./documents.js";
import { asWritten } from "../kit/format.js";
import { onTopOf } from "./merge.js";
import { keepStandIn, seenFrom, standIn } from "./stand-in.js";
import { hear, tell as tellTabs } from "./tabs.js";
import { Unsaved } from "./unsaved.js";
import { whole } from "./whole.js";
import { randomID } from "../kit/platform.js";

/**
 * @typedef {{ids: Set<string>, kind: Kind, id: string, from: "here" | "tab" | "sync"}} Change ids: of all that changed;
 *   kind and id: of the first of them
 * @typedef {import("./merge.js").Outcome} Outcome
 */

const changes = new EventTarget();
const documents = new Documents();
/** What the memory of this tab was edited from: a version in the store, or part of it. @type {Map<string, AnyDoc>} */
const seen = new Map();
/** Documents whose last change the phone does not have yet. */
const unsaved = new Unsaved(async (key) => {
	const doc = documents.get(key);
	if (doc) await keep(doc).catch(() => {});
});
/** @type {Set<string>} keys of documents changed here and not yet on the server */
const waiting = new Set();

/** @param {string} kind @param {string} id */
const keyOf = (kind, id) => `${kind}/${id}`;

/** @type {Promise<void> | null} */
let opened = null;

export const garage = {
	/** open reads everything in; calling it again costs nothing. */
	open() {
		opened ??= load().catch((error) => {
			opened = null;
			throw error;
		});
		return opened;
	},

	/** cars lists those not removed, the one worked on last first. @returns {Doc<Car>[]} */
	cars: () => [...list("cars", "car", (doc) => !doc.deleted)],

	/** removed lists the removed cars, or distributors that were on the bench. @param {Kind} [kind] */
	removed: (kind = "car") =>
		list(
			`removed ${kind}`,
			kind,
			({ deleted, body }) => deleted && body && (kind === "car" || body.bench === true),
		),

	/** units lists the distributors worked on by themselves, the last one first. @returns {Doc<Distributor>[]} */
	units: () => [...list("units", "distributor", (doc) => !doc.deleted && doc.body?.bench === true)],

	/** library lists the tables of the library of curves, the last one first. @returns {Doc<Distributor>[]} */
	library: () => [...list("library", "distributor", (doc) => !doc.deleted && doc.body?.library === true)],

	/** photographed lists the visits with photos. @returns {Doc<Visit>[]} */
	photographed: () => list("photographed", "visit", ({ deleted, body }) => !deleted && Boolean(body?.photos?.length)),

	/** isUnit says whether an address of a car leads to a distributor by itself. @param {string} id */
	isUnit: (id) => !documents.has(keyOf("car", id)) && documents.has(keyOf("distributor", id)),

	/**
	 * visits lists the visits of a car, the newest first, and what was read of its distributor elsewhere (seenFrom).
	 * Under a distributor's id all of its own, in whichever car.
	 * @param {{carId: string}} of
	 * @returns {Doc<Visit>[]}
	 */
	visits({ carId }) {
		const isUnit = garage.isUnit(carId);
		const unit = isUnit ? carId : documents.get(keyOf("car", carId))?.body?.distributorId;
		const own = documents
			.visitsOf(isUnit ? undefined : carId, unit)
			.filter(({ deleted }) => !deleted)
			.map((one) => {
				const doc = shown(one);
				const body = isUnit ? doc.body : seenFrom(doc.body, carId, unit);
				return body === doc.body ? doc : { ...doc, body };
			});
		return own.sort(
			(a, b) => asWritten(String(b.body.date), String(a.body.date)) || asWritten(b.changedAt, a.changedAt),
		);
	},

	/**
	 * get gives a document, also a removed one, or null. Nothing in it can be changed in place. Under the id of
	 * a distributor a car is the distributor itself.
	 * @param {Kind} kind @param {string} id @returns {AnyDoc | null}
	 */
	get(kind, id) {
		if (kind === "car" && garage.isUnit(id)) return standIn(/** @type {AnyDoc} */ (garage.get("distributor", id)));
		const doc = documents.get(keyOf(kind, id));
		return doc ? shown(doc) : null;
	},

	/**
	 * put keeps a body and resolves when the phone has it. Should the phone
	 * refuse (no room), the promise fails but the body stays in memory.
	 * @param {Kind} kind
	 * @param {string} id
	 * @param {unknown} body
	 * @param {string} [changedAt] for a document that was made elsewhere
	 * @returns {Promise<AnyDoc>}
	 */
	put(kind, id, body, changedAt) {
		if (kind === "car" && garage.isUnit(id))
			return garage.update(kind, id, (now) => Object.assign(now, structuredClone(body)));
		return keep({
			kind,
			id,
			revision: revisionOf(kind, id),
			mark: randomID(),
			changedAt: changedAt ?? later(kind, id),
			deleted: false,
			body: structuredClone(body),
		});
	},

	/**
	 * update changes a body as it is now: edit gets a copy to change in place.
	 * What another tab changes at the same moment stands beside it.
	 * @param {Kind} kind
	 * @param {string} id
	 * @param {(body: any) => void} edit
	 * @returns {Promise<AnyDoc>}
	 */
	update(kind, id, edit) {
		if (kind === "car" && garage.isUnit(id)) {
			const before = /** @type {AnyDoc} */ (garage.get("car", id)).body;
			const after = structuredClone(before);
			edit(after);
			return garage.update("distributor", id, (body) => keepStandIn(body, before, after));
		}
		const body = whole(kind, structuredClone(documents.get(keyOf(kind, id))?.body ?? {}));
		edit(body);
		return garage.put(kind, id, body);
	},

	/** remove hides a document; its body stays so that it can come back. @param {Kind} kind @param {string} id */
	async remove(kind, id) {
		const doc = documents.get(keyOf(kind, id));
		if (doc) await keep({ ...doc, mark: randomID(), deleted: true, changedAt: later(kind, id) });
	},

	/** restore brings a removed document back. @param {Kind} kind @param {string} id */
	async restore(kind, id) {
		const doc = documents.get(keyOf(kind, id));
		if (doc) await keep({ ...doc, mark: randomID(), deleted: false, changedAt: later(kind, id) });
	},

	newId: randomID,

	/**
	 * on calls fn after every change and gives a function that stops it; "overruled": a version of which something gave
	 * way to what was typed here.
	 * @param {"change" | "saving" | "overruled"} event
	 * @param {(change: any) => void} fn
	 */
	on(event, fn) {
		const listener = (/** @type {any} */ e) => fn(e.detail);
		changes.addEventListener(event, listener);
		return () => changes.removeEventListener(event, listener);
	},

	/**
	 * someVisit says whether a visit of a car or of its distributor is as asked; no body is copied.
	 * @param {string} id @param {(body: Visit) => boolean} isAsked must change nothing
	 */
	someVisit: (id, isAsked) =>
		documents
			.visitsOf(id, documents.get(keyOf("car", id))?.body?.distributorId)
			.some(({ deleted, body }) => !deleted && isAsked(body)),

	/** isEmpty: this phone holds nothing, nor anything removed. */
	isEmpty: () => documents.size === 0,

	/** version changes whenever what is known of a car or a distributor by itself does. @param {string} id */
	version: (id) =>
		[id, documents.get(keyOf("car", id))?.body?.distributorId ?? ""].map((one) => documents.version(one)).join("."),

	/** inBrief lists every document, removed ones too, by little more than its name: no body is copied. */
	inBrief: () =>
		[...documents.values()].map(({ kind, id, changedAt, body }) => ({
			...{ kind, id, changedAt, carId: body?.carId, distributorId: body?.distributorId },
			...{ isOwn: Boolean(body && !body.demo && (kind === "car" || body.bench)) },
		})),

	/** everything gives all documents as they are stored, removed ones too. */
	everything: () => structuredClone([...documents.values()]),

	/** waiting lists the keys ("kind/id") of documents changed here and not yet on the server. */
	waiting: () => [...waiting],

	/** isWaiting says whether a document is one of them. @param {Kind} kind @param {string} id */
	isWaiting: (kind, id) => waiting.has(keyOf(kind, id)),

	/**
	 * settle keeps what the server said about some documents. decide is asked
	 * inside the transaction, with the document as whichever tab wrote last has
	 * left it (null: none), so that an answer never takes back what was typed
	 * meanwhile; it gives what to keep and whether that still waits, or null to
	 * leave the document alone.
	 * @template {{kind: Kind, id: string}} Said
	 * @param {Said[]} all
	 * @param {(now: AnyDoc | null, isWaiting: boolean, said: Said) => Outcome | null} decide
	 */
	async settle(all, decide) {
		const said = new Map(all.map((one) => [keyOf(one.kind, one.id), one]));
		if (!said.size) return;
		const before = new Map([...said.keys()].map((key) => [key, versionOf(documents.get(key))]));
		const settled = await meet([...said.keys()], (key, now, isWaiting) =>
			decide(now, isWaiting, /** @type {Said} */ (said.get(key))),
		);
		announce(
			"sync",
			settled.map((key) => /** @type {Said} */ (said.get(key))),
			before,
		);
	},
};

/** @type {Promise<unknown> | null} */
let loaded = null;
let isListening = false;

function listen() {
	if (isListening) return;
	isListening = true;
	onEmptied(
		() => [...documents.values()].map((doc) => ({ doc, isWaiting: waiting.has(keyOf(doc.kind, doc.id)) })),
		(error) => unsaved.refused(error),
	);
	hear(async ({ docs }) => {
		if (!docs) return;
		await loaded?.catch(() => {});
		await look(docs).catch(() => {}); // a store that does not answer now is met again at the next key
	});
}

async function load() {
	listen(); // first, so that nothing another tab says in between is missed
	const loading = (loaded = glance());
	for (const { doc, isWaiting } of await loading) remember(doc, isWaiting);
}

/** @param {AnyDoc} doc as it is in the store @param {boolean} isWaiting */
function remember(doc, isWaiting) {
	const key = keyOf(doc.kind, doc.id);
	documents.set(key, doc);
	seen.set(key, doc);
	if (isWaiting) waiting.add(key);
	else waiting.delete(key);
}

/**
 * look takes over what another tab has stored, unless something typed here is on its way there: then that brings the
 * two together.
 * @param {{kind: Kind, id: string}[]} docs
 */
async function look(docs) {
	const before = new Map(docs.map(({ kind, id }) => [keyOf(kind, id), documents.get(keyOf(kind, id))]));
	const found = (await glance([...before.keys()])).filter(({ doc }) => {
		const key = keyOf(doc.kind, doc.id);
		return !unsaved.has(key) && documents.get(key) === before.get(key);
	});
	for (const { doc, isWaiting } of found) remember(doc, isWaiting);
	tell(
		"change",
		"tab",
		found.map(({ doc }) => doc).filter((doc) => versionOf(doc) !== versionOf(before.get(keyOf(doc.kind, doc.id)))),
	);
}

/** @param {AnyDoc} doc */
async function keep(doc) {
	const key = keyOf(doc.kind, doc.id);
	documents.set(key, doc);
	waiting.add(key);
	unsaved.add(key);
	tell("saving", "here", [doc]);
	try {
		await meet([key]);
	} catch (error) {
		unsaved.refused(error);
		throw error;
	} finally {
		announce("here", [doc]);
	}
	const now = /** @type {AnyDoc} */ (documents.get(key));
	if (now.mark !== doc.mark && !unsaved.has(key)) tell("change", "tab", [doc]); // another tab's change is in it
	return structuredClone(now);
}

/**
 * meet brings what was typed in this tab together with what is in the store,
 * asks decide what becomes of that, and writes it: all in one transaction, so
 * that no other tab can write in between.
 * @param {string[]} keys
 * @param {(key: string, now: AnyDoc | null, isWaiting: boolean) => Outcome | null} [decide] null: what was typed here
 *   is stored and waits
 * @returns {Promise<string[]>} the keys of what was written
 */
async function meet(keys, decide = () => null) {
	/**
	 * @type {Map<string, {memory: AnyDoc | undefined, typed: AnyDoc | undefined, outcome: Outcome | null, overruled:
	 *   AnyDoc | null}>}
	 */
	const met = new Map();
	await exchange(keys, (key, stored, isWaiting) => {
		const memory = documents.get(key);
		const typed = unsaved.has(key) ? memory : undefined;
		const { doc: now, isLost } = typed
			? onTopOf(stored, typed, seen.get(key), randomID())
			: { doc: stored, isLost: false };
		const outcome =
			decide(key, now, isWaiting || typed !== undefined) ??
			(typed && now ? { doc: now, stillWaiting: true } : null);
		met.set(key, { memory, typed, outcome, overruled: isLost ? stored : null });
		return outcome;
	});
	for (const [key, { memory, typed, outcome, overruled }] of met) {
		if (!outcome) continue;
		if (overruled) changes.dispatchEvent(new CustomEvent("overruled", { detail: overruled }));
		if (documents.get(key) === memory) {
			remember(outcome.doc, outcome.stillWaiting);
			unsaved.delete(key);
		} else if (typed) {
			seen.set(key, typed); // typed on since: that goes on from what is stored now
		}
	}
	return [...met].filter(([, { outcome }]) => outcome).map(([key]) => key);
}

/**
 * @param {Change["from"]} from
 * @param {{kind: Kind, id: string}[]} docs
 * @param {Map<string, string>} [before] what they said before: pages hear of those that say something else now
 */
function announce(from, docs, before) {
	tell(
		"change",
		from,
		before
			? docs.filter(({ kind, id }) => versionOf(documents.get(keyOf(kind, id))) !== before.get(keyOf(kind, id)))
			: docs,
	);
	tellTabs({ docs: docs.map(({ kind, id }) => ({ kind, id })) });
}

/**
 * tell tells this tab of all of them at once: a first meeting with a server brings thousands.
 * @param {"change" | "saving"} event
 * @param {Change["from"]} from
 * @param {{kind: Kind, id: string}[]} docs
 */
function tell(event, from, docs) {
	if (docs.length)
		changes.dispatchEvent(
			new CustomEvent(event, {
				detail: { kind: docs[0].kind, id: docs[0].id, ids: new Set(docs.map(({ id }) => id)), from },
			}),
		);
}

/**
 * The last changed first.
 * @param {string} name of the list @param {Kind} kind
 * @param {(doc: AnyDoc) => boolean} isWanted asked about the document as it is stored
 * @returns {AnyDoc[]}
 */
const list = (name, kind, isWanted) =>
	documents.list(name, kind, isWanted, (all) => all.sort((a, b) => asWritten(b.changedAt, a.changedAt)).map(shown));

/** @param {Kind} kind @param {string} id */
function revisionOf(kind, id) {
	return documents.get(keyOf(kind, id))?.revision ?? "";
}

/**
 * later is now, or just after the last change where the phone's clock has been
 * put back: a change must never look older than the one it replaces.
 * @param {Kind} kind @param {string} id
 */
function later(kind, id) {
	const last = Date.parse(documents.get(keyOf(kind, id))?.changedAt ?? "") || 0;
	return new Date(Math.max(Date.now(), last + 1)).toISOString();
}
