// The library of curves: tables of many distributors, each with its type and
// where it came from. No owner and no reading is in it. No screen.

import { shapes } from "../../made/shapes.js";
import { nameProblem } from "../kept/car-name.js";
import { digest } from "../kept/digest.js";
import { fits, shapeTrouble, whole } from "../kept/whole.js";
import { isBlank } from "../record/sheet.js";
import { asWritten, hasWords, parse, parseSpeed } from "../kit/format.js";

const format = "pointsmith curves 1"; // part of files people keep: a new number means a new shape
const most = { characters: 8_000_000, curves: 5_000 }; // judgement: a club has hundreds

/** Facts that belong to the type and not to one unit. */
const ofType = ["rotation", "pointsKind", "drive", "limitPlate", "capsuleCode"];

/**
 * @typedef {object} Curve one table of the library, as a file has it
 * @property {string} name
 * @property {string} typeNumber
 * @property {{[key: string]: Fact}} stamped
 * @property {Sheet} sheet
 * @property {string} source book and page
 * @property {string} givenBy
 */

/**
 * curveOf gives what of a distributor is the type's; null where its book has no rows.
 * @param {Distributor} body @param {string} [givenBy] by whom, where it does not say it
 * @returns {Curve | null}
 */
export function curveOf(body, givenBy = "") {
	const { confirmedTotal: _, ...sheet } = whole("distributor", { sheet: body.sheet ?? {} }).sheet;
	const rows = sheet.rows.filter((/** @type {Row} */ row) => !isBlank(row));
	if (rows.length === 0) return null;
	const stamped = Object.fromEntries(
		ofType
			.map((key) => [key, body.facts?.[key]])
			.filter((/** @type {any} */ [, fact]) => fact?.value?.trim() && fact.source !== "measured")
			.map((/** @type {any} */ [key, { value, unit, source }]) => [key, { value, unit, source, note: "" }]),
	);
	return {
		name: body.name ?? "",
		typeNumber: body.typeNumber?.trim() ?? "",
		stamped,
		sheet: { ...sheet, rows },
		source: body.sheetSource ?? "",
		givenBy: body.givenBy || givenBy,
	};
}

/** bodyOf is a curve as the garage keeps it. @param {Curve} curve @returns {Distributor} */
export const bodyOf = ({ name, typeNumber, stamped, sheet, source, givenBy }) => ({
	name,
	typeNumber,
	facts: stamped,
	sheet,
	sheetSource: source,
	library: true,
	...(givenBy ? { givenBy } : {}),
});

/** By which two curves are of one type. @param {Curve} curve */
export const typeOf = ({ typeNumber, name }) => (typeNumber || name).toUpperCase().replace(/[^\p{L}\p{N}]+/gu, "");

/**
 * contentOf is the figures of a curve in one way of writing: 7,5 is 7.5, the order of rows does not count. Who gave it
 * and where it stands is not in it.
 * @param {Curve} curve
 */
export function contentOf(curve) {
	const { sheet, stamped } = curve;
	const number = (/** @type {string | undefined} */ text) => parseSpeed(text) ?? parse(text) ?? (text ?? "").trim();
	const rows = sheet.rows
		.map(({ rpm, min, max }) => [number(rpm), parse(min) ?? min.trim(), parse(max) ?? max.trim()])
		.sort((a, b) => Number(a[0]) - Number(b[0]) || asWritten(String(a), String(b)));
	const base = parse(sheet.baseCrankDeg) ?? "";
	return JSON.stringify([
		typeOf(curve),
		[sheet.angleUnit, sheet.speedUnit, sheet.base, base, base ? sheet.baseSide : ""],
		[sheet.baseToleranceCrankDeg, sheet.noAdvanceBelow, sheet.driveRatio || "2", sheet.limitDistDeg].map(number),
		sheet.listedWhile || "either",
		rows,
		ofType.map((key) => stamped[key]?.value.trim() ?? ""),
	]);
}

/**
 * idOf makes the id of a curve's document from its content, so that two phones that take the same file in have the
 * same documents.
 * @param {Curve} curve
 */
export const idOf = (curve) => `curve${digest(new TextEncoder().encode(contentOf(curve))).slice(0, 22)}`;

