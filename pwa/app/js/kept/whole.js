// A document's body against its shape, which comes from the server's own check
// (made/shapes.js). What a body leaves out is unknown, and stands as empty: a
// server takes such bodies over its interface, and files hold them. Everything
// that leaves the garage for a page passes through here; what is stored stays
// as it came.

import { shapes } from "../../made/shapes.js";

/**
 * whole gives a body with everything in it that the pages count on. It changes
 * nothing in place, and leaves alone what has another shape than it should.
 * @param {Kind} kind @param {any} body
 */
export function whole(kind, body) {
	return body ? fill(shapes[kind], body) : body;
}

/** What stands where nothing was said. @type {{[kind in Shape["kind"]]: () => any}} */
const empty = { text: () => "", boolean: () => false, list: () => [], map: () => ({}), object: () => ({}) };

/** @param {Shape} shape @param {any} value @returns {any} */
function fill({ kind, optional, each, fields = {} }, value) {
	if (value === undefined || value === null) {
		if (optional) return undefined;
		value = empty[kind]();
	}
	if (kind === "list" && each) return Array.isArray(value) ? value.map((item) => fill(each, item)) : value;
	if (!isMap(value)) return value;
	if (kind === "map" && each) return mapped(Object.keys(value), (name) => fill(each, value[name]));
	if (kind !== "object") return value;
	return mapped([...new Set([...Object.keys(value), ...Object.keys(fields)])], (name) =>
		Object.hasOwn(fields, name) ? fill(fields[name], value[name]) : value[name],
	);
}

/** @param {string[]} names @param {(name: string) => any} valueOf */
const mapped = (names, valueOf) =>
	Object.fromEntries(names.map((name) => [name, valueOf(name)]).filter(([, value]) => value !== undefined));

/** What a value of each kind is called. @type {{[kind in Shape["kind"]]: string}} */
const called = {
	text: "text",
	boolean: "yes or no",
	list: "a list",
	map: "a set of named values",
	object: "a set of named values",
};

/**
 * shapeTrouble says in words what of a body has another shape than it should,
 * or "". What is missing is no trouble, but for the ids of sets, readings and
 * events, by which they are united; nor is a field of a newer version. A text
 * or a list that is too long is none either: nobody's own file is refused for a
 * long note. The server says it, and the document waits here.
 * @param {Kind} kind @param {any} body
 */
export function shapeTrouble(kind, body) {
	return troubleIn(shapes[kind], body, "", false);
}

/**
 * fits says whether a server would take a body for the lengths of its texts
 * and lists: what two versions make together may have become too long.
 * @param {Kind} kind @param {any} body
 */
export function fits(kind, body) {
	return troubleIn(shapes[kind], body, "", true) === "";
}

/**
 * @param {Shape} shape
 * @param {any} value
 * @param {string} at
 * @param {boolean} hasLimits whether lengths count
 * @returns {string}
 */
function troubleIn(shape, value, at, hasLimits) {
	if (value === undefined || value === null) return "";
	const { kind, choices, most, each, fields = {} } = shape;
	const isRight =
		kind === "list"
			? Array.isArray(value)
			: kind === "map" || kind === "object"
				? isMap(value)
				: typeof value === (kind === "text" ? "string" : "boolean");
	if (!isRight) return `${at || "its body"} is not ${called[kind]}`;
	if (choices && !choices.includes(value))
		return `${at} is “${value.slice(0, 24)}”, not ${choices.map((choice) => choice || "left empty").join(" or ")}`;
	if (hasLimits && most && lengthOf(value) > most) return `${at} has ${lengthOf(value)}, at most ${most}`;
	if (kind === "list" && each) return listTrouble(each, value, at, hasLimits);
	for (const name of kind === "map" || kind === "object" ? Object.keys(value) : []) {
		const inside = kind === "map" ? each : Object.hasOwn(fields, name) ? fields[name] : undefined;
		const found = inside ? troubleIn(inside, value[name], at ? `${at}.${name}` : name, hasLimits) : "";
		if (found) return found;
	}
	return "";
}

/** Characters of a text, entries of a list or map. @param {any} value */
const lengthOf = (value) => (typeof value === "string" ? [...value] : Object.keys(value)).length;

/** @param {Shape} each @param {any[]} list @param {string} at @param {boolean} hasLimits */
function listTrouble(each, list, at, hasLimits) {
	const ids = new Set();
	for (const [n, item] of list.entries()) {
		const found =
			item === null || item === undefined
				? `${at}[${n}] is empty`
				: troubleIn(each, item, `${at}[${n}]`, hasLimits);
		if (found) return found;
		if (!each.fields?.id) continue;
		if (!item.id || ids.has(item.id)) return `${at}[${n}] has no id of its own`;
		ids.add(item.id);
	}
	return "";
}

/** @param {unknown} value @returns {value is {[name: string]: any}} */
const isMap = (value) => typeof value === "object" && value !== null && !Array.isArray(value);
