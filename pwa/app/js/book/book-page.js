// The book's figures, typed as they are printed.

import { longest } from "../../made/shapes.js";
import { garage } from "../kept/garage.js";
import { emptySheet, isBlank } from "../record/sheet.js";
import { checkSheet, fewRows } from "./sheet-check.js";
import { onReady } from "../engine/client.js";
import { firstAnswer } from "../kit/first-answer.js";
import { button, choice, nextButton, problemLine, textField } from "../kit/field.js";
import { mark } from "../kit/mark.js";
import { looksLikeTable } from "./paste.js";
import { figuresDraft, newDraft } from "../kept/figures-draft.js";
import { RowEditor } from "./row-editor.js";
import { offerUndo } from "../kit/undo-bar.js";
import { fill, h } from "../kit/dom.js";
import { fold, foldRest, unfold } from "../kit/fold.js";
import { address } from "../kit/address.js";

const calm = 250; // ms without a keystroke before the check runs

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	const car = /** @type {Doc<Car>} */ (ctx.car);
	const id = ctx.distributor?.id ?? car.body.distributorId;
	const sheet = structuredClone(ctx.distributor?.body.sheet ?? emptySheet()); // as it is typed, with every key
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
		return garage
			.update("distributor", id, (body) => {
				body.sheet = { ...(body.sheet ?? emptySheet()), ...change };
			})
			.catch(() => {});
	};
	const fields = sheetFields(sheet, keep);
	const figures = address("car", car.id, "figures");
	const table = sheetTable(sheet, keep, async (text) => {
		await figuresDraft.put(car.id, newDraft({ text, hints: known(sheet) }));
		ctx.go(figures);
	});
	const confirm = confirming(keep);
	let asked = 0;
	const check = async () => {
		const mine = ++asked;
		const found = await checkSheet(sheet);
		if (mine === asked) showCheck(found, { sheet, fields, table, state, car, confirm });
	};
	table.element.addEventListener("focusout", checkSoon);
	fill(root, bookSections(sheet, fields, table, figures, sourceField(id, ctx.distributor)));
	foldRest(root, "book", ({ id }) => id !== "more-title");
	root.append(state);
	// the page does not wait for the engine
	await firstAnswer(check());
	ctx.signal.addEventListener("abort", onReady(check));
	ctx.signal.addEventListener("abort", () => clearTimeout(timer));
}

/**
 * What the page knows of a pasted table: it is the book's, and its head where it is chosen.
 * @param {Sheet} sheet
 */
const known = ({ angleUnit, speedUnit, base }) => ({
	what: "spec",
	...(angleUnit ? { angleUnit } : {}),
	...(speedUnit ? { speedUnit } : {}),
	...(base ? { base } : {}),
});

/**
 * sheetTable makes the rows.
 * @param {Sheet} sheet
 * @param {(change: Partial<Sheet>) => void} keep
 * @param {(text: string) => void} onTable told of a whole table that is pasted
 */
function sheetTable(sheet, keep, onTable) {
	/** @param {Row[]} rows */
	const putRows = (rows) => {
		keep({ rows });
		table.draw();
	};
	const table = new RowEditor({
		getSheet: () => sheet,
		onChange: (rows) => keep({ rows }),
		onRemove: (rows, index) => {
			putRows(rows.filter((_, at) => at !== index));
			offerUndo(`The row for ${rows[index].rpm || "no speed"} is removed.`, () =>
				putRows([...sheet.rows.slice(0, index), rows[index], ...sheet.rows.slice(index)]),
			);
		},
		onPaste: (text) => {
			if (!looksLikeTable(text)) return false;
			onTable(text);
			return true;
		},
	});
	return table;
}

