// A whole table pasted into one field: it goes to the page that takes tables in.

import { parse, parseSpeed } from "../kit/format.js";

/**
 * looksLikeTable says whether pasted text is more than one cell's worth: more lines or columns, or two figures that
 * are not one number together.
 * @param {string} text
 */
export function looksLikeTable(text) {
	const cell = text.trim();
	if (/[\n\t;|]/.test(cell)) return true;
	if (parse(cell) !== null || parseSpeed(cell) !== null) return false;
	return (cell.match(/\d+/g) ?? []).length > 1;
}
