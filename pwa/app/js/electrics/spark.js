// What the spark page stands on: each figure with where it comes from, the
// input of coil.sweep, and the changes tried on paper.

import { inputs } from "../../made/shapes.js";
import { inWords, isIn } from "../record/figure-limits.js";
import { parse } from "../kit/format.js";
import { checks } from "../record/fact-checks.js";
import { factFields } from "../record/facts.js";
import { convert, figureIn, unitsLike } from "../kit/units.js";
import { speaking } from "../kit/words.js";

/** @typedef {import("../record/car-electrics.js").Electrics} Electrics */
/**
 * @typedef {import("../record/facts.js").FactField & {path: string, into?: string}} SparkField path: the input it goes
 *   to; into: the unit it is wanted in
 */
/**
 * @typedef {{coil?: "" | "plain" | "ballasted" | "six", primaryOhm?: number, ballastOhm?: number, dwellDistDeg?:
 *   number, gapMm?: number}} SparkChange
 */

/** Coils to try, common practice; none is measured. */
export const coils = {
	plain: { label: "plain 12 V coil", note: "3 Ω, 8 mH", primaryOhm: 3, inductanceMilliH: 8 },
	ballasted: { label: "12 V coil made for a ballast", note: "1.5 Ω, 6 mH", primaryOhm: 1.5, inductanceMilliH: 6 },
	six: { label: "plain 6 V coil", note: "1.3 Ω, 5 mH", primaryOhm: 1.3, inductanceMilliH: 5 },
};

/** Ohms of a usual 12 V ballast, common practice. */
const usualBallast = 1.5;

/** @type {(key: string, label: string, unit: string, path: string, note?: string) => SparkField} */
const figure = (key, label, unit, path, note) => ({
	key,
	of: "car",
	group: "",
	label,
	kind: "number",
	units: unit === "°C" && speaking() === "us" ? ["°F", "°C"] : unit ? unitsTyped(unit) : undefined,
	path,
	...(unit === "°C" ? { into: unit, hasUsualUnit: true } : {}),
	note,
	check: (value, typed) => outOfReach(value, unit, path, typed),
});

/** A temperature may be typed in either degree, any other figure in its one unit. @param {string} unit */
const unitsTyped = (unit) => (unit === "°C" ? unitsLike(unit) : [unit]);

/** Facts asked nowhere else, with the path they go to. @returns {SparkField[]} */
const finer = () => [
	{ ...figure("runningVolts", "Battery volts, engine running", "V", "supplyV"), check: checks.runningVolts },
	figure("stoppedVolts", "Battery volts, ignition on, engine stopped", "V", "stoppedV"),
	figure(
		"feedRunning",
		"Volts at the coil’s feed terminal, engine idling",
		"V",
		"feed.runningV",
		"Beside the battery’s volts with the engine running.",
	),
	figure(
		"feedCranking",
		"Volts at the coil’s feed terminal, starter turning",
		"V",
		"feed.crankingV",
		"Beside the battery’s volts while cranking.",
	),
	figure(
		"lossLeast",
		"What a real coil gives of the worked-out kilovolts, least",
		"share",
		"losses.shareLow",
		"0.65 is taken: iron, leakage and the arc at the points.",
	),
	figure("lossMost", "The same, most", "share", "losses.shareHigh", "0.85 is taken."),
	figure("leadOhm", "Leads, switch and points together", "ohm", "coil.leadOhm"),
	figure("pointsMost", "The most these points may carry", "A", "points.maxA"),
	figure("coilInductance", "Coil, primary inductance", "mH", "coil.inductanceMilliH"),
	figure("coilTurns", "Coil, secondary turns for one of the primary", "to 1", "coil.turnsRatio"),
	figure("secondaryCapacity", "Capacity of secondary, lead and plug", "pF", "coil.secondaryPicoF"),
	figure("plugLeak", "Leak of a dirty plug", "MΩ", "plug.leakMegaOhm"),
	figure(
		"inletPressure",
		"Air in the cylinder as compression begins",
		"kPa",
		"engine.manifoldKPa",
		"From no air at all: 100 is full throttle at sea level.",
	),
	figure("chargeTemperature", "Its temperature there, engine warm", "°C", "engine.chargeC"),
	figure("sparkTiming", "Timing, where the book has no curve", "crank degrees before TDC", "engine.sparkCrankDeg"),
	figure("compressionExponent", "How steeply pressure rises in compression (exponent)", "", "engine.exponent"),
	figure("crankingVolts", "Battery volts while cranking", "V", "cranking.batteryV"),
	figure("crankingSpeed", "Cranking speed", "engine rpm", "cranking.engineRPM"),
	figure("crankingTiming", "Timing while cranking", "crank degrees before TDC", "cranking.crankDeg"),
	figure("crankingAir", "Cold start: temperature of the air", "°C", "cranking.chargeC"),
	figure(
		"crankingPressure",
		"Cranking: air in the cylinder as compression begins",
		"kPa",
		"cranking.chargeKPa",
		"From no air at all; less than 100, because the inlet closes late.",
	),
];

