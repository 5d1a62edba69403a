// What a step asks, answered in place: great figures with the keypad for
// gloves, choices as whole-width answers. Every key is told at once.

import { fill, h } from "../kit/dom.js";
import { choice, problemLine, textField } from "../kit/field.js";
import { Keypad } from "../kit/keypad.js";

const sides = /** @type {const} */ ([
	{ value: "before", label: "before TDC" },
	{ value: "after", label: "after TDC" },
]);
/** @type {{[kind: string]: {steps: [number, number], digits: number}}} */
const pads = {
	speed: { steps: [50, 100], digits: 0 },
	timing: { steps: [0.5, 1], digits: 1 },
	number: { steps: [0.5, 1], digits: 1 },
};

/**
 * figureEntry makes the entry of one or more asks.
 * @param {{asks: Ask[], answers: {[key: string]: string}, onChange: (change: {[key: string]: string}) => void, onDone:
 *   () => void, name: string}} options
 */
export function figureEntry({ asks, answers, onChange, onDone, name }) {
	const isFigure = (/** @type {Ask} */ one) => one.kind in pads;
	const figures = asks.filter(isFigure);
	/** @type {Map<string, {input: HTMLInputElement, element: HTMLElement, problem: HTMLElement}>} */
	const displays = new Map();
	let aimed = figures[0]?.key ?? "";
	const pad = new Keypad(() => {
		const next = figures[figures.findIndex(({ key }) => key === aimed) + 1];
		if (next) aim(next.key);
		else onDone();
	});

	/** @param {string} key */
	function aim(key) {
		const at = displays.get(key);
		const one = figures.find((each) => each.key === key);
		if (!at || !one) return;
		if (aimed !== key) givesWay(at.input);
		aimed = key;
		for (const [each, { element }] of displays)
			element.classList.toggle("is-aimed", each === key && displays.size > 1);
		const isLast = figures.at(-1) === one;
		pad.aim(
			{ input: at.input, ...pads[one.kind], onMinus: one.kind === "timing" ? () => flip(key) : undefined },
			isLast ? "next" : "next figure",
		);
		if (document.activeElement !== at.input && at.input.isConnected) at.input.focus({ preventScroll: true });
	}

	/** @type {Map<string, {setValue: (value: string) => void}>} */
	const sideChoices = new Map();
	/** @param {string} key */
	function flip(key) {
		const next = answers[`${key}.side`] === "after" ? "before" : "after";
		sideChoices.get(key)?.setValue(next);
		tell({ [`${key}.side`]: next });
	}

	/** @param {{[key: string]: string}} change */
	function tell(change) {
		Object.assign(answers, change);
		for (const { problem } of displays.values()) fill(problem);
		onChange(change);
	}

	/** @param {Ask} one */
	function display(one) {
		const id = `${name}-${one.key}`;
		const problem = h("div", { id: `${id}-problem`, class: "field-problem" });
		const input = h("input", {
			type: "text",
			inputmode: "none",
			autocomplete: "off",
			id,
			name: one.key,
			class: "great figures",
			maxlength: 8,
			value: answers[one.key] ?? "",
			"aria-describedby": `${id}-problem`,
			on: {
				focus: () => {
					if (aimed !== one.key) aim(one.key);
				},
				input: () => {
					delete input.dataset.suggested;
					tell({ [one.key]: input.value });
				},
				keydown: (/** @type {KeyboardEvent} */ event) => {
					if (event.key === "-" && one.kind === "timing") {
						event.preventDefault();
						flip(one.key);
					}
					if (event.key === "Enter") {
						event.preventDefault();
						onDone();
					}
				},
			},
		});
		const element = h(
			"div",
			{ class: "display", "data-field": one.key },
			h("label", { for: id }, one.label, one.unit ? h("small", null, ` ${one.unit}`) : null),
			input,
		);
		displays.set(one.key, { input, element, problem });
		givesWay(input);
		const side =
			one.kind === "timing"
				? choice({
						label: "That is",
						name: `${id}-side`,
						value: answers[`${one.key}.side`] ?? "",
						isRow: true,
						options: [...sides],
						onChange: (value) => tell({ [`${one.key}.side`]: value }),
					})
				: null;
		if (side) sideChoices.set(one.key, side);
		return h(
			"div",
			{ class: "figure-ask" },
			element,
			one.note ? h("p", { class: "note" }, one.note) : null,
			side?.element ?? null,
			problem,
		);
	}

	const element = h(
		"div",
		{ class: "figure-entry board" },
		asks.map((one) => {
			if (isFigure(one)) return one === figures.at(-1) ? [display(one), pad.element] : display(one);
			if (one.kind === "choice")
				return choice({
					label: one.label,
					name: `${name}-${one.key}`,
					value: answers[one.key] ?? "",
					options: one.options ?? [],
					note: one.note,
					onChange: (value) => tell({ [one.key]: value }),
				}).element;
			return textField({
				label: one.label,
				name: one.key,
				value: answers[one.key] ?? "",
				unit: one.unit,
				note: one.note,
				maxLength: 400,
				onInput: (value) => tell({ [one.key]: value }),
			}).element;
		}),
	);
	return {
		element,
		/** aimFirst points the keypad at the first figure that is open. */
		aimFirst() {
			const open = figures.find(({ key }) => !answers[key]) ?? figures[0];
			if (open) aim(open.key);
		},
		/**
		 * put types a figure from elsewhere, such as a speed that was heard.
		 * @param {string} key
		 * @param {string} value
		 */
		put(key, value) {
			const at = displays.get(key);
			if (at) {
				at.input.value = value;
				givesWay(at.input);
			}
			tell({ [key]: value });
		},
		/** @param {string} key @param {{problem: string, limit: string, do: string}} found */
		refuse(key, found) {
			const at = displays.get(key);
			if (!at) return false;
			fill(at.problem, problemLine(found));
			givesWay(at.input);
			aim(key);
			at.element.scrollIntoView({ block: "center" });
			return true;
		},
	};
}

/** givesWay marks a figure that stands there: the first digit typed takes its place. @param {HTMLInputElement} input */
function givesWay(input) {
	if (input.value !== "") input.dataset.suggested = "";
}
