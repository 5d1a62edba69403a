// The big display and keypad of one reading.

import { h } from "../lib/dom.js";
import { choice } from "./field.js";
import { keypad } from "./keypad.js";

/** @typedef {import("./reading-entry.js").Draft} Draft */

/**
 * readingBoard shows a draft and tells of every change to it.
 * @param {VisitSet} set how the figures are read
 * @param {{onChange: (change: Partial<Draft>) => void, onEnter: () => void}} handlers
 */
export function readingBoard(set, { onChange, onEnter }) {
	/** @type {"rpm" | "deg"} */
	let field = "rpm";
	/** @type {"before" | "after"} */
	let sideNow = "before";
	const isBench = set.base === "excluded";
	const rpm = figure("rpm", set.speedUnit === "engine" ? "Engine rpm" : "Distributor rpm");
	const deg = figure("deg", set.angleUnit === "crank" ? "Crank degrees" : "Distributor degrees");
	const direction = choice({
		label: "Speed is", name: "direction", value: "rising", isRow: true, onChange: (value) => onChange({ direction: value }),
		options: [{ value: "rising", label: "rising" }, { value: "falling", label: "falling" }],
	});
	const side = choice({
		label: "Degrees are", name: "side", value: "before", isRow: true, onChange: (value) => setSide(value),
		options: isBench ? [{ value: "before", label: "advance" }, { value: "after", label: "behind zero" }] : [{ value: "before", label: "before TDC" }, { value: "after", label: "after TDC" }],
	});
	const pad = keypad({ onNext: () => aim(field === "rpm" ? "deg" : "rpm"), nextLabel: () => (field === "rpm" ? "to degrees" : "to speed") });

	/** @param {"before" | "after"} value */
	function setSide(value) {
		sideNow = value;
		side.setValue(value);
		onChange({ side: value });
	}
	/** @param {"rpm" | "deg"} name @param {string} label */
	function figure(name, label) {
		const input = h("input", {
			type: "text", inputmode: "none", autocomplete: "off", id: `reading-${name}`, name, class: "great figures", maxlength: 8,
			on: {
				focus: () => { if (field !== name) aim(name); },
				input: () => {
					if (name === "rpm") delete input.dataset.suggested;
					onChange(name === "rpm" ? { rpm: input.value, suggested: false } : { deg: input.value });
				},
				keydown: (/** @type {KeyboardEvent} */ event) => {
					if (event.key === "Enter") { event.preventDefault(); onEnter(); }
					if (event.key === "-") { event.preventDefault(); if (name === "deg") setSide(sideNow === "before" ? "after" : "before"); }
				},
			},
		});
		return { input, element: h("div", { class: "display", "data-field": name }, h("label", { for: `reading-${name}` }, label), input) };
	}
	/** @param {"rpm" | "deg"} name */
	function aim(name) {
		field = name;
		const at = name === "rpm" ? rpm : deg;
		rpm.element.classList.toggle("is-aimed", name === "rpm");
		deg.element.classList.toggle("is-aimed", name === "deg");
		pad.aim(name === "rpm" ? { input: rpm.input, steps: [50, 100], digits: 0 } : { input: deg.input, steps: [0.5, 1], digits: 1, onMinus: () => setSide(sideNow === "before" ? "after" : "before") });
		if (document.activeElement !== at.input) at.input.focus({ preventScroll: true });
		onChange({ field: name });
	}
	return {
		element: h("div", { class: "board" }, direction.element, h("div", { class: "displays" }, rpm.element, deg.element), side.element, pad.element),
		aim,
		/** @param {Draft} draft */
		put(draft) {
			rpm.input.value = draft.rpm;
			deg.input.value = draft.deg;
			if (draft.suggested) rpm.input.dataset.suggested = "";
			else delete rpm.input.dataset.suggested;
			sideNow = draft.side;
			side.setValue(draft.side);
			direction.setValue(draft.direction);
			aim(draft.field);
		},
	};
}