/** Where facts of the facts page go. @type {{[key: string]: {path: string, into?: string}}} */
const paths = {
	coilOhm: { path: "coil.primaryOhm" },
	ballastOhm: { path: "coil.ballastOhm" },
	condenser: { path: "coil.condenserMicroF" },
	feedVoltage: { path: "feed.closedV" },
	plugGap: { path: "plug.gapMm", into: "mm" },
	compressionRatio: { path: "engine.compressionRatio" },
};

/** The figures that are asked first: measured easily, or weighty. */
export const firstFigures = [
	"runningVolts",
	"coilOhm",
	"ballastOhm",
	"feedVoltage",
	"plugGap",
	"compressionRatio",
	"condenser",
	"leadOhm",
];

/** sparkFields lists the figures the spark stands on, the weightiest first. @returns {SparkField[]} */
export function sparkFields() {
	const known = factFields()
		.filter(({ key }) => key in paths)
		.map((field) => ({ ...field, ...paths[field.key] }));
	const all = [...known, ...finer()];
	const rank = (/** @type {SparkField} */ { key }) =>
		firstFigures.includes(key) ? firstFigures.indexOf(key) : firstFigures.length;
	return all.sort((a, b) => rank(a) - rank(b));
}

/** What coil.sweep takes of each path. */
const reach = inputs["coil.sweep"];

/**
 * @param {string} value @param {string} unit of the calculation @param {string} path
 * @param {string} typed the unit it was typed in
 * @returns {import("../kit/doubt.js").Doubt | null}
 */
function outOfReach(value, unit, path, typed) {
	const asTyped = parse(value);
	const x = asTyped === null ? null : (convert(asTyped, typed, unit) ?? asTyped);
	const limit = reach[path];
	if (x !== null && isIn(x, limit)) return null;
	const problem =
		x === null ? `“${value.trim().slice(0, 24)}” cannot be read as a number` : `${x} ${unit} cannot be worked with`;
	return {
		level: "ask",
		problem,
		limit: `${inWords(limit)} ${unit}`.trim(),
		do: "Correct it. It is kept as typed, and the assumed figure stands meanwhile.",
	};
}

/** The fact that names the figures set back to what is assumed; what was typed stays where it is. */
export const asideKey = "sparkAssumed";

/** asideOf lists the inputs for which the assumed figure was chosen. @param {Facts} car */
export const asideOf = (car) => new Set((car[asideKey]?.value ?? "").split(" ").filter(Boolean));

