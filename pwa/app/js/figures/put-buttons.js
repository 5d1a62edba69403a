// The last step: what was read is put in the book's table, or in as readings.
// Both can be undone.

import { bookId } from "./out-section.js";
import { filledRows, intoSheet, lacksPlace, setsFrom } from "./put-in.js";
import { garage } from "../kept/garage.js";
import { emptySheet } from "../record/sheet.js";
import { updateSet, visitOfToday } from "../record/visits.js";
import { address } from "../kit/address.js";
import { fill, h } from "../kit/dom.js";
import { button, nextButton, problemLine } from "../kit/field.js";
import { offerUndo } from "../kit/undo-bar.js";

/** @typedef {import("./put-in.js").ReadTable} ReadTable @typedef {"bench" | "car"} Place */

/**
 * @typedef {object} Putting
 * @property {PageContext} ctx
 * @property {Place | ""} place
 * @property {(place: Place) => void} onPlace
 * @property {(words: string, label: string, href: string) => () => void} onDone gives what takes it back on the page
 */

/**
 * putButtons is the button that fits the table, or the question before it.
 * @param {ReadTable} table @param {Putting} how
 */
export function putButtons(table, how) {
	if (table.rows.length === 0) return h("p", { class: "note" }, "No line became a row. Nothing can be stored.");
	return table.what === "spec" ? intoBook(table, how) : asReadings(table, how);
}

/** @param {ReadTable} table @param {Putting} how */
function intoBook(table, { ctx, onDone }) {
	const id = bookId(ctx);
	const said = h("div", { "aria-live": "polite" });
	const sheetNow = () =>
		/** @type {Sheet} */ (structuredClone(garage.get("distributor", id)?.body.sheet ?? emptySheet()));
	/** @param {"replace" | "add"} way */
	const put = async (way) => {
		const before = sheetNow();
		const { sheet, problem } = intoSheet(before, table, way);
		if (!sheet) return fill(said, problemLine(problem));
		if (
			!(await kept(
				said,
				garage.update("distributor", id, (body) => Object.assign(body, { sheet })),
			))
		)
			return;
		const takeBack = onDone(
			`${filledRows(sheet)} row${filledRows(sheet) === 1 ? " stands" : "s stand"} in the book’s table.`,
			"To the book’s figures",
			address("car", ctx.params.car, "book"),
		);
		offerUndo("The table is in the book.", async () => {
			await garage.update("distributor", id, (body) => Object.assign(body, { sheet: before }));
			takeBack();
		});
	};
	const ask = () => {
		const there = filledRows(sheetNow());
		if (there === 0) return put("replace");
		fill(
			said,
			h("h3", { tabindex: -1 }, `The book’s table has ${there} row${there === 1 ? "" : "s"} already.`),
			button("Replace them", () => put("replace")),
			button("Add to them", () => put("add")),
		);
		said.querySelector("h3")?.focus();
	};
	return h("div", null, nextButton("Put in the book’s table", ask), said);
}

/** @param {ReadTable} table @param {Putting} how */
function asReadings(table, { ctx, place, onPlace, onDone }) {
	const car = /** @type {Doc<Car>} */ (ctx.car);
	const where = car.isUnit ? "bench" : place;
	if (lacksPlace(table) && !where)
		return h(
			"section",
			{ class: "figures-ask" },
			h("h3", { tabindex: -1, id: "figures-question" }, "Where were these read?"),
			h("p", { class: "note" }, "The table does not say it."),
			button("On the bench", () => onPlace("bench")),
			button("On the car", () => onPlace("car")),
		);
	const said = h("div", { "aria-live": "polite" });
	const put = async () => {
		const today = garage.visits({ carId: car.id });
		const visit = visitOfToday(car);
		const taken = today.find(({ id }) => id === visit)?.body.sets.length ?? 0;
		const at = new Date().toISOString();
		const { sets, problem } = setsFrom(table, {
			place: where,
			isUnit: car.isUnit === true,
			newId: garage.newId,
			at,
			taken,
		});
		if (problem) return fill(said, problemLine(problem));
		const storing = garage.update("visit", visit, (/** @type {Visit} */ body) => {
			body.sets.push(...sets);
		});
		if (!(await kept(said, storing))) return;
		const n = table.rows.length;
		const takeBack = onDone(
			`${n} reading${n === 1 ? " is" : "s are"} stored, in ${sets.length} set${sets.length === 1 ? "" : "s"} of today.`,
			"To the readings",
			address("car", car.id, "readings"),
		);
		offerUndo("The readings are stored.", async () => {
			for (const { id } of sets) await updateSet(visit, id, (set) => Object.assign(set, { removed: true }));
			takeBack();
		});
	};
	const notes = table.rows.some(({ note }) => note)
		? h("p", { class: "note" }, "Readings have no place for notes. The notes stay in your file.")
		: null;
	return h("div", null, notes, nextButton("Put in as readings", put), said);
}

/** Whether the phone has kept it; else it says why. @param {HTMLElement} said @param {Promise<unknown>} storing */
async function kept(said, storing) {
	try {
		await storing;
		return true;
	} catch {
		fill(
			said,
			problemLine({
				title: "The phone has no room to keep it",
				limit: "some free storage",
				do: "Free some room and try again. What you pasted stays here.",
			}),
		);
		return false;
	}
}
