// What the spark page stands on: each figure with where it comes from, the
// input of coil.sweep, and the changes tried on paper.

import { parse } from "../lib/format.js";
import { checks } from "./fact-checks.js";
import { factFields } from "./facts.js";
import { figureIn } from "./units.js";

/** @typedef {import("./electrics.js").Electrics} Electrics */
/** @typedef {import("./facts.js").FactField & {path: string, into?: string}} SparkField path: the input it goes to; into: the unit it is wanted in */
/** @typedef {{coil?: "" | "plain" | "ballasted" | "six", primaryOhm?: number, ballastOhm?: number, dwellDistDeg?: number, gapMm?: number}} SparkChange */

/** Coils to try, common practice; none is measured. */
export const coils = {
	plain: { label: "plain 12 V coil", note: "3 Ω, 8 mH", primaryOhm: 3, inductanceMilliH: 8 },
	ballasted: { label: "12 V coil made for a ballast", note: "1.5 Ω, 6 mH", primaryOhm: 1.5, inductanceMilliH: 6 },
	six: { label: "plain 6 V coil", note: "1.2 Ω, 5 mH", primaryOhm: 1.2, inductanceMilliH: 5 },
};

/** Facts asked nowhere else, with the path they go to. @returns {SparkField[]} */
const finer = () => [
	{ key: "runningVolts", of: "car", group: "", label: "Battery volts, engine running", kind: "number", units: ["V"], path: "supplyV", check: checks.runningVolts },
	{ key: "leadOhm", of: "car", group: "", label: "Leads, switch and points together", kind: "number", units: ["ohm"], path: "coil.leadOhm" },
	{ key: "coilInductance", of: "car", group: "", label: "Coil, primary inductance", kind: "number", units: ["mH"], path: "coil.inductanceMilliH" },
	{ key: "coilTurns", of: "car", group: "", label: "Coil, secondary turns for one of the primary", kind: "number", units: ["to 1"], path: "coil.turnsRatio" },
	{ key: "secondaryCapacity", of: "car", group: "", label: "Capacity of secondary, lead and plug", kind: "number", units: ["pF"], path: "coil.secondaryPicoF" },
	{ key: "plugLeak", of: "car", group: "", label: "Leak of a dirty plug", kind: "number", units: ["MΩ"], path: "plug.leakMegaOhm" },
	{ key: "crankingVolts", of: "car", group: "", label: "Battery volts while cranking", kind: "number", units: ["V"], path: "cranking.batteryV" },
	{ key: "crankingSpeed", of: "car", group: "", label: "Cranking speed", kind: "number", units: ["engine rpm"], path: "cranking.engineRPM" },
];

/** Where facts of the facts page go. @type {{[key: string]: {path: string, into?: string}}} */
const paths = {
	coilOhm: { path: "coil.primaryOhm" }, ballastOhm: { path: "coil.ballastOhm" }, condenser: { path: "coil.condenserMicroF" },
	plugGap: { path: "plug.gapMm", into: "mm" }, compressionRatio: { path: "engine.compressionRatio" },
};

/** sparkFields lists the figures the spark stands on, the weightiest first. @returns {SparkField[]} */
export function sparkFields() {
	const known = factFields().filter(({ key }) => key in paths).map((field) => ({ ...field, ...paths[field.key] }));
	const all = [...known, ...finer()];
	const order = ["runningVolts", "coilOhm", "ballastOhm", "plugGap", "compressionRatio", "condenser", "leadOhm"];
	const rank = (/** @type {SparkField} */ { key }) => (order.includes(key) ? order.indexOf(key) : order.length);
	return all.sort((a, b) => rank(a) - rank(b));
}

/** What coil.sweep takes of each path. @type {{[path: string]: [low: number, high: number]}} */
const reach = {
	supplyV: [3, 30], "coil.primaryOhm": [0.1, 20], "coil.ballastOhm": [0, 20], "coil.leadOhm": [0, 20], "coil.inductanceMilliH": [0.1, 100], "coil.turnsRatio": [10, 300],
	"coil.condenserMicroF": [0.01, 5], "coil.secondaryPicoF": [1, 1000], "plug.gapMm": [0.2, 2], "plug.leakMegaOhm": [0.05, 10_000], "engine.compressionRatio": [3, 16],
	"cranking.batteryV": [0.5, 30], "cranking.engineRPM": [20, 600],
};

/**
 * sparkFigures reads every figure that is known; out of reach of the
 * calculation counts as not known, and is said.
 * @param {Facts} car
 * @returns {{values: {[path: string]: number}, unread: {[path: string]: string}}}
 */