/** setAside gives the new value of that fact. @param {Facts} car @param {string} path @param {boolean} isAside */
export function setAside(car, path, isAside) {
	const paths = asideOf(car);
	paths.delete(path);
	return [...paths, ...(isAside ? [path] : [])].join(" ");
}

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
	const aside = asideOf(car);
	for (const { key, path, into } of sparkFields()) {
		const fact = car[key];
		if (!fact || fact.value.trim() === "" || aside.has(path)) continue;
		const x = into
			? figureIn(into === "°C" ? { ...fact, unit: fact.unit || into } : fact, into)
			: parse(fact.value);
		const limit = reach[path];
		if (x !== null && isIn(x, limit)) values[path] = x;
		else
			unread[path] =
				x === null
					? into && !fact.unit
						? "its unit is not chosen"
						: "it cannot be read as a number"
					: `${inWords(limit)} can be worked with`;
	}
	return { values, unread };
}

/**
 * sweepIn gives the input of coil.sweep for a car as it is, and in words what
 * was taken where the car does not say.
 * @param {Electrics & {nominalV: 6 | 12, cylinders: number}} electrics
 * @param {Facts} car
 * @param {{dwell: number}} dwell
 * @param {number[]} engineRPM
 * @param {{engineRPM: number, crankDeg: number}[]} timing
 * @param {string} polarity
 * @param {{[path: string]: {value: number}}} [measured] on the volts page; the car's own figure beats it
 */
export function sweepIn(electrics, car, { dwell }, engineRPM, timing, polarity, measured = {}) {
	const { values } = sparkFigures(car);
	const given = { ...fromVolts(car, values, measured), ...values };
	/** @type {{[path: string]: string}} */
	const taken = {};
	if (given.supplyV === undefined) {
		given.supplyV = electrics.nominalV === 6 ? 6.9 : 13.8;
		taken.supplyV = `${given.supplyV} V taken: common practice for a ${electrics.nominalV} V car while charging`;
	}
	// The calculation is told what of the ohms is a guess, so that it judges nothing sure on it.
	const isBallastGuessed = electrics.ballasted !== false && given["coil.ballastOhm"] === undefined;
	trueFeed(given, electrics.nominalV);
	if (electrics.ballasted === false) given["coil.ballastOhm"] = 0;
	else if (electrics.ballasted && given["coil.ballastOhm"] === undefined) {
		given["coil.ballastOhm"] = electrics.nominalV === 6 ? 0 : usualBallast;
		taken["coil.ballastOhm"] =
			electrics.nominalV === 6
				? "0 Ω taken: for a 6 V ballast no usual figure is known"
				: "1.5 Ω taken: common practice";
	}
	if (given["points.maxA"] === undefined)
		taken["points.maxA"] =
			electrics.nominalV === 6
				? "5.5 A taken: 6 V sets live with about 4.9 A, common practice"
				: "5 A taken: above it points burn, common practice";
	const base = nested(given);
	for (const name of ["feed", "losses"])
		if (Object.keys(group(given, name)).length) Object.assign(base, { [name]: group(given, name) });
	if (isBallastGuessed) base.coil.ballastGuessed = true;
	const drive = electrics.driveRatio === undefined ? {} : { driveRatio: electrics.driveRatio };
	return {
		input: {
			...base,
			...drive,
			cylinders: electrics.cylinders,
			engineRPM,
			points: { dwellDistDeg: dwell, ...group(given, "points") },
			...plugAnd(given, polarity),
			engine: { ...group(given, "engine"), ...(timing.length ? { timing } : {}) },
		},
		taken,
	};
}

/**
 * What was measured on the volts page and is used: not set aside, not beaten by
 * the car's own figure, and within reach.
 * @param {Facts} car
 * @param {{[path: string]: number}} values
 * @param {{[path: string]: {value: number}}} measured
 * @returns {{[path: string]: number}}
 */
export function fromVolts(car, values, measured) {
	const aside = asideOf(car);
	const used = Object.entries(measured).filter(
		([path, { value }]) => !(path in values) && !aside.has(path) && isIn(value, reach[path]),
	);
	return Object.fromEntries(used.map(([path, { value }]) => [path, value]));
}

/**
 * trueFeed leaves the volts at the coil out where the ohms of the connections
 * are known, and where no battery was read beside them and they are no less than
 * those of a usual one: then they say nothing of what is lost on the way.
 * @param {{[path: string]: number}} given changed in place @param {6 | 12} nominalV
 */
