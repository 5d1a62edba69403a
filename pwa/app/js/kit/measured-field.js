// A figure that is measured: typed as the instrument shows it, in the unit of
// the instrument; the other units stand beside it, and doubts beneath it.

import { alsoIn, unitsLike } from "./units.js";
import { fill, h } from "./dom.js";
import { choice, problemLine, textField } from "./field.js";
import { mark } from "./mark.js";
import { inEnglish } from "./words.js";

/**
 * @typedef {object} MeasuredInput
 * @property {string} label @property {string} name
 * @property {Fact | undefined} fact as kept
 * @property {string[]} units it may be typed in; the first is shown as chosen where nothing is
 * @property {string} [unit] chosen instead of the first, where nothing is kept yet
 * @property {string | Node | null} [note]
 * @property {(fact: Fact) => string} [also] what else the figure is, in words; the other units unless given
 * @property {(value: string, unit: string) => import("./doubt.js").Doubt | null} [check]
 * @property {(change: {value: string, unit: string}) => void} onChange at every key
 * @property {() => void} [onEnter]
 */

/**
 * measuredField makes the field. recheck looks at the doubts again after
 * something else has changed.
 * @param {MeasuredInput} input
 */
export function measuredField({ label, name, fact, units, unit, note, also, check, onChange, onEnter }) {
	const now = { value: fact?.value ?? "", unit: fact?.unit || unit || units[0] || "" };
	const beside = h("p", { class: "beside figures" });
	const doubt = h("div", { class: "field-problem", "aria-live": "polite" });
	const say = () => {
		const words =
			now.value.trim() === "" ? "" : also ? also({ ...now, source: "", note: "" }) : alsoIn(now.value, now.unit);
		fill(beside, words ? `= ${words}` : "");
		const found = check?.(now.value, now.unit) ?? null;
		fill(
			doubt,
			found
				? [
						found.level === "stop" ? h("p", { class: "stop-word" }, mark("caution"), " Stop") : null,
						problemLine(found, found.level === "ask"),
					]
				: null,
		);
	};
	const changed = (/** @type {Partial<typeof now>} */ change) => {
		Object.assign(now, change);
		say();
		onChange({ ...now });
	};
	const field = textField({
		label,
		name,
		value: now.value,
		isNumber: true,
		maxLength: 80,
		note,
		unit: units.length === 1 ? units[0] : undefined,
		onInput: (value) => changed({ value }),
		onEnter,
	});
	const unitChoice =
		units.length > 1
			? choice({
					label: h("span", { class: "vh" }, inEnglish(`${label}: in`)),
					name: `${name}-unit`,
					value: now.unit,
					isRow: true,
					options: units.map((one) => ({ value: one, label: one })),
					onChange: (one) => changed({ unit: one }),
				}).element
			: null;
	say();
	return {
		element: h("div", { class: "measured" }, field.element, unitChoice, beside, doubt),
		input: field.input,
		recheck: say,
	};
}

/** lengthUnits puts the unit of the book first: the feeler is likely marked in it. @param {string | undefined} book */
export function lengthUnits(book) {
	return book && unitsLike("mm").includes(book) ? unitsLike(book) : ["thou", "mm", "in"];
}