export function sparkFigures(car) {
	/** @type {{[path: string]: number}} */
	const values = {};
	/** @type {{[path: string]: string}} */
	const unread = {};
	for (const { key, path, into } of sparkFields()) {
		const fact = car[key];
		if (!fact || fact.value.trim() === "") continue;
		const x = into ? figureIn(fact, into) : parse(fact.value);
		const [low, high] = reach[path];
		if (x !== null && x >= low && x <= high) values[path] = x;
		else unread[path] = x === null ? (into && !fact.unit ? "its unit is not chosen" : "it cannot be read as a number") : `${low} to ${high} can be worked with`;
	}
	return { values, unread };
}

/**
 * sweepIn gives the input of coil.sweep for a car as it is, and in words what
 * was taken where the car does not say.
 * @param {Electrics & {nominalV: 6 | 12, cylinders: number}} electrics @param {Facts} car @param {{dwell: number}} dwell @param {number[]} engineRPM
 * @param {{engineRPM: number, crankDeg: number}[]} timing @param {string} polarity
 */
export function sweepIn(electrics, car, { dwell }, engineRPM, timing, polarity) {
	const { values } = sparkFigures(car);
	const given = { ...values };
	/** @type {{[path: string]: string}} */
	const taken = {};
	if (given.supplyV === undefined) {
		given.supplyV = electrics.nominalV === 6 ? 6.9 : 13.8;
		taken.supplyV = `${given.supplyV} V taken: common practice for a ${electrics.nominalV} V car while charging`;
	}
	if (electrics.ballasted === false) given["coil.ballastOhm"] = 0;
	else if (electrics.ballasted && given["coil.ballastOhm"] === undefined) {
		given["coil.ballastOhm"] = electrics.nominalV === 6 ? 0 : 1.5;
		taken["coil.ballastOhm"] = electrics.nominalV === 6 ? "0 Ω taken: for a 6 V ballast no usual figure is known" : "1.5 Ω taken: common practice";
	}
	return { input: { ...nested(given), cylinders: electrics.cylinders, engineRPM, points: { dwellDistDeg: dwell }, ...plugAnd(given, polarity), engine: { ...group(given, "engine"), ...(timing.length ? { timing } : {}) } }, taken };
}

/** @param {{[path: string]: number}} given @param {string} polarity */
function plugAnd(given, polarity) {
	return { plug: { ...group(given, "plug"), polarity: polarity || "unknown" } };
}

/** @param {{[path: string]: number}} given */
function nested(given) {
	return { supplyV: given.supplyV, coil: group(given, "coil"), cranking: group(given, "cranking") };
}

/** @param {{[path: string]: number}} given @param {string} name @returns {{[field: string]: number}} */
function group(given, name) {
	return Object.fromEntries(Object.entries(given).filter(([path]) => path.startsWith(`${name}.`)).map(([path, x]) => [path.slice(name.length + 1), x]));
}

/**
 * changedIn gives the same input with the changes tried on paper.
 * @param {any} input of coil.sweep @param {SparkChange} change
 */
export function changedIn(input, change) {
	const next = structuredClone(input);
	const coil = change.coil ? coils[change.coil] : null;
	if (coil) Object.assign(next.coil, { primaryOhm: coil.primaryOhm, inductanceMilliH: coil.inductanceMilliH });
	if (change.primaryOhm !== undefined) next.coil.primaryOhm = change.primaryOhm;
	if (change.ballastOhm !== undefined) next.coil.ballastOhm = change.ballastOhm;
	if (change.dwellDistDeg !== undefined) next.points.dwellDistDeg = change.dwellDistDeg;
	if (change.gapMm !== undefined) next.plug.gapMm = change.gapMm;
	return next;
}

/** isChanged says whether anything is tried. @param {SparkChange} change */
export const isChanged = (change) => Object.values(change).some((value) => value !== undefined && value !== "");

/**
 * takenWords sorts what the calculation says it has taken by the input it
 * belongs to, in plain words.
 * @param {string[]} assumed
 * @returns {{[path: string]: string}}
 */
export function takenWords(assumed) {
	return Object.fromEntries(assumed.flatMap((line) => {
		const found = /^([\w.]+) not given: (.*)$/.exec(line);
		return found ? [[found[1], found[2]]] : [];
	}));
}

/**
 * speedsFor gives the speeds drawn and, among them, those of the table.
 * @param {number} top engine rpm
 */
export function speedsFor(top) {
	const drawn = Array.from({ length: Math.floor(top / 200) - 1 }, (_, i) => 400 + i * 200);
	const table = [500, 1000, ...Array.from({ length: Math.floor(top / 1000) - 1 }, (_, i) => 2000 + i * 1000)];
	return { drawn: [...new Set([...drawn, ...table, top])].sort((a, b) => a - b), table: table.filter((speed) => speed <= top) };
}
