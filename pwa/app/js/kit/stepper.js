// One quantity changed by a slider or by two great buttons, in the plain
// words of what is being done. No dragging is needed.

import { fill, h } from "./dom.js";

/**
 * @typedef {object} StepperInput
 * @property {string} name what is changed
 * @property {number} min @property {number} max @property {number} step
 * @property {number} value need not lie on a step: a mend comes with exact figures
 * @property {number} rest the value as found; it need not lie on a step and is never stepped over
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
export function stepper({ name, min, max, step, value, rest, words, less, more, onChange }) {
	const said = h("output", { class: "stepper-words" });
	const slider = h("input", { type: "range", min, max, step, value, "aria-label": name });
	const minus = button("−", `${name}: ${less}`, () => take(nextStep(current, -1, step, rest)));
	const plus = button("+", `${name}: ${more}`, () => take(nextStep(current, 1, step, rest)));
	slider.addEventListener("input", () => take(Number(slider.value)));
	let current = value;

	/** @param {number} next */
	function take(next) {
		show(next);
		onChange(current);
	}

	/** @param {number} next */
	function show(next) {
		const inside = Math.min(max, Math.max(min, next));
		current = Math.abs(inside - rest) < step / 20 ? rest : inside;
		slider.value = String(current);
		const text = words(current);
		slider.setAttribute("aria-valuetext", text);
		fill(said, text);
		minus.disabled = current <= min;
		plus.disabled = current >= max;
	}

	show(value);
	return {
		element: h(
			"div",
			{ class: "stepper", role: "group", "aria-label": name },
			h("p", { class: "stepper-name" }, name),
			said,
			minus,
			slider,
			plus,
		),
		set: show,
	};
}

/** @param {string} sign @param {string} label @param {() => void} press */
function button(sign, label, press) {
	return h("button", { type: "button", class: "stepper-button", "aria-label": label, on: { click: press } }, sign);
}

/**
 * The next value one press away: the next whole step, or the value as found
 * where that comes first.
 * @param {number} value @param {1 | -1} way @param {number} step @param {number} rest
 */
export function nextStep(value, way, step, rest) {
	const slack = step * 1e-6;
	const onGrid =
		way > 0 ? Math.floor(value / step + slack) * step + step : Math.ceil(value / step - slack) * step - step;
	const isRestFirst =
		way > 0 ? rest > value + slack && rest < onGrid - slack : rest < value - slack && rest > onGrid + slack;
	return isRestFirst ? rest : rounded(onGrid, step);
}

/**
 * The value at the nearest step, free of binary dust: 0.1 + 0.2 is 0.3.
 * @param {number} value @param {number} step
 */
export function rounded(value, step) {
	return Number((Math.round(value / step) * step).toFixed(6));
}
