// The book's figures, typed as they are printed.

import { garage } from "../data/garage.js";
import { emptySheet, isBlank } from "../data/sheet.js";
import { checkSheet } from "../data/sheet-check.js";
import { onReady } from "../calc/client.js";
import { button, choice, nextButton, problemLine, textField } from "../elements/field.js";
import { mark } from "../elements/marks.js";
import { looksLikeTable } from "../data/paste.js";
import { pasteBox } from "../elements/paste-box.js";
import { RowEditor } from "../elements/row-editor.js";
import { offerUndo } from "../elements/undo-bar.js";
import { fill, h } from "../lib/dom.js";
import { address } from "../lib/routes.js";

const calm = 250; // ms without a keystroke before the check runs

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	const car = /** @type {Doc<Car>} */ (ctx.car);
	const id = ctx.distributor?.id ?? car.body.distributorId;
	const sheet = ctx.distributor?.body.sheet ?? emptySheet();
	const state = h("div", { class: "book-state", "aria-live": "polite" });
	/** @type {any} */
	let timer = null;
	const checkSoon = () => {
		clearTimeout(timer);
		timer = setTimeout(check, calm);
	};
	/** @param {Partial<Sheet>} change */
	const keep = (change) => {
		Object.assign(sheet, change);
		table.convert();
		checkSoon();
		return garage.update("distributor", id, (body) => { body.sheet = { ...(body.sheet ?? emptySheet()), ...change }; }).catch(() => {});
	};
	const fields = sheetFields(sheet, keep);
	const { table, paste } = sheetTable(sheet, keep, (text) => { fields.noAdvanceBelow.input.value = text; });
	const check = async () => showCheck(await checkSheet(sheet), { sheet, fields, table, state, car, keep });
	table.element.addEventListener("focusout", checkSoon);
	fill(root, bookSections(fields, table.element, paste.element, sourceField(id, ctx.distributor)), state);
	await Promise.race([check(), new Promise((resolve) => setTimeout(resolve, 60))]); // the page does not wait for the engine
	ctx.signal.addEventListener("abort", onReady(check));
	ctx.signal.addEventListener("abort", () => clearTimeout(timer));
}

/**
 * sheetTable makes the rows and the box to paste a whole table into.
 * @param {Sheet} sheet
 * @param {(change: Partial<Sheet>) => void} keep
 * @param {(text: string) => void} onNoAdvanceBelow
 */
function sheetTable(sheet, keep, onNoAdvanceBelow) {
	/** @param {Row[]} rows */
	const putRows = (rows) => {
		keep({ rows });
		table.draw();
	};
	const paste = pasteBox(({ rows, noAdvanceBelow }) => {
		if (noAdvanceBelow) {
			keep({ noAdvanceBelow });
			onNoAdvanceBelow(noAdvanceBelow);
		}
		putRows([...sheet.rows.filter((row) => !isBlank(row)), ...rows]);
	});
	const table = new RowEditor({
		getSheet: () => sheet,
		onChange: (rows) => keep({ rows }),
		onRemove: (rows, index) => {
			putRows(rows.filter((_, at) => at !== index));
			offerUndo(`The row for ${rows[index].rpm || "no speed"} is removed.`, () => putRows([...sheet.rows.slice(0, index), rows[index], ...sheet.rows.slice(index)]));
		},
		onPaste: (text) => {
			if (!looksLikeTable(text)) return false;
			paste.open(text);
			return true;
		},
	});
	return { table, paste };
}

/** @param {Sheet} sheet @param {(change: Partial<Sheet>) => void} keep */
function sheetFields(sheet, keep) {
	/** @type {(name: "baseCrankDeg" | "baseToleranceCrankDeg" | "noAdvanceBelow" | "driveRatio" | "limitDistDeg", label: string, unit: string, note?: string) => ReturnType<typeof textField>} */
	const number = (name, label, unit, note) => textField({ label, name, unit, note, isNumber: true, value: sheet[name], onInput: (text) => keep({ [name]: text }) });
	return {
		angleUnit: choice({
			label: "The degrees are", name: "angleUnit", value: sheet.angleUnit, isRow: true, onChange: (angleUnit) => keep({ angleUnit }),
			options: [{ value: "crank", label: "crank degrees" }, { value: "distributor", label: "distributor degrees" }],
		}),
		speedUnit: choice({
			label: "The speeds are", name: "speedUnit", value: sheet.speedUnit, isRow: true, onChange: (speedUnit) => keep({ speedUnit }),
			options: [{ value: "engine", label: "engine rpm" }, { value: "distributor", label: "distributor rpm" }],
		}),
		base: choice({
			label: "Base timing is", name: "base", value: sheet.base, onChange: (base) => keep({ base }),
			options: [
				{ value: "excluded", label: "not in the figures", note: "the table starts near 0: base is added on the engine" },
				{ value: "included", label: "already in the figures", note: "the table is the whole timing before TDC" },
			],
		}),
		baseCrankDeg: number("baseCrankDeg", "Base timing", "crank degrees", "The timing with no advance at all: the static figure, engine stopped."),
		baseSide: choice({
			label: "Base timing is before or after TDC", name: "baseSide", value: sheet.baseSide, isRow: true, onChange: (baseSide) => keep({ baseSide }),
			options: [{ value: "before", label: "before TDC" }, { value: "after", label: "after TDC" }],
		}),
		baseToleranceCrankDeg: number("baseToleranceCrankDeg", "Tolerance of base, plus and minus", "crank degrees", "Only if the book gives one."),
		noAdvanceBelow: number("noAdvanceBelow", "No advance below", "rpm, in the table’s unit"),
		listedWhile: choice({
			label: "Taken while the speed is", name: "listedWhile", value: sheet.listedWhile, onChange: (listedWhile) => keep({ listedWhile }),
			options: [{ value: "either", label: "not said" }, { value: "rising", label: "rising" }, { value: "falling", label: "falling", note: "a list for checking while slowing down" }],
		}),
		limitDistDeg: number("limitDistDeg", "Number on the limit plate", "distributor degrees"),
		driveRatio: number("driveRatio", "Crank turns for one distributor turn", "turns", "Left empty, 2 is taken: common practice for four-strokes."),
	};
}

