// The rows of the book's table: typed in any order, each with both ways of
// writing it beneath.

import { longest } from "../../made/shapes.js";
import { bothWays, isBlank, onlyEdge } from "../record/sheet.js";
import { fill, h } from "../kit/dom.js";
import { rpm, short } from "../kit/format.js";
import { button, problemSetter } from "../kit/field.js";
import { fold } from "../kit/fold.js";
import { mark } from "../kit/mark.js";

const columns = /** @type {const} */ (["rpm", "min", "max"]);
const shortLabels = { rpm: "Speed", min: "Least", max: "Most" };

/**
 * @typedef {{getSheet: () => Sheet, onChange: (rows: Row[]) => void, onRemove: (rows: Row[], index: number) => void,
 *   onPaste: (text: string) => boolean}} RowOptions
 */

/** RowEditor edits the rows of a sheet; there is always one blank row at the end. */
export class RowEditor {
	#options;
	#heads = columns.map(() => h("th", { scope: "col" }));
	/** @type {ReturnType<typeof rowBody>[]} */
	#bodies = [];
	element = h("table", { class: "rows" }, h("thead", null, h("tr", null, this.#heads)));
	#removals = h("div");
	/** Beneath the table, so that from cell to cell nothing lies between. */
	removal = fold("book/remove", { title: "Remove a row", level: "h3", class: "remove-rows" }, this.#removals);

	/** @param {RowOptions} options */
	constructor(options) {
		this.#options = options;
		this.draw();
	}

	/** draw shows the sheet's rows afresh. */
	draw() {
		for (const { element } of this.#bodies) element.remove();
		this.#bodies = [];
		for (const row of this.#options.getSheet().rows) this.#add({ ...row });
		this.#add({ rpm: "", min: "", max: "" });
		this.convert();
	}

	/** convert writes units and both ways again, after a unit or the base has changed. */
	convert() {
		const { angleUnit, speedUnit } = this.#options.getSheet();
		const mayBreak = (/** @type {string} */ unit) => unit.replace("distributor", "distri\u00adbutor");
		const degrees = angleUnit ? `${mayBreak(angleUnit)}°` : "unit not chosen";
		["Speed", "Least", "Most"].forEach((head, index) => {
			const unit = index > 0 ? degrees : speedUnit ? `${mayBreak(speedUnit)} rpm` : "unit not chosen";
			fill(this.#heads[index], head, h("small", null, unit));
		});
		for (const body of this.#bodies) body.convert();
		this.#offerRemovals();
	}

	#offerRemovals() {
		const rows = this.#bodies.map(({ row }, index) => ({ row, index })).filter(({ row }) => !isBlank(row));
		this.removal.hidden = rows.length === 0;
		fill(
			this.#removals,
			rows.map(({ row, index }) =>
				button([mark("remove"), ` Row ${index + 1}: ${rowInWords(row)}`], () =>
					this.#options.onRemove(this.#rows, index),
				),
			),
		);
	}

	/** @param {number} index @param {string} column @param {FieldProblem | null} problem */
	setProblem(index, column, problem) {
		this.#bodies[index]?.setProblem(column, problem);
	}

	clearProblems() {
		for (const body of this.#bodies) body.setProblem("", null);
	}

	/** hasFocus says whether a row is being typed in. @param {number} index */
	hasFocus(index) {
		return this.#bodies[index]?.element.contains(document.activeElement) ?? false;
	}

	get #rows() {
		return this.#bodies
			.map(({ row }) => row)
			.filter((row, index) => index < this.#bodies.length - 1 || !isBlank(row));
	}

	/** @param {Row} row */
	#add(row) {
		const made = rowBody(row, () => this.#bodies.indexOf(made), this.#options.getSheet, {
			onInput: () => {
				if (made === this.#bodies.at(-1) && !isBlank(row)) this.#add({ rpm: "", min: "", max: "" });
				this.#options.onChange(this.#rows);
			},
			onPaste: this.#options.onPaste,
		});
		this.#bodies.push(made);
		this.element.append(made.element);
		made.convert();
	}
}

/**
 * @param {Row} row
 * @param {() => number} indexOf
 * @param {() => Sheet} getSheet
 * @param {{onInput: () => void, onPaste: (text: string) => boolean}} handlers
 */
function rowBody(row, indexOf, getSheet, { onInput, onPaste }) {
	const labels = { rpm: "Speed", min: "Least degrees", max: "Most degrees" };
	const inputs = columns.map((column) =>
		h("input", {
			type: "text",
			class: "figures",
			inputmode: "decimal",
			autocomplete: "off",
			name: column,
			value: row[column],
			maxlength: longest[`row.${column}`],
			on: {
				input: (/** @type {Event} */ event) => {
					row[column] = /** @type {HTMLInputElement} */ (event.target).value;
					onInput();
					convert();
				},
				keydown: (/** @type {KeyboardEvent} */ event) => {
					if (event.key === "Enter") {
						event.preventDefault();
						nextInput(/** @type {HTMLInputElement} */ (event.target));
					}
				},
				paste: (/** @type {ClipboardEvent} */ event) => {
					if (onPaste(event.clipboardData?.getData("text/plain") ?? "")) event.preventDefault();
				},
			},
		}),
	);
	const both = h("td", { colspan: 3, class: "both-ways figures" });
	const problem = h("div", { class: "field-problem" });
	const convert = () => {
		inputs.forEach((input, index) =>
			input.setAttribute("aria-label", `${labels[columns[index]]}, row ${indexOf() + 1}`),
		);
		fill(both, bothTable(getSheet(), row), problem);
	};
	const setOf = Object.fromEntries(columns.map((column, index) => [column, problemSetter(problem, [inputs[index]])]));
	const element = h(
		"tbody",
		null,
		h(
			"tr",
			null,
			inputs.map((input, index) => h("td", { "data-label": shortLabels[columns[index]] }, input)),
		),
		h("tr", null, both),
	);
	return {
		row,
		element,
		convert,
		/** @param {string} column @param {FieldProblem | null} found */
		setProblem(column, found) {
			for (const set of Object.values(setOf)) set(null);
			if (found) (setOf[column] ?? setOf.rpm)(found);
		},
	};
}

/** @param {Row} row */
const rowInWords = ({ rpm, min, max }) => `${rpm || "no speed"}, ${[min, max].map((edge) => edge || "–").join(" to ")}`;

/** @param {HTMLInputElement} input */
function nextInput(input) {
	const all = [...(input.closest("table")?.querySelectorAll("input") ?? [])];
	all[all.indexOf(input) + 1]?.focus();
}

/**
 * bothTable writes one row for the crank at engine speed and for the
 * distributor at its own.
 * @param {Sheet} sheet
 * @param {Row} row
 */
function bothTable(sheet, row) {
	if (isBlank(row) || (!sheet.angleUnit && !sheet.speedUnit)) return null;
	const only = onlyEdge(row);
	const { engineRPM, distRPM, min, max } = bothWays(sheet, row);
	const total = range(min.totalCrank, max.totalCrank);
	const advance = range(min.advanceCrank, max.advanceCrank);
	return h(
		"table",
		{ class: "both" },
		h(
			"tr",
			null,
			h("th", { scope: "row" }, "crank"),
			h("td", null, rpm(engineRPM)),
			h("td", null, advance || total),
			h("td", { class: "total" }, total ? (advance ? `${total} in all` : "in all") : ""),
		),
		h(
			"tr",
			null,
			h("th", { scope: "row" }, "distributor"),
			h("td", null, rpm(distRPM)),
			h("td", null, range(min.advanceDist, max.advanceDist) || (total ? "needs base" : "–")),
			h("td", { class: "only-edge" }, only && `${only} only`),
		),
	);
}

/** @param {number | null} low @param {number | null} high */
function range(low, high) {
	if (low === null && high === null) return "";
	if (low === null) return `at most ${short(high)}°`;
	if (high === null) return `at least ${short(low)}°`;
	return low === high ? `${short(low)}°` : `${short(low)}–${short(high)}°`;
}
