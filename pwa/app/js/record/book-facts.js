// Two figures are asked both among the facts and with the book's table: the
// limit plate and the static figure. Known in one place, they are known in the
// other; what a person typed in both stays as it was typed.

import { parse } from "../kit/format.js";

/** @param {string} value @param {string} unit @returns {Fact} */
const fromTable = (value, unit) => ({ value, unit, source: "book", note: "" });

/**
 * bookFacts gives the facts that stand in the book's table.
 * @param {Partial<Sheet> | undefined} sheet
 * @returns {{[key: string]: Fact}}
 */
export function bookFacts(sheet) {
	const [limit, base] = [sheet?.limitDistDeg?.trim() ?? "", sheet?.baseCrankDeg?.trim() ?? ""];
	return {
		...(limit ? { limitPlate: fromTable(limit, "distributor degrees") } : {}),
		...(base ? { staticTiming: fromTable(base, sheet?.baseSide === "after" ? "after TDC" : "before TDC") } : {}),
	};
}

/**
 * withBook gives a fact as it stands. Where the book is its source, or it is
 * not known, the book's table tells it.
 * @template {Partial<Fact>} F
 * @param {string} key @param {F | undefined} fact @param {Partial<Sheet> | undefined} sheet
 * @returns {F | Fact | undefined}
 */
export function withBook(key, fact, sheet) {
	const book = bookFacts(sheet)[key];
	if (!book || !fact?.value?.trim()) return book ?? fact;
	return fact.source && fact.source !== "book" ? fact : { ...fact, value: book.value, unit: book.unit };
}

/**
 * intoTable gives what a fact changes in the book's table: only where nothing
 * stands there, or what stands there is the same fact before the change.
 * @param {Sheet} sheet @param {string} key @param {Fact | undefined} before @param {Fact} after
 * @returns {Partial<Sheet>}
 */
export function intoTable(sheet, key, before, after) {
	const stands = bookFacts(sheet)[key];
	const isSame = !stands || (stands.value === before?.value.trim() && stands.unit === before.unit);
	if (!isSame || (after.value.trim() !== "" && parse(after.value) === null)) return {};
	if (key === "limitPlate") return { limitDistDeg: after.value.trim() };
	if (key === "staticTiming" && after.unit)
		return { baseCrankDeg: after.value.trim(), baseSide: after.unit === "after TDC" ? "after" : "before" };
	return {};
}
