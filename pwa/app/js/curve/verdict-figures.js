// The figures of the verdict: the first is seen at once, the others are folded.

import { fill, h } from "../kit/dom.js";
import { fold } from "../kit/fold.js";
import { breath } from "../kit/platform.js";
import { curvePlate, redraw } from "../kit/plate/curve-plate.js";

/** figuresIn draws them one after the other. @param {HTMLElement} room */
export function figuresIn(room) {
	/** @type {HTMLElement[]} */
	let plates = [];
	let turn = 0;
	return {
		forget() {
			plates = [];
		},
		/**
		 * Draws them again in place where there are as many as before, so that the chosen point stays chosen.
		 * @param {PlateInput[]} inputs
		 */
		async draw(inputs) {
			const mine = ++turn;
			if (inputs.length === plates.length) {
				for (const [i, input] of inputs.entries()) {
					if (mine !== turn) return; // newer ones are being drawn
					redraw(plates[i], input);
					await breath();
				}
				return;
			}
			const [first, ...others] = inputs;
			const rest = h("div", null);
			plates = [curvePlate(first)];
			fill(
				room,
				plates[0],
				others.length ? fold("verdict/figures", { title: others[0].title.split(":")[0] }, rest) : null,
			);
			for (const input of others) {
				await breath(); // what is folded comes after what is seen
				if (mine !== turn) return;
				plates.push(curvePlate(input));
				rest.append(/** @type {HTMLElement} */ (plates.at(-1)));
			}
		},
	};
}