function trueFeed(given, nominalV) {
	if (
		given["coil.leadOhm"] !== undefined ||
		(given.stoppedV === undefined && given["feed.closedV"] >= (nominalV === 6 ? 6.3 : 12.6))
	)
		delete given["feed.closedV"];
	const [low, high] = [given["losses.shareLow"] ?? 0.65, given["losses.shareHigh"] ?? 0.85];
	if (low > high) for (const path of ["losses.shareLow", "losses.shareHigh"]) delete given[path];
}

/** @param {{[path: string]: number}} given @param {string} polarity */
function plugAnd(given, polarity) {
	return { plug: { ...group(given, "plug"), polarity: polarity || "unknown" } };
}

/**
 * @param {{[path: string]: number}} given
 * @returns {{supplyV: number, stoppedV?: number, coil: {[field: string]: number} & {ballastGuessed?: true}, cranking:
 *   {[field: string]: number}}}
 */
function nested(given) {
	return {
		supplyV: given.supplyV,
		...(given.stoppedV === undefined ? {} : { stoppedV: given.stoppedV }),
		coil: /** @type {any} */ (group(given, "coil")),
		cranking: group(given, "cranking"),
	};
}

/** @param {{[path: string]: number}} given @param {string} name @returns {{[field: string]: number}} */
function group(given, name) {
	return Object.fromEntries(
		Object.entries(given)
			.filter(([path]) => path.startsWith(`${name}.`))
			.map(([path, x]) => [path.slice(name.length + 1), x]),
	);
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
	if (change.ballastOhm !== undefined) {
		next.coil.ballastOhm = change.ballastOhm;
		delete next.coil.ballastGuessed; // on paper it is as tried
	}
	if (change.dwellDistDeg !== undefined) next.points.dwellDistDeg = change.dwellDistDeg;
	if (change.gapMm !== undefined) next.plug.gapMm = change.gapMm;
	return next;
}

/**
 * stalledHeat gives the heat of a car's coil circuit with the ignition on and
 * the engine stopped, V² / R of the battery alone, as coil.sweep works it; the
 * usual ohms of such a car where nobody measured its own.
 * @param {Electrics & {nominalV: 6 | 12}} electrics @param {Facts} car @returns {{watts: number, isUsual: boolean}}
 */
export function stalledHeat({ nominalV, ballasted }, car) {
	const { values } = sparkFigures(car);
	const kind = coils[nominalV === 6 ? "six" : ballasted ? "ballasted" : "plain"];
	const ballast = ballasted ? (values["coil.ballastOhm"] ?? (nominalV === 6 ? 0 : usualBallast)) : 0;
	const ohm = (values["coil.primaryOhm"] ?? kind.primaryOhm) + ballast + (values["coil.leadOhm"] ?? 0.1);
	// a sound battery that nothing charges, common practice
	const volts = values.stoppedV ?? (nominalV === 6 ? 6.3 : 12.6);
	return {
		watts: (volts * volts) / ohm,
		isUsual:
			values["coil.primaryOhm"] === undefined || Boolean(ballasted && values["coil.ballastOhm"] === undefined),
	};
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
	return Object.fromEntries(
		assumed.flatMap((line) => {
			const found = /^([\w.]+) not given: (.*)$/.exec(line);
			return found ? [[found[1], found[2]]] : [];
		}),
	);
}

/**
 * speedsFor gives the speeds drawn and, among them, those of the table.
 * @param {number} top engine rpm
 */
export function speedsFor(top) {
	const drawn = Array.from({ length: Math.floor(top / 200) - 1 }, (_, i) => 400 + i * 200);
	const table = [500, 1000, ...Array.from({ length: Math.floor(top / 1000) - 1 }, (_, i) => 2000 + i * 1000)];
	return {
		drawn: [...new Set([...drawn, ...table, top])].sort((a, b) => a - b),
		table: table.filter((speed) => speed <= top),
	};
}
