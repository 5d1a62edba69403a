// The book's table and the readings, from "as typed" to what the calculation
// takes. Text that cannot be read stays in the sheet and is named here.

import { dateWords, parse, parseSpeed } from "../kit/format.js";
import { isUsable, isUsableError, isUsableStatic } from "./figure-limits.js";

/**
 * What a strobe or a bench ring can be read to, in crank degrees either way,
 * when nobody has said otherwise. Common practice; shown as such, editable.
 */
export const commonReadingErrorCrankDeg = 1;

/** @returns {Sheet} a sheet with nothing answered: no unit is assumed. */
export function emptySheet() {
	return {
		angleUnit: "",
		speedUnit: "",
		base: "",
		baseCrankDeg: "",
		baseSide: "before",
		baseToleranceCrankDeg: "",
		noAdvanceBelow: "",
		driveRatio: "",
		listedWhile: "either",
		limitDistDeg: "",
		rows: [],
	};
}

/**
 * isBlank says whether nothing at all has been typed in a row.
 * @param {Row} row
 */
export function isBlank(row) {
	return [row.rpm, row.min, row.max].every((text) => String(text ?? "").trim() === "");
}

/**
 * driveRatio is crank turns per distributor turn: as typed, else 2, which is
 * what every four-stroke with an ordinary distributor has.
 * @param {Sheet} sheet
 */
export function driveRatio(sheet) {
	const typed = parse(sheet.driveRatio);
	return typed !== null && typed > 0 ? typed : 2;
}

/** emptyDistributor is one of which only a name is known. @param {string} name @returns {Distributor} */
export const emptyDistributor = (name) => ({
	name,
	typeNumber: "",
	facts: {},
	sheet: emptySheet(),
	sheetSource: "",
});

/**
 * toSpec reads a sheet. Either spec is there (points by rising speed, rowOf
 * giving the row each came from) or problem says what cannot be read yet.
 * @param {Sheet} sheet
 * @returns {{spec: Spec | null, problem: FieldProblem | null, rowOf: number[]}}
 */
export function toSpec(sheet) {
	const problem = missingChoice(sheet) ?? badNumber(sheet) ?? badRow(sheet);
	if (problem) return { spec: null, problem, rowOf: [] };
	const rows = sheet.rows
		.map((row, index) => ({ index, rpm: parseSpeed(row.rpm), min: parse(row.min), max: parse(row.max), row }))
		.filter(({ row }) => !isBlank(row))
		.sort((a, b) => Number(a.rpm) - Number(b.rpm));
	const spec = /** @type {Spec} */ ({
		angleUnit: sheet.angleUnit,
		speedUnit: sheet.speedUnit,
		base: sheet.base,
		points: rows.map(({ rpm, min, max }) => ({
			rpm: Number(rpm),
			...(min === null ? {} : { minDeg: min }),
			...(max === null ? {} : { maxDeg: max }),
		})),
	});
	const base = parse(sheet.baseCrankDeg);
	if (base !== null) spec.baseCrankDeg = sheet.baseSide === "after" ? -base : base;
	optional(spec, "baseToleranceCrankDeg", parse(sheet.baseToleranceCrankDeg));
	optional(spec, "noAdvanceBelowRPM", parseSpeed(sheet.noAdvanceBelow));
	optional(spec, "driveRatio", parse(sheet.driveRatio));
	optional(spec, "limitDistDeg", parse(sheet.limitDistDeg));
	if (sheet.listedWhile && sheet.listedWhile !== "either") spec.listedWhile = sheet.listedWhile;
	return { spec, problem: null, rowOf: rows.map(({ index }) => index) };
}

/**
 * bothWays gives one row in crank degrees at engine speed and in distributor
 * degrees at distributor speed, base left as the book has it in the crank
 * column and taken out in the distributor column. Numbers not typed yet are null.
 * @param {Sheet} sheet
 * @param {Row} row
 */
