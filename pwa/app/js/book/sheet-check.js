// The running check of the book's figures: what cannot be read, what the
// calculation refuses, and what is unusual enough to ask about.

import { call, engineState } from "../engine/client.js";
import { bothWays, driveRatio, isBlank, toSpec } from "../record/sheet.js";
import { parse, parseSpeed, short } from "../kit/format.js";

/** Limits of ordinary entry checking, common practice: crank degrees before TDC in all. */
const [askTotal, stopTotal] = [40, 46];

/** Rows from which a part inside can be named, as advance.judge has it (calc/advance: tellingRows). */
const tellingRows = 3;

/**
 * fewRows says in one line what a table of one or two rows can tell, or "".
 * @param {Sheet} sheet
 */
export function fewRows(sheet) {
	const count = sheet.rows.filter((row) => !isBlank(row)).length;
	if (count === 0 || count >= tellingRows) return "";
	return `${count === 1 ? "One row" : "Two rows"}: base, and in or out at ${count === 1 ? "that speed" : "those speeds"}, can be judged. Which spring, post or stop is off cannot: that takes ${tellingRows} rows.`;
}

/**
 * @typedef {{problem: (FieldProblem & {isMissing?: boolean}) | null, doubts: {level: "ask" | "stop", text: string,
 *   total?: number}[], isRead: boolean}} SheetCheck total: the timing in all that a stop is about
 */

/**
 * checkSheet checks a sheet as typed. A field path is one of the sheet:
 * "angleUnit", "rows[2].max", or "rows" for the table as a whole. isRead
 * says that the calculation has looked at it and had nothing to refuse.
 * @param {Sheet} sheet
 * @returns {Promise<SheetCheck>}
 */
export async function checkSheet(sheet) {
	const doubts = doubtsOf(sheet);
	const { spec, problem, rowOf } = toSpec(sheet);
	if (!spec)
		return {
			problem: problem && { ...problem, isMissing: !/cannot be read/.test(problem.problem) },
			doubts,
			isRead: false,
		};
	// the page checks again when it is ready
	if (engineState() === "starting") return { problem: null, doubts, isRead: false };
	const toEngine = spec.speedUnit === "engine" ? 1 : driveRatio(sheet);
	try {
		await call("advance.expect", { spec, engineRPM: spec.points.map(({ rpm }) => rpm * toEngine) });
		return { problem: null, doubts, isRead: true };
	} catch (refusal) {
		const { field, detail, title, limit, do: action, unanswered, status } = /** @type {any} */ (refusal);
		// nothing here can calculate just now
		if (unanswered || (!status && !field)) return { problem: null, doubts, isRead: false };
		return {
			problem: {
				field: sheetField(field ?? "", rowOf),
				problem: inWords(shorter(detail ?? title, field)),
				limit: inWords(limit ?? ""),
				do: inWords(action ?? ""),
			},
			doubts,
			isRead: false,
		};
	}
}

/**
 * sheetField turns a field of the calculation's spec into one of the sheet.
 * @param {string} field
 * @param {number[]} rowOf
 */
export function sheetField(field, rowOf) {
	const path = field.replace(/^spec\.?/, "");
	const point = /^points\[(\d+)\](?:\.(\w+))?$/.exec(path);
	if (point) {
		const column =
			/** @type {{[name: string]: string}} */ ({ rpm: "rpm", minDeg: "min", maxDeg: "max" })[point[2]] ?? "rpm";
		return `rows[${rowOf[Number(point[1])] ?? 0}].${column}`;
	}
	if (path.startsWith("points") || path === "") return "rows";
	return path === "noAdvanceBelowRPM" ? "noAdvanceBelow" : path;
}

/**
 * @param {string} text
 * @param {string | undefined} field the detail's own "field: " is dropped, it stands beside the field
 */
function shorter(text, field) {
	return field && text.startsWith(field + ": ") ? text.slice(field.length + 2) : text;
}

/** inWords puts the page's words where the calculation names its fields. @param {string} text */
function inWords(text) {
	return text
		.replace(/\bminDeg\b/g, "the least")
		.replace(/\bmaxDeg\b/g, "the most")
		.replace(/\b(?:spec\.)?points\b(?:\[\d+\])?/g, "the table")
		.replace(/\bbaseCrankDeg\b/g, "base timing")
		.replace(/\bnoAdvanceBelowRPM\b/g, "“no advance below”")
		.replace(/\blimitDistDeg\b/g, "the number on the stop’s plate")
		.replace(/\bdriveRatio\b/g, "the drive ratio");
}

/** doubtsOf lists what is unusual in a sheet. @param {Sheet} sheet */
export function doubtsOf(sheet) {
	const doubts = /** @type {SheetCheck["doubts"]} */ ([]);
	const base = parse(sheet.baseCrankDeg);
	const early = base === null ? null : sheet.baseSide === "after" ? -base : base;
	if (early !== null && (early < 0 || early > 16))
		doubts.push({
			level: "ask",
			text: `Base ${short(Math.abs(early))}° ${early < 0 ? "after" : "before"} TDC is unusual; 0 to 16° before is usual. Is it a strobe figure at a speed, or the wrong side?`,
		});
	for (const row of sheet.rows.filter((each) => !isBlank(each))) doubts.push(...doubtsOfRow(sheet, row));
	return doubts;
}

/** @param {Sheet} sheet @param {Row} row @returns {SheetCheck["doubts"]} */
function doubtsOfRow(sheet, row) {
	const { distRPM, max, min } = bothWays(sheet, row);
	const doubts = /** @type {SheetCheck["doubts"]} */ ([]);
	const total = max.totalCrank ?? null;
	const quietBelow = parseSpeed(sheet.noAdvanceBelow);
	if (quietBelow !== null && (parseSpeed(row.rpm) ?? Infinity) < quietBelow && (max.advanceDist ?? 0) > 0)
		doubts.push({
			level: "ask",
			text: `The row at ${row.rpm} gives up to ${short(max.advanceDist ?? 0)} distributor degrees, but “no advance below” says ${sheet.noAdvanceBelow}. Here the second holds. Look in the book which is meant, and correct the other.`,
		});
	if (distRPM !== null && distRPM > 0 && (distRPM < 100 || distRPM > 4000))
		doubts.push({
			level: "ask",
			text: `${row.rpm} is ${short(distRPM)} distributor rpm; 100 to 4000 is usual. Is the unit of speed right?`,
		});
	for (const dist of [min.advanceDist, max.advanceDist]) {
		if (dist !== null && (dist < 0 || dist > 20))
			doubts.push({
				level: "ask",
				text: `At ${row.rpm} the weights would give ${short(dist)} distributor degrees; 0 to 20 is usual. Is the unit of angle right, and base in or out?`,
			});
	}
	const isConfirmed = total !== null && total <= (parse(sheet.confirmedTotal) ?? 0) + 0.05; // as shown, to a tenth
	if (total !== null && total > stopTotal && isConfirmed)
		doubts.push({
			level: "ask",
			text: `At ${row.rpm} the whole timing is ${short(total)}° before TDC. You have checked that against the book. Back off at the first knock.`,
		});
	else if (total !== null && total > stopTotal)
		doubts.push({
			level: "stop",
			total,
			text: `At ${row.rpm} the whole timing would be ${short(total)}° before TDC. More than ${stopTotal}° can break rings and burn pistons. Check units and base against the book.`,
		});
	else if (total !== null && total > askTotal)
		doubts.push({
			level: "ask",
			text: `At ${row.rpm} the whole timing would be ${short(total)}° before TDC; more than ${askTotal}° is unusual. Is base counted twice?`,
		});
	return doubts;
}
