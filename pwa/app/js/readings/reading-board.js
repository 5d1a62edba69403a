// The big display and keypad of one reading.

import { h } from "../kit/dom.js";
import { choice } from "../kit/field.js";
import { Keypad } from "../kit/keypad.js";

/** @typedef {import("./reading-draft.js").Draft} Draft */
/** @typedef {"rpm" | "deg"} FieldName */
/** @typedef {{onChange: (change: Partial<Draft>) => void, onEnter: () => void}} Handlers */

const before = /** @type {const} */ ({ value: "before" });
const after = /** @type {const} */ ({ value: "after" });

/** ReadingBoard shows a draft and tells of every change to it. */
export class ReadingBoard {
	/** @type {FieldName} */
	#field = "rpm";
	/** @type {"before" | "after"} */
	#side = "before";
	#on;
	#displays;
	#direction;
	#sideChoice;
	#pad = new Keypad(() => this.aim(this.#field === "rpm" ? "deg" : "rpm"));
	element;

	/**
	 * @param {VisitSet} set how the figures are read
	 * @param {Handlers} handlers
	 */
	constructor(set, handlers) {
		this.#on = handlers;
		this.#displays = {
			rpm: this.#display("rpm", set.speedUnit === "engine" ? "Engine rpm" : "Distributor rpm"),
			deg: this.#display("deg", set.angleUnit === "crank" ? "Crank degrees" : "Distributor degrees"),
		};
		this.#direction = choice({
			label: "Speed is",
			name: "direction",
			value: "rising",
			isRow: true,
			onChange: (direction) => handlers.onChange({ direction }),
			options: [
				{ value: "rising", label: "rising" },
				{ value: "falling", label: "falling" },
			],
		});
		this.#sideChoice = choice({
			label: "Degrees are",
			name: "side",
			value: "before",
			isRow: true,
			isPlain: true,
			onChange: (side) => this.#setSide(side),
			options:
				set.base === "excluded"
					? [
							{ ...before, label: "advance" },
							{ ...after, label: "behind zero" },
						]
					: [
							{ ...before, label: "before TDC" },
							{ ...after, label: "after TDC" },
						],
		});
		this.element = h(
			"div",
			{ class: "board" },
			this.#direction.element,
			h("div", { class: "displays" }, this.#displays.rpm.element, this.#displays.deg.element),
			this.#sideChoice.element,
			this.#pad.element,
		);
	}

	/** aim makes the keypad type into a field. @param {FieldName} name */
	aim(name) {
		this.#field = name;
		for (const each of /** @type {FieldName[]} */ (["rpm", "deg"]))
			this.#displays[each].element.classList.toggle("is-aimed", each === name);
		const { input } = this.#displays[name];
		if (name === "rpm") this.#pad.aim({ input, steps: [50, 100], digits: 0 }, "to degrees");
		else this.#pad.aim({ input, steps: [0.5, 1], digits: 1, onMinus: () => this.#otherSide() }, "change speed");
		if (document.activeElement !== input) input.focus({ preventScroll: true });
		this.#on.onChange({ field: name });
	}

	/** put shows a draft. @param {Draft} draft */
	put(draft) {
		const { rpm, deg } = this.#displays;
		rpm.input.value = draft.rpm;
		deg.input.value = draft.deg;
		if (draft.suggested) rpm.input.dataset.suggested = "";
		else delete rpm.input.dataset.suggested;
		this.#side = draft.side;
		this.#sideChoice.setValue(draft.side);
		this.#direction.setValue(draft.direction);
		this.aim(draft.field);
	}

	/** lowest is how far down the screen the keys reach. */
	lowest() {
		return this.#pad.element.getBoundingClientRect().bottom;
	}

	#otherSide() {
		this.#setSide(this.#side === "before" ? "after" : "before");
	}

	/** @param {"before" | "after"} side */
	#setSide(side) {
		this.#side = side;
		this.#sideChoice.setValue(side);
		this.#on.onChange({ side });
	}

	/** @param {FieldName} name @param {string} label */
	#display(name, label) {
		const input = h("input", {
			type: "text",
			inputmode: "none",
			placeholder: " ", // seen by the style: there is nothing to save yet
			autocomplete: "off",
			id: `reading-${name}`,
			name,
			class: "great figures",
			maxlength: 8,
			on: {
				focus: () => {
					if (this.#field !== name) this.aim(name);
				},
				input: () => this.#typed(name, input),
				keydown: (/** @type {KeyboardEvent} */ event) => this.#pressed(name, event),
			},
		});
		return {
			input,
			element: h("div", { class: "display", "data-field": name }, h("label", { for: input.id }, label), input),
		};
	}

	/** @param {FieldName} name @param {HTMLInputElement} input */
	#typed(name, input) {
		if (name === "deg") return this.#on.onChange({ deg: input.value });
		delete input.dataset.suggested;
		this.#on.onChange({ rpm: input.value, suggested: false });
	}

	/** @param {FieldName} name @param {KeyboardEvent} event */
	#pressed(name, event) {
		if (event.key !== "Enter" && event.key !== "-") return;
		event.preventDefault();
		if (event.key === "Enter") this.#on.onEnter();
		else if (name === "deg") this.#otherSide();
	}
}
