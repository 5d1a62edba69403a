// Fields of a form: a label, what is typed, its unit, and beneath it what is
// wrong: the problem, the limit, what to do. What was typed always stays.

import { fill, h } from "./dom.js";
import { inEnglish } from "./words.js";
import { mark } from "./mark.js";

let count = 0;

/**
 * textField makes a field for one line of text or one number.
 * @param {{label: string | Node, name: string, value: string, unit?: string, note?: string | Node | null, isNumber?:
 *   boolean, maxLength?: number,
 *   onInput: (text: string) => void, onEnter?: () => void, autocomplete?: string, list?: string}} options
 */
export function textField({ label, name, value, unit, note, isNumber, maxLength, onInput, onEnter }) {
	const id = `field-${++count}`;
	const input = h("input", {
		id,
		name,
		value,
		type: "text",
		class: isNumber ? "figures" : null,
		inputmode: isNumber ? "decimal" : null,
		autocomplete: "off",
		autocapitalize: isNumber ? "off" : "sentences",
		spellcheck: "false",
		maxlength: maxLength,
		"aria-describedby": `${id}-note ${id}-problem`,
		on: {
			input: () => onInput(input.value),
			keydown: (/** @type {KeyboardEvent} */ event) => {
				if (event.key === "Enter" && onEnter) {
					event.preventDefault();
					onEnter();
				}
			},
		},
	});
	const problem = h("div", { id: `${id}-problem`, class: "field-problem" });
	const element = h(
		"div",
		{ class: "field" },
		h("label", { for: id }, inEnglish(label)),
		h("div", { class: "field-line" }, input, unit ? h("span", { class: "unit" }, unit) : null),
		h("div", { id: `${id}-note`, class: "note" }, inEnglish(note ?? "")),
		problem,
	);
	return { element, input, setProblem: problemSetter(problem, [input]) };
}

/**
 * selectField is a choice of one from a list of many.
 * @param {{label: Node | string | (Node | string)[], value: string, options: {value: string, text: string}[], onChange:
 *   (value: string) => void}} of
 */
export const selectField = ({ label, value, options, onChange }) =>
	h(
		"label",
		{ class: "select-field" },
		h("span", null, label),
		h(
			"select",
			{
				value,
				on: {
					change: (/** @type {Event} */ event) =>
						onChange(/** @type {HTMLSelectElement} */ (event.target).value),
				},
			},
			options.map((one) => h("option", { value: one.value, selected: one.value === value }, one.text)),
		),
	);

/**
 * choice makes a question with a few answers, all of them visible. Nothing is
 * chosen until the person chooses, unless value says so.
 * @template {string} V
 * @param {{label: string | Node, name: string, value: string, options: {value: V, label: string | Node, note?: string |
 *   Node}[], note?: string | Node | null, isRow?: boolean, isPlain?: boolean,
 *   onChange: (value: V) => void}} options isPlain: the answers say by themselves what is asked; the label
 *   is heard only
 */
export function choice({ label, name, value, options, note, isRow, isPlain, onChange }) {
	const id = `choice-${++count}`;
	const inputs = options.map((option, index) =>
		h("input", {
			type: "radio",
			name: `${name}-${id}`,
			id: `${id}-${index}`,
			value: option.value,
			checked: option.value === value,
			on: { change: () => onChange(option.value) },
		}),
	);
	const problem = h("div", { id: `${id}-problem`, class: "field-problem" });
	const element = h(
		"fieldset",
		{ class: "choice" + (isRow ? " is-row" : ""), "aria-describedby": `${id}-problem` },
		h("legend", { class: isPlain ? "vh" : null }, inEnglish(label)),
		note ? h("p", { class: "note" }, inEnglish(note)) : null,
		h(
			"div",
			{ class: "choice-options" },
			options.map((option, index) =>
				h(
					"div",
					{ class: "option" },
					inputs[index],
					h(
						"label",
						{ for: inputs[index].id },
						mark("done"),
						h(
							"span",
							null,
							inEnglish(option.label),
							option.note ? h("small", null, inEnglish(option.note)) : null,
						),
					),
				),
			),
		),
		problem,
	);
	/** @param {string} next */
	const setValue = (next) =>
		inputs.forEach((input) => {
			input.checked = input.value === next;
		});
	return { element, setValue, setProblem: problemSetter(problem, inputs) };
}

/**
 * problemSetter gives a function that shows a problem beside fields, or takes
 * it away.
 * @param {HTMLElement} place
 * @param {HTMLElement[]} inputs
 */
export function problemSetter(place, inputs) {
	return (/** @type {Omit<FieldProblem, "field"> | Problem | null} */ found) => {
		for (const input of inputs) {
			if (found) input.setAttribute("aria-invalid", "true");
			else input.removeAttribute("aria-invalid");
		}
		if (!found) return fill(place);
		fill(place, problemLine(found));
	};
}

/**
 * problemLine writes a problem in full: what, the limit, what to do. A
 * question says what is usual instead, and forbids nothing.
 * @param {Omit<FieldProblem, "field"> | Problem} found
 * @param {boolean} [isQuestion]
 */
export function problemLine(found, isQuestion = false) {
	const what = sentence("problem" in found ? found.problem : found.detail || found.title);
	const limit = found.limit ? ` ${isQuestion ? "Usual" : "Limit"}: ${found.limit.replace(/\.$/, "")}.` : "";
	return h(
		"p",
		{ class: "problem-line" },
		mark(isQuestion ? "watch" : "fail"),
		h("span", null, h("strong", null, inEnglish(what)), inEnglish(limit), " ", inEnglish(sentence(found.do ?? ""))),
	);
}

/** @param {string} text */
function sentence(text) {
	const trimmed = text.trim();
	if (trimmed === "") return "";
	return trimmed.charAt(0).toUpperCase() + trimmed.slice(1) + (/[.!?]$/.test(trimmed) ? "" : ".");
}

/**
 * nextButton is the one thing to do next on a screen: the only place for the
 * signal colour.
 * @param {string | Node} label
 * @param {string | (() => void)} target an address or what to do
 */
export function nextButton(label, target) {
	const inside = [h("span", null, inEnglish(label)), mark("next")];
	if (typeof target === "string") return h("a", { class: "button next", href: target }, inside);
	return h("button", { type: "button", class: "button next", on: { click: target } }, inside);
}

/**
 * button is any other action, whole width.
 * @param {string | Node | (string | Node)[]} label
 * @param {string | (() => void)} target an address or what to do
 * @param {string} [className]
 */
export function button(label, target, className = "") {
	if (typeof target === "string") return h("a", { class: `button ${className}`, href: target }, inEnglish(label));
	return h("button", { type: "button", class: `button ${className}`, on: { click: target } }, inEnglish(label));
}
