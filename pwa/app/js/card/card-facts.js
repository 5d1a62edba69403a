// What the setup card holds besides the facts and the readings: who set it,
// how it was left, what to mind. It is kept among the facts of the car, under
// names of its own, so that it travels with the car wherever the car goes.

import { firstCapital } from "../kit/words.js";

/** What is said once a card: the field of the card, the longest text, many lines or one. */
export const said = /** @type {const} */ ([
	{ field: "setBy", most: 80 },
	{ field: "checkedBy", most: 80 },
	{ field: "date", most: 10 },
	{ field: "odometer", most: 40 },
	{ field: "fuel", most: 80 },
	{ field: "nextCheck", most: 120 },
]);
export const lists = /** @type {const} */ (["warnings", "leftUndone"]);
export const mostLines = 12;
export const longestLine = 200;

/**
 * The figures as they were left: path in the card, kind, unit as it is shown.
 * @type {{path: string, kind: "number" | "text" | "yes-no", unit: string}[]}
 */
export const leftFigures = [
	{ path: "gapMm", kind: "number", unit: "mm" },
	{ path: "dwellDistDeg", kind: "number", unit: "distributor degrees" },
	{ path: "staticCrankDeg", kind: "number", unit: "crank degrees before TDC" },
	...["strobe", "total"].flatMap(
		(name) =>
			/** @type {any[]} */ ([
				{ path: `${name}.engineRPM`, kind: "number", unit: "engine rpm" },
				{ path: `${name}.crankDeg`, kind: "number", unit: "crank degrees before TDC" },
				{ path: `${name}.vacuum`, kind: "text", unit: "" },
			]),
	),
	{ path: "cruiseCrankDeg", kind: "number", unit: "crank degrees before TDC" },
	{ path: "knockCrankDeg", kind: "number", unit: "crank degrees before TDC" },
	{ path: "marginCrankDeg", kind: "number", unit: "crank degrees" },
	{ path: "markErrorCrankDeg", kind: "number", unit: "crank degrees" },
	{ path: "mark", kind: "text", unit: "" },
	{ path: "vernier", kind: "text", unit: "" },
	{ path: "idleEngineRPM", kind: "number", unit: "engine rpm" },
	{ path: "idleVacuumKPa", kind: "number", unit: "kPa" },
	{ path: "capsule.source", kind: "text", unit: "" },
	{ path: "capsule.code", kind: "text", unit: "" },
	{ path: "capsule.startKPa", kind: "number", unit: "kPa" },
	{ path: "capsule.fullKPa", kind: "number", unit: "kPa" },
	{ path: "capsule.maxDistDeg", kind: "number", unit: "distributor degrees" },
	{ path: "capsule.holds", kind: "yes-no", unit: "" },
];

/** saidKey names the fact that holds a field of the card: setBy → cardSetBy. @param {string} field */
export const saidKey = (field) => "card" + firstCapital(field);

/** leftKey names the fact that holds a figure as left: "strobe.crankDeg" → leftStrobeCrankDeg. @param {string} path */
export const leftKey = (path) => "left" + path.split(".").map(firstCapital).join("");

const own = new Set([
	...said.map(({ field }) => saidKey(field)),
	...lists.map(saidKey),
	leftKey("gap"),
	...leftFigures.map(({ path }) => leftKey(path)),
]);

/** isCardKey tells the facts that belong to the card alone. @param {string} key */
export const isCardKey = (key) => own.has(key);

/**
 * plainText makes a text fit for a card: one line, nothing invisible, no
 * longer than most.
 * @param {unknown} text @param {number} most characters
 */
export function plainText(text, most) {
	const line = String(text ?? "")
		.replace(/[\p{Cc}\p{Zl}\p{Zp}]+/gu, " ")
		.replace(/(?![\u200c\u200d])\p{Cf}/gu, "")
		.replace(/\s+/g, " ")
		.trim();
	const letters = [...line];
	return letters.length > most ? letters.slice(0, most - 1).join("") + "…" : line;
}

/** plainName is plainText for what the garage calls things by. @param {unknown} text */
export const plainName = (text) => plainText(String(text ?? "").replace(/[<>]/g, " "), 80);