/** @param {string} id @param {Doc<Distributor> | null} distributor */
function sourceField(id, distributor) {
	return textField({
		label: "Which book, which page", name: "sheetSource", value: distributor?.body.sheetSource ?? "",
		onInput: (text) => garage.update("distributor", id, (body) => { body.sheetSource = text; }).catch(() => {}),
	});
}

/** @param {ReturnType<typeof sheetFields>} fields @param {HTMLElement} table @param {HTMLElement} paste @param {{element: HTMLElement}} source */
function bookSections(fields, table, paste, source) {
	return [
		h("p", { class: "lead" }, "Type it exactly as printed. Look at the head of the table: three things are written there, or should be."),
		fields.angleUnit.element, fields.speedUnit.element, fields.base.element,
		h("h2", null, "Base timing"), fields.baseCrankDeg.element, fields.baseSide.element, fields.baseToleranceCrankDeg.element,
		h("h2", { id: "table-title" }, "The table"),
		h("p", { class: "note" }, "Any order. A single printed figure goes in both columns. Vacuum is a table of its own and does not belong here. Beneath each row stand both ways of writing it."),
		table, paste,
		h("h2", null, "What else the book says"),
		fields.noAdvanceBelow.element, fields.listedWhile.element, fields.limitDistDeg.element, fields.driveRatio.element, source.element,
	];
}

/**
 * @param {import("../data/sheet-check.js").SheetCheck} found
 * @param {{sheet: Sheet, fields: ReturnType<typeof sheetFields>, table: RowEditor, state: HTMLElement, car: Doc<Car>, keep: (change: Partial<Sheet>) => void}} page
 */
function showCheck(found, { sheet, fields, table, state, car, keep }) {
	const { problem } = found;
	const byName = /** @type {{[name: string]: {setProblem: (p: FieldProblem | null) => void}}} */ (fields);
	for (const field of Object.values(byName)) field.setProblem(null);
	table.clearProblems();
	const cell = /^rows\[(\d+)\]\.(\w+)$/.exec(problem?.field ?? "");
	const isStarted = sheet.rows.some((row) => !isBlank(row));
	const isTyping = cell !== null && problem?.isMissing === true && table.hasFocus(Number(cell[1]));
	if (problem && cell && !isTyping) table.setProblem(Number(cell[1]), cell[2], problem);
	else if (problem && byName[problem.field] && isStarted) byName[problem.field].setProblem(problem);
	const general = problem && !cell && !byName[problem.field] && isStarted ? problemLine(problem) : null;
	const stops = found.doubts.filter(({ level }) => level === "stop");
	const said = JSON.stringify([found, isStarted]);
	if (state.dataset.said === said) return; // the way on may be under the finger, or where the keyboard is
	state.dataset.said = said;
	fill(state, general,
		found.doubts.length > 0 ? h("aside", { class: "boxed" }, h("p", null, mark("watch"), " ", h("strong", null, "Look again")), h("ul", null, found.doubts.slice(0, 6).map(({ text }) => h("li", null, text)))) : null,
		!problem && stops.length === 0 ? h("p", { class: "ok-line" }, mark("done"), found.isRead ? " The table reads without trouble." : " Kept. It will be checked when the calculation is ready.") : null,
		stops.length > 0 && !problem ? confirming(stops, keep) : nextStep(problem, isStarted, car));
}

/** @param {FieldProblem | null} problem @param {boolean} isStarted @param {Doc<Car>} car */
function nextStep(problem, isStarted, car) {
	const onward = address("car", car.id, "readings");
	if (!problem) return nextButton("On to the readings", onward);
	return h("p", { class: "note" }, isStarted ? "The readings can be taken before this is finished: " : "No book at hand? ", h("a", { href: onward }, isStarted ? "on to the readings" : "Take the readings first"), ".");
}

/** confirming lets a timing beyond the stop stand once a person has said so; it is kept with the table. @param {import("../data/sheet-check.js").SheetCheck["doubts"]} stops @param {(change: Partial<Sheet>) => void} keep */
function confirming(stops, keep) {
	const most = Math.max(...stops.map(({ total }) => total ?? 0));
	return button("I have checked it against the book: it is so", () => keep({ confirmedTotal: most.toFixed(1) }));
}
