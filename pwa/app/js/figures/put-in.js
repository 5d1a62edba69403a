// What becomes of the rows that were read: rows of the book's table, or sets of
// readings. No screen: the page shows it and stores it.

import { shapes } from "../../made/shapes.js";
import { isBlank } from "../record/sheet.js";

/**
 * @typedef {object} ReadRow a row of figures.read
 * @property {number} line
 * @property {number} rpm
 * @property {number} [minDeg]
 * @property {number} [maxDeg]
 * @property {number} [deg]
 * @property {"rising" | "falling"} [direction]
 * @property {"bench" | "car"} [place]
 * @property {"off" | "connected"} [vacuum]
 * @property {string} [note]
 *
 * @typedef {object} Ask
 * @property {string} id
 * @property {string} question
 * @property {string} why
 * @property {{answer: string, text: string, preview: string[]}[]} choices
 *
 * @typedef {object} ReadTable the answer of figures.read
 * @property {"spec" | "readings" | ""} what
 * @property {"crank" | "distributor" | ""} angleUnit
 * @property {"engine" | "distributor" | ""} speedUnit
 * @property {"included" | "excluded" | ""} base
 * @property {{index: number, head: string, is: string}[]} columns
 * @property {ReadRow[]} rows
 * @property {number} rowCount
 * @property {number} [noAdvanceBelowRPM]
 * @property {Ask[]} asks
 * @property {{line: number, text: string, because: string}[]} leftOut
 * @property {{code: string, text: string}[]} notes
 */

const most = {
	rows: shapes.distributor.fields?.sheet.fields?.rows.most ?? 0,
	sets: shapes.visit.fields?.sets.most ?? 0,
	readings: shapes.visit.fields?.sets.each?.fields?.readings.most ?? 0,
};

/** @param {number | undefined} x */
const written = (x) => (x === undefined ? "" : String(x));

/** rowsOf gives the rows as the book's table has them. @param {ReadTable} table @returns {Row[]} */
export const rowsOf = ({ rows }) =>
	rows.map(({ rpm, minDeg, maxDeg }) => ({ rpm: written(rpm), min: written(minDeg), max: written(maxDeg) }));

/** filledRows is how many rows a sheet has. @param {Sheet} sheet */
export const filledRows = (sheet) => sheet.rows.filter((row) => !isBlank(row)).length;

/**
 * intoSheet gives the sheet with the table in it, or what forbids it. Rows that stand there already are not added
 * once more.
 * @param {Sheet} sheet @param {ReadTable} table @param {"replace" | "add"} how
 * @returns {{sheet: Sheet, problem: null} | {sheet: null, problem: Problem}}
 */
export function intoSheet(sheet, table, how) {
	const { angleUnit, speedUnit, base } = table;
	const before = how === "add" ? sheet.rows.filter((row) => !isBlank(row)) : [];
	const differs =
		before.length > 0 && (sheet.angleUnit !== angleUnit || sheet.speedUnit !== speedUnit || sheet.base !== base);
	if (differs)
		return refused(
			"The two tables have different heads",
			"the same degrees, the same speeds, base in both or in neither",
			"Replace the rows, or write the heads of one of them as the other has them.",
		);
	const has = (/** @type {Row} */ { rpm, min, max }) =>
		before.some((row) => row.rpm === rpm && row.min === min && row.max === max);
	const rows = [...before, ...rowsOf(table).filter((row) => !has(row))];
	if (rows.length > most.rows)
		return refused(`The book’s table would have ${rows.length} rows`, `${most.rows} rows`, "Leave some rows out.");
	const { confirmedTotal, ...rest } = sheet; // it was said of other rows
	const below = table.noAdvanceBelowRPM;
	const next = /** @type {Sheet} */ ({
		...(how === "add" && confirmedTotal ? { ...rest, confirmedTotal } : rest),
		angleUnit,
		speedUnit,
		base,
		rows,
	});
	if (below !== undefined) next.noAdvanceBelow = written(below);
	return { sheet: next, problem: null };
}

/** @param {string} title @param {string} limit @param {string} action */
const refused = (title, limit, action) => ({ sheet: null, problem: { title, limit, do: action } });

/** lacksPlace says whether somebody has to say where the rows were read. @param {ReadTable} table */
export const lacksPlace = (table) => table.what === "readings" && table.rows.some(({ place }) => !place);

/**
 * setsFrom gives a set for each place and state of the vacuum, in the order they are met, or what forbids it.
 * @param {ReadTable} table
 * @param {{place: "bench" | "car" | "", isUnit: boolean, newId: () => string, at: string, taken: number}} how place: of
 *   rows that do not say it; taken: sets that the visit has already
 * @returns {{sets: VisitSet[], problem: Problem | null}}
 */
export function setsFrom(table, { place, isUnit, newId, at, taken }) {
	/** @type {Map<string, VisitSet>} */
	const sets = new Map();
	for (const row of table.rows) {
		const where = row.place ?? place;
		const key = `${where} ${row.vacuum ?? ""}`;
		if (!sets.has(key)) sets.set(key, emptySet(table, where, row.vacuum ?? "", newId()));
		sets.get(key)?.readings.push(readingFrom(row, newId(), at));
	}
	return { sets: [...sets.values()], problem: setTrouble([...sets.values()], isUnit, taken) };
}

/** @param {VisitSet[]} sets @param {boolean} isUnit @param {number} taken @returns {Problem | null} */
function setTrouble(sets, isUnit, taken) {
	if (sets.some(({ place }) => !place))
		return { title: "Not said yet: where it was read", limit: "bench or car", do: "Choose one of the two." };
	if (isUnit && sets.some(({ place }) => place === "car"))
		return {
			title: "Some rows were read on a car",
			limit: "readings on the bench",
			do: "Open the car and put them in there.",
		};
	if (taken + sets.length > most.sets)
		return {
			title: `Today would have ${taken + sets.length} sets of readings`,
			limit: `${most.sets} sets a day`,
			do: "Put them in on another day.",
		};
	const large = sets.find(({ readings }) => readings.length > most.readings);
	if (!large) return null;
	return {
		title: `One set would have ${large.readings.length} readings`,
		limit: `${most.readings} readings`,
		do: "Split the file, and put the parts in one after the other.",
	};
}

/**
 * @param {ReadTable} table @param {"bench" | "car" | ""} place @param {"off" | "connected" | ""} vacuum
 * @param {string} id
 * @returns {VisitSet}
 */
const emptySet = ({ angleUnit, speedUnit, base }, place, vacuum, id) => ({
	id,
	place,
	angleUnit,
	speedUnit,
	base,
	vacuum,
	readingErrorCrankDeg: "",
	staticCrankDeg: "",
	staticSide: "before",
	readings: [],
});

/** @param {ReadRow} row @param {string} id @param {string} at @returns {Reading} */
const readingFrom = ({ rpm, deg = 0, direction }, id, at) => ({
	id,
	rpm: written(rpm),
	deg: written(Math.abs(deg)),
	side: deg < 0 ? "after" : "before",
	direction: direction ?? "",
	at,
});
