// The restore list of one car, and a way to put something on it by hand.

import { garage } from "../data/garage.js";
import { temporaries } from "../data/temporaries.js";
import { standing, undo } from "../data/work.js";
import { button, nextButton } from "../elements/field.js";
import { mark } from "../elements/marks.js";
import { restoreList, sentence } from "../elements/restore-list.js";
import { fill, h } from "../lib/dom.js";
import { address } from "../lib/routes.js";

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	const car = /** @type {Doc<Car>} */ (ctx.car);
	const list = h("div");
	const draw = () => {
		const standsNow = standing(car.id);
		fill(list, standsNow.length === 0
			? [h("p", { class: "lead" }, mark("done"), " Nothing stands undone on this car."), nextButton("Back to the job", address("car", car.id))]
			: [h("p", { class: "lead" }, "Each of these was undone for a while. Put it back, then tick it."), restoreList(car, standsNow, draw)]);
	};
	draw();
	fill(root, list,
		h("details", null, h("summary", null, "Something else is undone now"),
			temporaries.filter(({ id }) => id !== "other").map(({ id, what }) => button(sentence(what), () => undo(car, [id]).then(draw).catch(() => {})))));
	ctx.signal.addEventListener("abort", garage.on("change", draw));
}
