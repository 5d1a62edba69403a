// One quantity changed by a slider or by two great buttons, in the plain
// words of what is being done. No dragging is needed.

import { fill, h } from "../lib/dom.js";

/**
 * @typedef {object} StepperInput
 * @property {string} name what is changed
 * @property {number} min @property {number} max @property {number} step
 * @property {number} value
 * @property {(value: number) => string} words the value in plain words, "primary spring 20 % stiffer"
 * @property {string} less what the minus button does, "softer"
 * @property {string} more
 * @property {(value: number) => void} onChange
 *
 * @typedef {object} Stepper
 * @property {HTMLElement} element
 * @property {(value: number) => void} set shows a value without telling onChange
 */

/**
 * @param {StepperInput} input
 * @returns {Stepper}
 */
export function stepper({ name, min, max, step, value, words, less, more, onChange }) {
	const said = h("output", { class: "stepper-words" });
	const slider = h("input", { type: "range", min, max, step, value, "aria-label": name });
	const minus = button("−", `${name}: ${less}`, () => move(-step));
	const plus = button("+", `${name}: ${more}`, () => move(step));
	slider.addEventListener("input", () => take(Number(slider.value)));
	let current = value;

	/** @param {number} by */
	function move(by) {
		take(current + by);
	}

	/** @param {number} next */
	function take(next) {
		show(next);
		onChange(current);
	}

	/** @param {number} next */
	function show(next) {
		current = rounded(Math.min(max, Math.max(min, next)), step);
		slider.value = String(current);
		const text = words(current);
		slider.setAttribute("aria-valuetext", text);
		fill(said, text);
		minus.disabled = current <= min;
		plus.disabled = current >= max;
	}

	show(value);
	return {
		element: h("div", { class: "stepper", role: "group", "aria-label": name }, h("p", { class: "stepper-name" }, name), said, minus, slider, plus),
		set: show,
	};
}

/** @param {string} sign @param {string} label @param {() => void} press */
function button(sign, label, press) {
	return h("button", { type: "button", class: "stepper-button", "aria-label": label, on: { click: press } }, sign);
}

/**
 * The value at the nearest step, free of binary dust: 0.1 + 0.2 is 0.3.
 * @param {number} value @param {number} step
 */
export function rounded(value, step) {
	return Number((Math.round(value / step) * step).toFixed(6));
}
