// How the car stands, in a word beside the title of each of its pages.

import { garage } from "../kept/garage.js";
import { fill, h } from "../kit/dom.js";
import { address } from "../kit/address.js";
import { latestOnly } from "../kit/latest-only.js";
import { verdictMark } from "../kit/mark.js";
import { carState } from "../state/car-state.js";

const calm = 1500; // ms after the last change: nobody looks up while typing. Chosen

/** Pages that say it themselves. */
const saying = ["car", "unit", "verdict", "card"];

/**
 * headState gives the word, and keeps it true until the signal aborts.
 * @param {Doc<Car>} car @param {import("./routes.js").Route} route @param {AbortSignal} signal
 */
export function headState(car, route, signal) {
	// a step of guided work has no room for it
	if (saying.includes(route.name) || document.documentElement.hasAttribute("data-step")) return null;
	const place = h("a", { class: "head-state", href: address("car", car.id) });
	let timer = 0;
	const draw = latestOnly(
		async () => {
			const now = garage.get("car", car.id);
			const state = now && !now.deleted ? await carState(now) : null;
			if (!signal.aborted)
				fill(
					place,
					state
						? [h("span", null, garage.isUnit(car.id) ? "Unit: " : "Car: "), verdictMark(state.verdict)]
						: null,
				);
		},
		() => fill(place),
	);
	const off = garage.on("change", () => {
		clearTimeout(timer);
		timer = setTimeout(draw, calm);
	});
	signal.addEventListener("abort", () => {
		off();
		clearTimeout(timer);
	});
	draw();
	return place;
}
