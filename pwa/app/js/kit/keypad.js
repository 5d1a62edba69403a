// A keypad for gloves: it types into an ordinary input, so that a keyboard, a
// screen reader and a paste work as well. The input has inputmode="none", so
// the phone's own keyboard stays away.

import { fill, h } from "./dom.js";
import { num, parse } from "./format.js";
import { mark } from "./mark.js";

/** @typedef {{input: HTMLInputElement, steps: [number, number], digits: number, onMinus?: () => void}} KeypadTarget */

const longest = 7; // characters: longer than any speed or angle

export class Keypad {
	/** @type {KeypadTarget | null} */
	#target = null;
	#steps = [0, 1, 2, 3].map(() =>
		h("button", {
			type: "button",
			class: "key step",
			on: {
				click: (/** @type {Event} */ event) =>
					this.#step(Number(/** @type {HTMLElement} */ (event.currentTarget).dataset.by)),
			},
		}),
	);
	#next;
	#minus = h(
		"button",
		{
			type: "button",
			class: "key",
			"aria-label": "−: the other side",
			on: { click: () => this.#target?.onMinus?.() },
		},
		"−",
	);
	element;

	/** @param {() => void} onNext goes to the other field */
	constructor(onNext) {
		/** @param {string} text */
		const key = (text) =>
			h("button", { type: "button", class: "key", on: { click: () => this.#type(text) } }, text);
		const rub = h(
			"button",
			{
				type: "button",
				class: "key key-rub",
				"aria-label": "Rub out the last digit",
				on: { click: () => this.#rub() },
			},
			mark("rub"),
		);
		this.#next = h("button", { type: "button", class: "key key-next", on: { click: onNext } });
		this.element = h(
			"div",
			{ class: "keypad", role: "group", "aria-label": "Keypad" },
			this.#steps,
			key("7"),
			key("8"),
			key("9"),
			rub,
			key("4"),
			key("5"),
			key("6"),
			key("1"),
			key("2"),
			key("3"),
			this.#next,
			key("."),
			key("0"),
			this.#minus,
		);
	}

	/**
	 * aim points the pad at an input.
	 * @param {KeypadTarget} target
	 * @param {string} nextLabel where the key for the other field leads
	 */
	aim(target, nextLabel) {
		this.#target = target;
		const [small, large] = target.steps;
		[-large, -small, small, large].forEach((by, index) => {
			this.#steps[index].dataset.by = String(by);
			fill(
				this.#steps[index],
				`${by < 0 ? "−" : "+"}${String(Math.abs(by)).replace("0.5", "½")}`,
				h("span", { class: "vh" }, target.digits === 0 ? " rpm" : " degrees"),
			);
		});
		this.#minus.disabled = !target.onMinus;
		fill(this.#next, nextLabel);
	}

	/**
	 * A value that was suggested, or stood there before, gives way to the first digit; the point goes on with it.
	 * @param {string} pressed
	 */
	#type(pressed) {
		if (!this.#target) return;
		const { input } = this.#target;
		const before = input.dataset.suggested === undefined || pressed === "." ? input.value : "";
		if ((pressed === "." && before.includes(".")) || before.length >= longest) return;
		this.#put(before + pressed);
	}

	#rub() {
		this.#put((this.#target?.input.value ?? "").slice(0, -1));
	}

	/** @param {number} by */
	#step(by) {
		if (!this.#target) return;
		const next = Math.max(0, (parse(this.#target.input.value) ?? 0) + by);
		this.#put(num(next, this.#target.digits));
	}

	/** @param {string} text */
	#put(text) {
		if (!this.#target) return;
		this.#target.input.value = text;
		this.#target.input.dispatchEvent(new Event("input", { bubbles: true }));
	}
}
