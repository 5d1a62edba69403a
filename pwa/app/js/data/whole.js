// The shape of a document's body, as the pages count on it. What a body leaves
// out is unknown, and stands as empty: a server takes such bodies over its
// interface, and files hold them. Everything that leaves the garage for a page
// passes through here; what is stored stays as it came.

const text = "", flag = false;
const fact = { value: text, unit: text, source: text, note: text };
const facts = { "*": fact };
const reading = { id: text, rpm: text, deg: text, side: text, direction: text, at: text };
const set = {
	id: text, place: text, angleUnit: text, speedUnit: text, base: text, vacuum: text,
	readingErrorCrankDeg: text, staticCrankDeg: text, staticSide: text, readings: [reading],
};
const event = { id: text, at: text, step: text, verdict: text, what: text, changed: text, undone: [text], restored: [text], odometer: text };
const sheet = {
	angleUnit: text, speedUnit: text, base: text, baseCrankDeg: text, baseSide: text, baseToleranceCrankDeg: text, noAdvanceBelow: text,
	driveRatio: text, listedWhile: text, limitDistDeg: text, rows: [{ rpm: text, min: text, max: text }],
};

/** An object is members by name ("*": any name), a list is [what each item is], text and yes-or-no are themselves empty. */
const shapes = {
	car: { name: text, owner: text, distributorId: text, facts, demo: flag },
	distributor: { name: text, typeNumber: text, facts, sheet, sheetSource: text },
	visit: { carId: text, distributorId: text, date: text, title: text, notes: text, sets: [set], facts, events: [event] },
};

/** What may be left out for good: a page asks whether it is there. */
const mayBeAbsent = new Set(["visit.facts", "visit.events"]);

/**
 * whole gives a body with everything in it that the pages count on. It changes
 * nothing in place, and leaves alone what has another shape than it should.
 * @param {Kind} kind @param {any} body
 */
export function whole(kind, body) {
	return body ? fill(shapes[kind], body, kind) : body;
}

/** @param {any} shape @param {any} value @param {string} at @returns {any} */
function fill(shape, value, at) {
	if (value === undefined || value === null) return mayBeAbsent.has(at) ? undefined : Array.isArray(shape) ? [] : typeof shape === "object" ? fill(shape, {}, at) : shape;
	if (Array.isArray(shape)) return Array.isArray(value) ? value.map((item) => fill(shape[0], item, at)) : value;
	if (typeof shape !== "object" || !isMap(value)) return value;
	if (shape["*"]) return mapped(Object.keys(value), (name) => fill(shape["*"], value[name], at));
	return mapped([...new Set([...Object.keys(value), ...Object.keys(shape)])], (name) => (Object.hasOwn(shape, name) ? fill(shape[name], value[name], `${at}.${name}`) : value[name]));
}

/** @param {string[]} names @param {(name: string) => any} valueOf */
const mapped = (names, valueOf) => Object.fromEntries(names.map((name) => [name, valueOf(name)]).filter(([, value]) => value !== undefined));

/**
 * shapeTrouble says in words what of a body has another shape than it should,
 * or "". What is missing is no trouble, but for the ids of sets, readings and
 * events, by which they are united.
 * @param {Kind} kind @param {any} body
 */
export function shapeTrouble(kind, body) {
	return troubleIn(shapes[kind], body, "");
}

/** @param {any} shape @param {any} value @param {string} at @returns {string} */
function troubleIn(shape, value, at) {
	if (value === undefined || value === null) return "";
	const kindOf = Array.isArray(shape) ? "a list" : typeof shape === "object" ? "a set of named values" : shape === flag ? "yes or no" : "text";
	const isRight = Array.isArray(shape) ? Array.isArray(value) : typeof shape === "object" ? isMap(value) : typeof value === typeof shape;
	if (!isRight) return `${at || "its body"} is not ${kindOf}`;
	if (Array.isArray(shape)) return listTrouble(shape[0], value, at);
	if (typeof shape !== "object") return "";
	for (const name of Object.keys(value)) {
		const inside = shape["*"] ?? (Object.hasOwn(shape, name) ? shape[name] : undefined);
		const found = inside === undefined ? "" : troubleIn(inside, value[name], at ? `${at}.${name}` : name);
		if (found) return found;
	}
	return "";
}

/** @param {any} each @param {any[]} list @param {string} at */
function listTrouble(each, list, at) {
	const ids = new Set();
	for (const [n, item] of list.entries()) {
		const found = item === null || item === undefined ? `${at}[${n}] is empty` : troubleIn(each, item, `${at}[${n}]`);
		if (found) return found;
		if (typeof each !== "object" || !("id" in each)) continue;
		if (!item.id || ids.has(item.id)) return `${at}[${n}] has no id of its own`;
		ids.add(item.id);
	}
	return "";
}

/** @param {unknown} value @returns {value is {[name: string]: any}} */
const isMap = (value) => typeof value === "object" && value !== null && !Array.isArray(value);