/** @param {Sheet} sheet @param {(change: Partial<Sheet>) => void} keep */
function sheetFields(sheet, keep) {
	/**
	 * @type {(name: "baseCrankDeg" | "baseToleranceCrankDeg" | "noAdvanceBelow" | "driveRatio" | "limitDistDeg", label:
	 *   string, unit: string, note?: string) => ReturnType<typeof textField>}
	 */
	const number = (name, label, unit, note) =>
		textField({
			label,
			name,
			unit,
			note,
			isNumber: true,
			value: sheet[name],
			maxLength: longest[`sheet.${name}`],
			onInput: (text) => keep({ [name]: text }),
		});
	return {
		angleUnit: choice({
			label: "The degrees are",
			name: "angleUnit",
			value: sheet.angleUnit,
			isRow: true,
			onChange: (angleUnit) => keep({ angleUnit }),
			options: [
				{ value: "crank", label: "crank degrees" },
				{ value: "distributor", label: "distributor degrees" },
			],
		}),
		speedUnit: choice({
			label: "The speeds are",
			name: "speedUnit",
			value: sheet.speedUnit,
			isRow: true,
			onChange: (speedUnit) => keep({ speedUnit }),
			options: [
				{ value: "engine", label: "engine rpm" },
				{ value: "distributor", label: "distributor rpm" },
			],
		}),
		base: choice({
			label: "Base timing is",
			name: "base",
			value: sheet.base,
			onChange: (base) => keep({ base }),
			options: [
				{
					value: "excluded",
					label: "not in the figures",
					note: "starts near 0",
				},
				{
					value: "included",
					label: "already in the figures",
					note: "the whole timing",
				},
			],
		}),
		baseCrankDeg: number("baseCrankDeg", "Base timing", "crank degrees", "The static figure, engine stopped."),
		baseSide: choice({
			label: "Before or after TDC",
			name: "baseSide",
			value: sheet.baseSide,
			isRow: true,
			isPlain: true,
			onChange: (baseSide) => keep({ baseSide }),
			options: [
				{ value: "before", label: "before TDC" },
				{ value: "after", label: "after TDC" },
			],
		}),
		baseToleranceCrankDeg: number("baseToleranceCrankDeg", "Tolerance ±", "crank degrees"),
		noAdvanceBelow: number("noAdvanceBelow", "No advance below", "rpm, in the table’s unit"),
		listedWhile: choice({
			label: "Taken while the speed is",
			name: "listedWhile",
			value: sheet.listedWhile,
			onChange: (listedWhile) => keep({ listedWhile }),
			options: [
				{ value: "either", label: "not said" },
				{ value: "rising", label: "rising" },
				{ value: "falling", label: "falling", note: "a list for checking while slowing down" },
			],
		}),
		limitDistDeg: number("limitDistDeg", "Number on the stop’s plate", "distributor degrees"),
		driveRatio: number(
			"driveRatio",
			"Crank turns for one distributor turn",
			"turns",
			"Left empty, 2 is taken: common practice for four-strokes.",
		),
	};
}

/** @param {string} id @param {Doc<Distributor> | null} distributor */
function sourceField(id, distributor) {
	return textField({
		label: "Which book, which page",
		name: "sheetSource",
		value: distributor?.body.sheetSource ?? "",
		maxLength: longest["distributor.sheetSource"],
		onInput: (text) =>
			garage
				.update("distributor", id, (body) => {
					body.sheetSource = text;
				})
				.catch(() => {}),
	});
}

/** What the head of the table says, in a line; empty while something is not said. @param {Sheet} sheet */
function headWords({ angleUnit, speedUnit, base }) {
	if (!angleUnit || !speedUnit || !base) return "";
	const holds = { excluded: "base not in it", included: "base in it" }[base] ?? "";
	return [`${angleUnit} degrees`, speedUnit === "engine" ? "engine rpm" : "distributor rpm", holds]
		.filter(Boolean)
		.join(", ");
}

/** @param {Sheet} sheet */
function baseWords({ baseCrankDeg, baseSide, baseToleranceCrankDeg }) {
	if (!baseCrankDeg.trim()) return "";
	const wide = baseToleranceCrankDeg.trim();
	return `${baseCrankDeg.trim()}°${wide ? ` ± ${wide}°` : ""} ${baseSide === "after" ? "after" : "before"} TDC`;
}

/**
 * @param {Sheet} sheet
 * @param {ReturnType<typeof sheetFields>} fields
 * @param {RowEditor} table
 * @param {string} figures the address of the page that takes a whole table in
 * @param {{element: HTMLElement}} source
 */