export function bothWays(sheet, row) {
	const ratio = driveRatio(sheet);
	const size = parse(sheet.baseCrankDeg);
	const base = size === null ? null : sheet.baseSide === "after" ? -size : size;
	const speed = parseSpeed(row.rpm);
	/** @param {string} text */
	const angle = (text) => anglePair(sheet, parse(text), base, ratio);
	return {
		engineRPM: speed === null || !sheet.speedUnit ? null : sheet.speedUnit === "engine" ? speed : speed * ratio,
		distRPM: speed === null || !sheet.speedUnit ? null : sheet.speedUnit === "engine" ? speed / ratio : speed,
		min: angle(row.min),
		max: angle(row.max),
	};
}

/**
 * @param {Sheet} sheet
 * @param {number | null} typed
 * @param {number | null} base
 * @param {number} ratio
 * @returns {{advanceCrank: number | null, advanceDist: number | null, totalCrank: number | null}}
 */
function anglePair(sheet, typed, base, ratio) {
	const nothing = { advanceCrank: null, advanceDist: null, totalCrank: null };
	if (typed === null || !sheet.angleUnit) return nothing;
	const crank = sheet.angleUnit === "crank" ? typed : typed * ratio;
	if (sheet.base === "included") {
		if (base === null) return { ...nothing, totalCrank: crank };
		return { advanceCrank: crank - base, advanceDist: (crank - base) / ratio, totalCrank: crank };
	}
	const total = sheet.base === "excluded" && base !== null ? crank + base : null;
	return { advanceCrank: crank, advanceDist: crank / ratio, totalCrank: total };
}

/**
 * toReadings gives the visit's sets as the calculation takes them: complete
 * readings only, removed ones left out, "after TDC" turned negative.
 * @param {Pick<Visit, "sets">} visit
 * @returns {ReadingSet[]}
 */
export function toReadings(visit) {
	return (visit.sets ?? [])
		.map(toReadingSet)
		.filter((set) => set.points.length > 0 || set.staticCrankDeg !== undefined);
}

/**
 * toReadingSet is toReadings for one set, kept even when it is still empty.
 * What cannot be is left out; left-out.js names it.
 * @param {VisitSet} set
 * @returns {ReadingSet}
 */
export function toReadingSet(set) {
	const out = /** @type {ReadingSet} */ ({
		place: set.place,
		angleUnit: set.angleUnit,
		speedUnit: set.speedUnit,
		base: set.base,
	});
	if (set.vacuum) out.vacuum = set.vacuum;
	const error = parse(set.readingErrorCrankDeg);
	out.readingErrorCrankDeg = error !== null && isUsableError(error) ? error : commonReadingErrorCrankDeg;
	const size = parse(set.staticCrankDeg);
	const still = size !== null && set.staticSide === "after" ? -size : size;
	if (still !== null && isUsableStatic(still)) out.staticCrankDeg = still;
	out.points = complete(set)
		.filter(isUsable)
		.map(({ rpm, deg, direction }) => ({ rpm, deg, direction }));
	return out;
}

/**
 * complete lists the readings of a set that have both numbers, in the order
 * they were taken: the order of the points in toReadingSet, which leaves out
 * what cannot be.
 * @param {VisitSet} set
 */
export function complete(set) {
	return set.readings.flatMap((reading) => {
		const speed = parseSpeed(reading.rpm);
		const deg = parse(reading.deg);
		if (reading.removed || speed === null || deg === null) return [];
		return [
			{
				id: reading.id,
				rpm: speed,
				deg: reading.side === "after" ? -deg : deg,
				direction: reading.direction || "rising",
			},
		]; // as the calculation takes it where nothing was said
	});
}

/**
 * @param {Spec} spec
 * @param {"baseToleranceCrankDeg"|"noAdvanceBelowRPM"|"driveRatio"|"limitDistDeg"} name
 * @param {number | null} value
 */
function optional(spec, name, value) {
	if (value !== null) spec[name] = value;
}

