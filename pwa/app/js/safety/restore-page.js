// The restore list of one car, and a way to put something on it by hand.

import { garage } from "../kept/garage.js";
import { temporaries } from "./temporaries.js";
import { standing, undo } from "./standing.js";
import { button, nextButton } from "../kit/field.js";
import { mark } from "../kit/mark.js";
import { restoreList } from "./restore-list.js";
import { fill, h } from "../kit/dom.js";
import { address } from "../kit/address.js";
import { firstCapital } from "../kit/words.js";

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	const car = /** @type {Doc<Car>} */ (ctx.car);
	const list = h("div");
	const draw = () => {
		const standsNow = standing(car.id);
		fill(
			list,
			standsNow.length === 0
				? [
						h("p", { class: "lead" }, mark("done"), " Nothing is left to put back."),
						nextButton("Back to the job", address("car", car.id)),
					]
				: [h("p", { class: "lead" }, "Put each back, then tick it."), restoreList(car, standsNow, draw)],
		);
	};
	draw();
	fill(
		root,
		list,
		h(
			"details",
			null,
			h("summary", null, "Something else is off or loose now"),
			temporaries
				.filter(({ id }) => id !== "other")
				.map(({ id, what }) =>
					button(firstCapital(what), () =>
						undo(car, [id])
							.then(draw)
							.catch(() => {}),
					),
				),
		),
	);
	ctx.signal.addEventListener("abort", garage.on("change", draw));
}
