// A whole table pasted at once, in the ways people write one.

import { parse, parseSpeed } from "../kit/format.js";

const longest = 80; // characters: no table has longer lines, and longer ones would be slow to match

const number = String.raw`[-−]?(?:\d+ \d+\/\d+|\d+\/\d+|\d*[½¼¾]|\d+(?:[.,]\d+)?|[.,]\d+)`;
const speed = String.raw`\d{1,2}[ ,]\d{3}|\d+(?:\.\d+)?`;
const unit = String.raw`(?:\s*(?:°|º|deg(?:rees?|s)?\.?|d))?`;
const turns = String.raw`\s*(?:r\.?p\.?m\.?|revs?\.?)?`;
const to = String.raw`\s*(?:-|–|—|−|to|\.\.+|…|/|\||;|\t|\s)\s*`;
const between = String.raw`\s*(?:[:=|;\t]|\s|->|→)\s*`;
const pair = String.raw`(${number})${unit}(?:${to}(${number})${unit})?`;

const speedFirst = new RegExp(String.raw`^(${speed})${turns}${between}${pair}$`, "i");
const degreesFirst = new RegExp(String.raw`^${pair}\s*(?:at|@)\s*(${speed})${turns}$`, "i");
const most = /\b(?:max(?:imum)?\b\.?|at most\b|up to\b|(?:not|no) more than\b)/i;
const least = /\b(?:min(?:imum)?\b\.?|at least\b|not less than\b)/i;
const cell = String.raw`\s*[\t;|]\s*(?:(${number})${unit}|[-–—]?)`;
const cells = new RegExp(String.raw`^(${speed})${turns}${cell}${cell}$`, "i");
const none = new RegExp(
	String.raw`^(?:(?:no|nil|none)(?: advance)? below|below|advance (?:starts|begins) (?:at|above))\s+(${speed})${turns}(?:${between}(?:nil|none|no advance|0))?$`,
	"i",
);

/**
 * readTable reads pasted text line by line, numbers kept as written. One
 * figure for a speed goes in both columns; “max 11”, or a column left empty,
 * is a least or a most alone. Lines that are not understood are given back.
 * @param {string} text
 * @returns {{rows: Row[], noAdvanceBelow: string, unread: string[]}}
 */
export function readTable(text) {
	const table = { rows: /** @type {Row[]} */ ([]), noAdvanceBelow: "", unread: /** @type {string[]} */ ([]) };
	for (const line of text.slice(0, 20_000).split(/\r?\n/)) {
		const columns = line
			.replace(/[\u00a0\u202f\u2009]/g, " ")
			.replace(/ *\t */g, "\t")
			.replace(/ {2,}/g, " ")
			.replace(/^\s+| +$/g, "");
		const plain = columns.replace(/\t+/g, "\t").trim();
		if (plain === "") continue;
		if (plain.length > longest) {
			table.unread.push(plain);
			continue;
		}
		const row = readColumns(columns) ?? readEdge(plain) ?? readRow(plain);
		const below = none.exec(plain);
		if (row) table.rows.push(row);
		else if (below) table.noAdvanceBelow = below[1];
		else table.unread.push(plain);
	}
	return table;
}

/**
 * looksLikeTable says whether pasted text is more than one cell's worth.
 * @param {string} text
 */
export function looksLikeTable(text) {
	return /[\n\t]/.test(text.trim()) || readTable(text).rows.length > 0;
}

/** Three columns of which one of the degrees is empty, or a dash. @param {string} line @returns {Row | null} */
function readColumns(line) {
	const [, rpm, min = "", max = ""] = (line.length <= longest && cells.exec(line)) || [];
	return rpm && parseSpeed(rpm) !== null && (min === "") !== (max === "") ? { rpm, min, max } : null;
}

/** “Max 11 at 1800”, “1800: at least 7”. @param {string} line @returns {Row | null} */
function readEdge(line) {
	for (const [word, edge] of /** @type {const} */ ([
		[most, "max"],
		[least, "min"],
	])) {
		const row = word.test(line) ? readRow(line.replace(word, " ").replace(/ {2,}/g, " ").trim()) : null;
		if (row && row.min === row.max) return { rpm: row.rpm, min: "", max: "", [edge]: row.max };
		if (row) return row;
	}
	return null;
}

/** @param {string} line @returns {Row | null} */
function readRow(line) {
	const first = speedFirst.exec(line);
	const last = first ? null : degreesFirst.exec(line);
	const [rpm, min, max] = first ? [first[1], first[2], first[3]] : last ? [last[3], last[1], last[2]] : ["", "", ""];
	if (parseSpeed(rpm) === null || parse(min) === null) return null;
	return { rpm, min, max: max ?? min };
}
