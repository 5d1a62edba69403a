// A keypad for gloves: it types into an ordinary input, so that a keyboard, a
// screen reader and a paste work as well. The input has inputmode="none", so
// the phone's own keyboard stays away.

import { fill, h } from "../lib/dom.js";
import { num, parse } from "../lib/format.js";
import { mark } from "./marks.js";

/** @typedef {{input: HTMLInputElement, steps: [number, number], digits: number, onMinus?: () => void}} KeypadTarget */

/**
 * keypad makes the pad; aim points it at an input. A field whose value was
 * only suggested (data-suggested) is replaced by the first digit.
 * @param {{onNext: () => void, nextLabel: () => string}} options
 */
export function keypad({ onNext, nextLabel }) {
	/** @type {KeypadTarget | null} */
	let target = null;
	const steps = [0, 1, 2, 3].map(() => h("button", { type: "button", class: "key step", on: { click: (/** @type {Event} */ event) => step(Number(/** @type {HTMLElement} */ (event.currentTarget).dataset.by)) } }));
	const next = h("button", { type: "button", class: "key key-next", on: { click: onNext } });
	/** @param {string} text */
	const key = (text) => h("button", { type: "button", class: "key", on: { click: () => type(text) } }, text);
	const minus = h("button", { type: "button", class: "key", "aria-label": "minus: the other side", on: { click: () => target?.onMinus?.() } }, "−");
	const rub = h("button", { type: "button", class: "key key-rub", "aria-label": "Rub out the last digit", on: { click: () => type("rub") } }, mark("rub"));
	const element = h("div", { class: "keypad", role: "group", "aria-label": "Keypad" },
		steps, key("7"), key("8"), key("9"), rub, key("4"), key("5"), key("6"), key("1"), key("2"), key("3"), next, key("."), key("0"), minus);

	/** @param {string} text */
	function put(text) {
		if (!target) return;
		target.input.value = text;
		target.input.dispatchEvent(new Event("input", { bubbles: true }));
	}
	/** @param {string} pressed */
	function type(pressed) {
		if (!target) return;
		const { input } = target;
		const before = input.dataset.suggested !== undefined && pressed !== "rub" ? "" : input.value;
		if (pressed === "rub") return put(before.slice(0, -1));
		if (pressed === "." && before.includes(".")) return;
		if (before.length >= 7) return; // longer than any speed or angle
		put(before + pressed);
	}
	/** @param {number} by */
	function step(by) {
		if (!target) return;
		const now = parse(target.input.value) ?? 0;
		const next = Math.max(0, now + by);
		put(num(next, Number.isInteger(next) && target.digits === 0 ? 0 : target.digits).replace("−", "-"));
	}
	return {
		element,
		/** @param {KeypadTarget} at */
		aim(at) {
			target = at;
			const [small, large] = at.steps;
			[-large, -small, small, large].forEach((by, index) => {
				steps[index].dataset.by = String(by);
				fill(steps[index], `${by < 0 ? "−" : "+"}${String(Math.abs(by)).replace("0.5", "½")}`, h("span", { class: "vh" }, at.digits === 0 ? " rpm" : " degrees"));
				});
			minus.disabled = !at.onMinus;
			fill(next, nextLabel());
		},
	};
}
