// Two versions of a body become one. Pure. unite is for versions that did not
// know of each other, by the server's rules (store/merge.go, rule 5, without
// the version both came from); rebase is for two tabs of one phone, where that
// version is known.

/** @typedef {{[key: string]: any}} Members */

/**
 * unite brings two bodies together: lists whose items carry ids item by item,
 * facts by name, all the rest from the newer, as one piece. isLost says that
 * something of the older is not in the result.
 * @param {any} older
 * @param {any} newer
 * @returns {{body: any, isLost: boolean}}
 */
export function unite(older, newer) {
	const lost = { is: false };
	return { body: uniteMembers(older, newer, lost), isLost: lost.is };
}

/** @param {Members} older @param {Members} newer @param {{is: boolean}} lost @returns {Members} */
function uniteMembers(older, newer, lost) {
	const united = new Map();
	for (const key of keysOf(newer, older)) {
		const [o, n] = [own(older, key), own(newer, key)];
		if (key === "facts" && [o, n].every((one) => one === undefined || isMap(one)))
			united.set(key, uniteFacts(o ?? {}, n ?? {}, lost));
		else if ([o, n].every((one) => one === undefined || areItems(one)))
			united.set(key, uniteItems(o ?? [], n ?? [], lost));
	}
	const [restO, restN] = [older, newer].map((one) => only(one, (key) => !united.has(key)));
	const isOnlyMark = sameButMark(restO, restN);
	if (!isOnlyMark) lost.is = true;
	const rest = isOnlyMark && restO.removed === true ? restO : restN; // the mark stays; no value is lost by it
	return { ...rest, ...Object.fromEntries(united) };
}

/** @param {Facts} older @param {Facts} newer @param {{is: boolean}} lost */
function uniteFacts(older, newer, lost) {
	for (const [key, fact] of Object.entries(older)) {
		if (Object.hasOwn(newer, key) && !same(fact, newer[key]) && !saysNothing(fact)) lost.is = true;
	}
	return { ...older, ...newer };
}

/** @param {Item[]} older @param {Item[]} newer @param {{is: boolean}} lost */
function uniteItems(older, newer, lost) {
	return itemByItem(older, newer, (other, item) => uniteMembers(other, item, lost));
}

/**
 * The newer's order, then what only the older has: no item is ever dropped.
 * @param {Item[]} older
 * @param {Item[]} newer
 * @param {(older: Item, newer: Item) => any} both
 */
function itemByItem(older, newer, both) {
	return [
		...newer.map((item) => {
			const other = older.find(({ id }) => id === item.id);
			return other ? both(other, item) : item;
		}),
		...older.filter(({ id }) => !newer.some((item) => item.id === id)),
	];
}

/**
 * rebase puts one tab's changes on what another tab has stored meanwhile. A
 * field, a fact, a reading that only one of them changed is that one's; of what
 * both changed, mine stands, and isLost says that something stored gave way.
 * @param {any} base what both began with
 * @param {any} mine
 * @param {any} stored
 * @returns {{body: any, isLost: boolean}}
 */
export function rebase(base, mine, stored) {
	const lost = { is: false };
	return { body: rebaseAny(base, mine, stored, lost), isLost: lost.is };
}

/** @param {any} base @param {any} mine @param {any} stored @param {{is: boolean}} lost @returns {any} */
function rebaseAny(base, mine, stored, lost) {
	if (isMap(mine) && isMap(stored) && !same(mine, stored)) {
		return ofKeys(keysOf(mine, stored), (key) => {
			const [b, m, s] = [own(base, key), own(mine, key), own(stored, key)];
			if (areItems(m) && areItems(s)) return rebaseItems(areItems(b) ? b : [], m, s, lost);
			if (key === "facts" && isMap(m) && isMap(s))
				// a figure is not mixed with another's unit
				return ofKeys(keysOf(m, s), (name) => ofOne(own(b, name), own(m, name), own(s, name), lost));
			return rebaseAny(b, m, s, lost);
		});
	}
	return ofOne(base, mine, stored, lost);
}

/**
 * What is one piece is mine or stored, whole.
 * @param {any} base
 * @param {any} mine
 * @param {any} stored
 * @param {{is: boolean}} lost
 * @returns {any}
 */
function ofOne(base, mine, stored, lost) {
	if (same(mine, base) || same(mine, stored)) return stored;
	if (same(stored, base)) return mine;
	if (mine === undefined) return stored; // taken out here and changed there: what was typed stays
	if (!saysNothing(stored)) lost.is = true;
	return mine;
}

/**
 * A reading and an event are one piece, a set goes on inside.
 * @param {Item[]} base
 * @param {Item[]} mine
 * @param {Item[]} stored
 * @param {{is: boolean}} lost
 */
function rebaseItems(base, mine, stored, lost) {
	return itemByItem(stored, mine, (s, m) => {
		const b = base.find(({ id }) => id === m.id);
		if (!b && sameButMark(s, m)) return s.removed === true ? s : m;
		return ([s, m].some(holdsItems) ? rebaseAny : ofOne)(b, m, s, lost);
	});
}

/** A list of words that is empty holds no items. @param {Item} item */
const holdsItems = (item) =>
	areItems(item.readings) || Object.values(item).some((value) => areItems(value) && value.length > 0);

/** @typedef {{id: string, [key: string]: any}} Item */

/** @param {unknown} value @returns {value is Item[]} a list of objects that each carry an id of their own */
function areItems(value) {
	return (
		Array.isArray(value) &&
		value.every((item) => isMap(item) && typeof item.id === "string" && item.id !== "") &&
		new Set(value.map(({ id }) => id)).size === value.length
	);
}

/** @param {unknown} value @returns {value is Members} */
const isMap = (value) => typeof value === "object" && value !== null && !Array.isArray(value);

/** What an object says under a name, never what all objects have. @param {any} of @param {string} key */
const own = (of, key) => (isMap(of) && Object.hasOwn(of, key) ? of[key] : undefined);

/** @param {Members} a @param {Members} b whether they differ in nothing but the mark of what was taken out */
const sameButMark = (a, b) =>
	same(
		only(a, (key) => key !== "removed"),
		only(b, (key) => key !== "removed"),
	);

/** @param {Members} first @param {Members} second */
const keysOf = (first, second) => new Set([...Object.keys(first), ...Object.keys(second)]);

/** @param {Set<string>} keys @param {(key: string) => any} valueOf @returns {Members} */
const ofKeys = (keys, valueOf) =>
	Object.fromEntries([...keys].map((key) => [key, valueOf(key)]).filter(([, value]) => value !== undefined));

/** @param {Members} of @param {(key: string) => boolean} isWanted @returns {Members} */
const only = (of, isWanted) => Object.fromEntries(Object.entries(of).filter(([key]) => isWanted(key)));

/** Nothing, an empty text, or an object of empty texts. @param {unknown} value */
const saysNothing = (value) =>
	value === undefined || value === "" || (isMap(value) && Object.values(value).every((text) => text === ""));

/**
 * same compares by meaning, whatever the order of names.
 * @param {unknown} a @param {unknown} b @returns {boolean}
 */
export function same(a, b) {
	return a === b || canonical(a) === canonical(b);
}

/** canonical writes a value the same way whatever the order of names in it. @param {unknown} value */
export const canonical = (value) => JSON.stringify(ordered(value));

/** @param {any} value @returns {any} the same with names in order */
function ordered(value) {
	if (Array.isArray(value)) return value.map(ordered);
	if (value === null || typeof value !== "object") return value;
	return Object.fromEntries(
		Object.keys(value)
			.sort()
			.map((key) => [key, ordered(value[key])]),
	);
}