function bookSections(sheet, fields, table, figures, source) {
	return [
		h("p", { class: "lead" }, "Type it as printed."),
		fold(
			"book/head",
			{ title: "The table’s head", answer: () => headWords(sheet), isOpen: headWords(sheet) === "" },
			fields.angleUnit.element,
			fields.speedUnit.element,
			fields.base.element,
		),
		fold(
			"book/base",
			{ title: "Base timing", answer: () => baseWords(sheet), isOpen: baseWords(sheet) === "" },
			fields.baseCrankDeg.element,
			fields.baseSide.element,
			fields.baseToleranceCrankDeg.element,
		),
		h("h2", { id: "table-title" }, "The table"),
		h("p", { class: "note" }, "One figure only? Put it in both."),
		table.element,
		table.removal,
		button("Paste a whole table", figures),
		h("h2", { id: "more-title" }, "What else the book says"),
		fields.noAdvanceBelow.element,
		fields.listedWhile.element,
		fields.limitDistDeg.element,
		fields.driveRatio.element,
		source.element,
	];
}

/**
 * @param {import("./sheet-check.js").SheetCheck} found
 * @param {{sheet: Sheet, fields: ReturnType<typeof sheetFields>, table: RowEditor, state: HTMLElement, car: Doc<Car>,
 *   confirm: ReturnType<typeof confirming>}} page
 */
function showCheck(found, { sheet, fields, table, state, car, confirm }) {
	const { problem } = found;
	const byName = /** @type {{[name: string]: {setProblem: (p: FieldProblem | null) => void}}} */ (fields);
	for (const field of Object.values(byName)) field.setProblem(null);
	table.clearProblems();
	const cell = /^rows\[(\d+)\]\.(\w+)$/.exec(problem?.field ?? "");
	const isStarted = sheet.rows.some((row) => !isBlank(row));
	const isTyping = cell !== null && problem?.isMissing === true && table.hasFocus(Number(cell[1]));
	if (problem && cell && !isTyping) table.setProblem(Number(cell[1]), cell[2], problem);
	else if (problem && byName[problem.field] && isStarted) {
		byName[problem.field].setProblem(problem);
		unfold(/** @type {any} */ (byName[problem.field]).element);
	}
	const general = problem && !cell && !byName[problem.field] && isStarted ? problemLine(problem) : null;
	const stops = found.doubts.filter(({ level }) => level === "stop");
	const said = JSON.stringify([found, isStarted, fewRows(sheet)]);
	if (state.dataset.said === said) return; // the way on may be under the finger, or where the keyboard is
	state.dataset.said = said;
	const few = fewRows(sheet);
	fill(
		state,
		general,
		few ? h("p", { class: "note few-rows" }, few) : null,
		found.doubts.length > 0
			? h(
					"aside",
					{ class: "boxed" },
					h("p", null, mark("watch"), " ", h("strong", null, "Look again")),
					h(
						"ul",
						null,
						found.doubts.slice(0, 6).map(({ text }) => h("li", null, text)),
					),
				)
			: null,
		!problem && stops.length === 0
			? h(
					"p",
					{ class: "ok-line" },
					mark("done"),
					found.isRead
						? " The table reads without trouble."
						: " Kept. It will be checked when the calculation is ready.",
				)
			: null,
		stops.length > 0 && !problem ? confirm.of(stops) : nextStep(problem, isStarted, car),
	);
}

/** @param {FieldProblem | null} problem @param {boolean} isStarted @param {Doc<Car>} car */
function nextStep(problem, isStarted, car) {
	const onward = address("car", car.id, "readings");
	if (!problem) return nextButton("Next: readings", onward);
	return h(
		"p",
		{ class: "note" },
		isStarted ? "The readings can be taken before this is finished: " : "No book at hand? ",
		h("a", { href: onward }, isStarted ? "take the readings" : "Take the readings first"),
		".",
	);
}

/**
 * confirming lets a timing beyond the stop stand once a person has said so; it is kept with the table. There is one
 * button, so that a check that comes back does not take it away from under the finger.
 * @param {(change: Partial<Sheet>) => void} keep
 */
function confirming(keep) {
	let most = 0;
	const element = button("I have checked it against the book: it is so", () =>
		keep({ confirmedTotal: most.toFixed(1) }),
	);
	return {
		/** @param {import("./sheet-check.js").SheetCheck["doubts"]} stops */
		of(stops) {
			most = Math.max(...stops.map(({ total }) => total ?? 0));
			return element;
		},
	};
}