/** @param {Sheet} sheet @returns {FieldProblem | null} */
function missingChoice(sheet) {
	if (!sheet.angleUnit)
		return {
			field: "angleUnit",
			problem: "the unit of angle is not chosen",
			limit: "crank or distributor degrees",
			do: "Choose which degrees the book prints.",
		};
	if (!sheet.speedUnit)
		return {
			field: "speedUnit",
			problem: "the unit of speed is not chosen",
			limit: "engine or distributor rpm",
			do: "Choose which speed the book prints.",
		};
	if (!sheet.base)
		return {
			field: "base",
			problem: "it is not said whether base is in the figures",
			limit: "included or excluded",
			do: "Choose whether the printed degrees already contain the base timing.",
		};
	return null;
}

/** @param {Sheet} sheet @returns {FieldProblem | null} */
function badNumber(sheet) {
	const fields = /** @type {const} */ ([
		"baseCrankDeg",
		"baseToleranceCrankDeg",
		"noAdvanceBelow",
		"driveRatio",
		"limitDistDeg",
	]);
	for (const field of fields) {
		const text = String(sheet[field] ?? "").trim();
		if (text !== "" && parseSpeed(text) === null) return unreadable(field, text);
	}
	return null;
}

/** @param {Sheet} sheet @returns {FieldProblem | null} */
function badRow(sheet) {
	for (const [index, row] of sheet.rows.entries()) {
		if (isBlank(row)) continue;
		for (const column of /** @type {const} */ (["rpm", "min", "max"])) {
			const text = String(row[column] ?? "").trim();
			const field = `rows[${index}].${column}`;
			if (text === "" && column === "rpm")
				return {
					field,
					problem: `row ${index + 1} has no speed`,
					limit: "a number",
					do: "Type the speed this row is for.",
				};
			if (text !== "" && (column === "rpm" ? parseSpeed(text) : parse(text)) === null)
				return unreadable(field, text);
		}
		if (isWithoutDegrees(row))
			return {
				field: `rows[${index}].max`,
				problem: `row ${index + 1} has neither a least nor a most`,
				limit: "one of the two at least",
				do: "Type the figure the book prints. “Max 11” goes in Most alone, a single figure in both.",
			};
	}
	if (sheet.rows.every(isBlank))
		return {
			field: "rows",
			problem: "no row is typed yet",
			limit: "at least one row",
			do: "Type the first speed and its degrees as the book prints them.",
		};
	return null;
}

/** @param {Row} row */
const isWithoutDegrees = ({ min, max }) => String(min ?? "").trim() === "" && String(max ?? "").trim() === "";

/**
 * onlyEdge says which of its two figures a row has alone: the book then names
 * only a least or only a most. "" where it has both, or none.
 * @param {Row} row
 * @returns {"" | "least" | "most"}
 */
export function onlyEdge({ min, max }) {
	const [least, most] = [parse(min) !== null, parse(max) !== null];
	if (least === most || String(least ? max : min).trim() !== "") return "";
	return least ? "least" : "most";
}

/** @param {string} field @param {string} text @returns {FieldProblem} */
function unreadable(field, text) {
	const shown = text.length > 24 ? text.slice(0, 24) + "…" : text;
	return {
		field,
		problem: `“${shown}” cannot be read as a number`,
		limit: "digits, one point or comma, or a fraction such as 7 1/2",
		do: "Correct it. What you typed is kept.",
	};
}

/** @typedef {{car?: {body: Car} | null, distributor?: {body: Distributor} | null}} Holder */

/** chosenOf gives the chosen curve in use, or null. @param {{body: Car} | null | undefined} car */
export const chosenOf = (car) => (car?.body.chosen && !car.body.chosen.off ? car.body.chosen : null);

/** sheetInUse gives the table to judge by. @param {Holder} holder @returns {Sheet | undefined} */
export const sheetInUse = ({ car, distributor }) => chosenOf(car)?.sheet ?? distributor?.body.sheet;

/** chosenWords says what stands instead of the book. @param {Chosen} chosen */
export const chosenWords = ({ at, basis }) =>
	`Chosen for this engine${at ? ` on ${dateWords(at.slice(0, 10))}` : ""}, not the book’s${basis ? `: ${basis}` : ""}`;
