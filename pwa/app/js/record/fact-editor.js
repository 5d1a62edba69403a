// One fact: a ruled line that says value, unit and source, and opens to be
// changed.

import { longest } from "../../made/shapes.js";
import { fill, h } from "../kit/dom.js";
import { inEnglish } from "../kit/words.js";
import { button, choice, problemLine, textField } from "../kit/field.js";
import { mark } from "../kit/mark.js";

/** @type {{value: Source, label: string}[]} */
const sources = [
	{ value: "book", label: "book" },
	{ value: "measured", label: "measured" },
	{ value: "common practice", label: "common practice" },
	{ value: "guess", label: "guess" },
];

let count = 0;

/**
 * factEditor makes the line; check looks at the value again, after another
 * fact has changed.
 * @param {import("./facts.js").FactField} field
 * @param {Fact | undefined} fact
 * @param {() => Facts} allFacts
 * @param {(fact: Fact) => void} onChange
 * @param {() => {label: string, open: () => void} | null} [following] the next fact that is unknown
 */
export function factEditor(field, fact, allFacts, onChange, following = () => null) {
	const now = { value: "", unit: "", source: /** @type {Source} */ (""), note: "", ...fact };
	const id = `fact-${++count}`;
	const shown = h("span", { class: "fact-value figures" });
	const source = h("span", { class: "fact-source" });
	const doubt = h("div", { class: "field-problem", "aria-live": "polite" });
	const form = h("div", { class: "fact-form" });
	const draw = () => {
		const hasValue = now.value.trim() !== "";
		fill(
			shown,
			hasValue
				? asShown(field, now)
				: h("span", { class: "note" }, field.hasNoSource ? "nothing noted" : "unknown"),
			hasValue && now.note ? h("small", { class: "fact-note" }, now.note) : null,
		);
		fill(source, !field.hasNoSource && hasValue ? now.source || "source not given" : "");
	};
	const check = () => {
		const found = now.value.trim() === "" ? null : (field.check?.(now.value, now.unit, allFacts()) ?? null);
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
	/** @param {Partial<Fact>} change */
	const change = (change) => {
		Object.assign(now, change);
		if (now.value.trim() !== "") now.unit = unitOf(field, now);
		draw();
		check();
		onChange({ ...now });
	};
	const onward = h("div");
	const drawOnward = () => {
		const next = following();
		fill(
			onward,
			next
				? button(`Next unknown: ${inEnglish(next.label)}`, () => {
						element.open = false;
						next.open();
					})
				: null,
		);
	};
	const open = () => {
		fill(form, formOf(field, now, change), onward);
		element.open = true;
		element.scrollIntoView({ block: "center" });
		/** @type {HTMLElement | null} */ (form.querySelector("input, textarea"))?.focus({ preventScroll: true });
	};
	draw();
	const element = h(
		"details",
		{
			class: field.kind === "long" ? "fact is-long" : "fact",
			id,
			on: {
				toggle: () => {
					if (element.open && !form.hasChildNodes()) fill(form, formOf(field, now, change), onward);
					if (element.open) drawOnward();
				},
			},
		},
		h("summary", null, h("span", { class: "fact-label" }, inEnglish(field.label)), shown, source, doubt),
		form,
	);
	return { element: h("div", { class: "fact-line" }, element), check, open, isKnown: () => now.value.trim() !== "" };
}

/**
 * A choice of ours stands in the English now chosen, what was typed as typed.
 * @type {(field: import("./facts.js").FactField, value: string) => Node}
 */
const valueShown = ({ options }, value) =>
	options?.includes(value) ? h("span", null, inEnglish(value)) : h("span", { class: "typed" }, value);

/** The unit that stands as chosen before one is. @param {import("./facts.js").FactField} field */
const usualUnit = ({ hasUsualUnit, units }) => (hasUsualUnit ? (units?.[0] ?? "") : "");

/** @param {import("./facts.js").FactField} field @param {Fact} now */
const unitOf = (field, now) => (field.units?.length === 1 ? field.units[0] : now.unit || usualUnit(field));

/**
 * @param {import("./facts.js").FactField} field
 * @param {Fact} now
 * @param {(change: Partial<Fact>) => void} change
 */
function formOf(field, now, change) {
	const isOther = now.value !== "" && !field.options?.includes(now.value);
	const units = field.units ?? [];
	return [
		field.kind === "choice"
			? choice({
					label: "Which",
					name: field.key,
					value: now.value,
					isRow: true,
					onChange: (value) => change({ value }),
					options: [
						...(field.options ?? []).map((option) => ({ value: option, label: option })),
						...(isOther ? [{ value: now.value, label: h("span", null, now.value) }] : []),
						{ value: "", label: "unknown" },
					],
				}).element
			: field.kind === "long"
				? longField(now, change)
				: textField({
						label: "Value",
						name: field.key,
						value: now.value,
						isNumber: field.kind === "number",
						note: field.note,
						maxLength: longest["fact.value"],
						unit: units.length === 1 ? units[0] : undefined,
						onInput: (value) => change({ value }),
					}).element,
		units.length > 1
			? choice({
					label: "In",
					name: `${field.key}-unit`,
					value: now.unit || usualUnit(field),
					isRow: true,
					options: units.map((unit) => ({ value: unit, label: unit })),
					onChange: (unit) => change({ unit }),
				}).element
			: null,
		field.hasNoSource
			? null
			: choice({
					label: "Comes from",
					name: `${field.key}-source`,
					value: now.source,
					isRow: true,
					options: sources,
					onChange: (source) => change({ source }),
				}).element,
		field.hasNoSource
			? null
			: textField({
					label: "Note",
					name: `${field.key}-note`,
					value: now.note,
					maxLength: longest["fact.note"],
					onInput: (note) => change({ note }),
				}).element,
	];
}

/** @param {Fact} now @param {(change: Partial<Fact>) => void} change */
function longField(now, change) {
	const area = h("textarea", {
		rows: 4,
		"aria-label": "In words",
		value: now.value,
		maxlength: longest["fact.value"],
		on: { input: () => change({ value: area.value }) },
	});
	return area;
}

/**
 * The value in the words of the screen, with its unit.
 * @param {import("./facts.js").FactField} field @param {Fact} now
 */
const asShown = (field, now) => [
	valueShown(field, field.inWords?.(now.value) ?? now.value),
	now.unit ? h("small", null, ` ${now.unit}`) : null,
];
