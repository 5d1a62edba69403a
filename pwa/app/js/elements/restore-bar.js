// What is undone stands at the top of every screen, until it is ticked.

import { garage } from "../data/garage.js";
import { inMinutes } from "../data/temporaries.js";
import { standing } from "../data/work.js";
import { fill, h } from "../lib/dom.js";
import { address } from "../lib/routes.js";
import { mark } from "./marks.js";

const bar = h("nav", { class: "undone", "aria-label": "Left undone" });
const again = 20_000; // ms between two looks at the clock

/** startRestoreBar is called once, when the garage is open. @param {HTMLElement} place */
export function startRestoreBar(place) {
	place.prepend(bar);
	let isDue = false;
	const soon = () => {
		if (isDue) return;
		isDue = true;
		setTimeout(() => { isDue = false; draw(); }, 20);
	};
	garage.on("change", soon);
	addEventListener("hashchange", draw);
	document.addEventListener("visibilitychange", draw);
	setInterval(draw, again);
	draw();
}

function draw() {
	const lines = garage.cars().flatMap((car) => {
		const list = standing(car.id);
		return list.length ? [{ car, list }] : [];
	});
	const said = lines.map(({ car, list }) => `${car.id} ${list.map(({ id, minutes, isOverdue }) => `${id} ${isOverdue ? minutes : ""}`).join()}`).join() + location.hash;
	if (bar.dataset.said === said) return; // not drawn again under a finger
	bar.dataset.said = said;
	fill(bar, lines.map(({ car, list }) => line(car, list)));
	document.documentElement.classList.toggle("has-undone", lines.length > 0);
}

/** @param {Doc<Car>} car @param {import("../data/temporaries.js").Standing[]} list */
function line(car, list) {
	const isHere = location.hash.startsWith(address("car", car.id));
	const overdue = list.filter(({ isOverdue }) => isOverdue);
	const rest = list.filter(({ isOverdue }) => !isOverdue);
	return h("a", { href: address("car", car.id, "restore"), class: overdue.length ? "is-overdue" : null },
		mark("caution"),
		h("span", null, h("strong", null, isHere ? "Undone: " : `Undone on ${car.body.name}: `),
			overdue.map(({ what, minutes }) => h("strong", null, `${what} for ${inMinutes(minutes)} now. `)),
			rest.map(({ what }) => what).join(" · ")),
		mark("next"));
}