/**
 * libraryFile is the text of the file. Curves with the same figures stand in it once.
 * @param {Distributor[]} bodies @param {string} givenBy
 */
export function libraryFile(bodies, givenBy) {
	/** @type {Map<string, Curve>} */
	const curves = new Map();
	for (const body of bodies) {
		const curve = curveOf(body, givenBy);
		if (curve && typeOf(curve) && !curves.has(contentOf(curve))) curves.set(contentOf(curve), curve);
	}
	return {
		text: JSON.stringify({ format, made: new Date().toISOString(), curves: [...curves.values()] }, null, "\t"),
		count: curves.size,
	};
}

/**
 * readLibrary checks a file: its curves, or what is wrong with it.
 * @param {string} text
 * @returns {{curves: Curve[], problem: null} | {curves: null, problem: Problem}}
 */
export function readLibrary(text) {
	/** @param {string} title @param {string} limit @param {string} action */
	const refuse = (title, limit, action) => ({ curves: null, problem: { title, limit, do: action } });
	const again = "Nothing was taken in. Ask for the file again.";
	if (text.length > most.characters)
		return refuse("The file is too large", `${most.characters / 1e6} million characters`, "Split it.");
	let data;
	try {
		data = JSON.parse(text);
	} catch {
		return refuse("The file is not whole, or no library of curves", "JSON as exported here", again);
	}
	if (data?.format !== format || !Array.isArray(data.curves))
		return refuse(
			"The file is no library of curves",
			`"format": "${format}"`,
			"Choose a file that was exported here.",
		);
	if (data.curves.length > most.curves)
		return refuse(`The file holds ${data.curves.length} curves`, `${most.curves} curves`, "Split it.");
	/** @type {Curve[]} */
	const curves = [];
	for (const [index, given] of data.curves.entries()) {
		const { curve, wrong } = checked(given);
		if (!curve) return refuse(`Curve ${index + 1} of the file: ${wrong}`, "curves as exported here", again);
		curves.push(curve);
	}
	return { curves, problem: null };
}

/** @param {any} given @returns {{curve: Curve | null, wrong: string}} */
function checked(given) {
	const bad = (/** @type {string} */ wrong) => ({ curve: null, wrong });
	if (typeof given !== "object" || given === null || Array.isArray(given)) return bad("it is empty");
	const { name = "", typeNumber = "", stamped = {}, sheet = {}, source = "", givenBy = "" } = given;
	const body = { name, typeNumber, facts: stamped, sheet, sheetSource: source, givenBy, library: true };
	const wrong = shapeTrouble("distributor", body);
	if (wrong) return bad(wrong);
	if (name && nameProblem(name)) return bad("its name cannot be used");
	if (!fits("distributor", body)) return bad("a text or a list in it is too long");
	const unknown = Object.keys(sheet).find(
		(key) => !Object.hasOwn(shapes.distributor.fields?.sheet.fields ?? {}, key),
	);
	if (unknown) return bad(`its table has a field “${unknown.slice(0, 24)}” that is not known here`);
	const curve = curveOf(whole("distributor", body));
	if (!curve) return bad("its table has no rows");
	return typeOf(curve) ? { curve, wrong: "" } : bad("it has no type number and no name");
}

/**
 * compare tells what a file brings to the library: what is new, what is there with the same figures, and what differs
 * from another table of the same type. A curve that is in the file twice counts once.
 * @param {Curve[]} curves @param {Curve[]} here
 */
export function compare(curves, here) {
	const [contents, types] = [new Set(here.map(contentOf)), new Set(here.map(typeOf))];
	/** @type {{fresh: Curve[], same: Curve[], differ: Curve[]}} */
	const found = { fresh: [], same: [], differ: [] };
	for (const curve of curves) {
		if (contents.has(contentOf(curve))) found.same.push(curve);
		else if (types.has(typeOf(curve))) found.differ.push(curve);
		else found.fresh.push(curve);
		contents.add(contentOf(curve));
		types.add(typeOf(curve));
	}
	return found;
}

/** sought tells whether a curve has all these words. @param {Curve} curve @param {string} words */
export const sought = ({ name, typeNumber, source }, words) => hasWords(`${name} ${typeNumber} ${source}`, words);
