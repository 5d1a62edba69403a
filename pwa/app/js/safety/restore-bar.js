// What is undone stands at the top of every screen, until it is ticked: of the
// car at hand each thing by name, of all others one line together, so that
// with the coil watch the page keeps most of the screen.

import { garage } from "../kept/garage.js";
import { inMinutes } from "./temporaries.js";
import { standing } from "./standing.js";
import { fill, h } from "../kit/dom.js";
import { address } from "../kit/address.js";
import { mark } from "../kit/mark.js";

const bar = h("nav", { class: "undone", "aria-label": "To put back" });
const again = 20_000; // ms between two looks at the clock

/** startRestoreBar is called once, when the garage is open. @param {HTMLElement} place */
export function startRestoreBar(place) {
	place.prepend(bar);
	let isDue = false;
	const soon = () => {
		if (isDue) return;
		isDue = true;
		setTimeout(() => {
			isDue = false;
			draw();
		}, 20);
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
	const said =
		lines
			.map(
				({ car, list }) =>
					`${car.id} ${list.map(({ id, minutes, isOverdue }) => `${id} ${isOverdue ? minutes : ""}`).join()}`,
			)
			.join() + location.hash;
	if (bar.dataset.said === said) return; // not drawn again under a finger
	bar.dataset.said = said;
	const here = lines.filter(({ car }) => isHere(car));
	const others = lines.filter(({ car }) => !isHere(car));
	const alone = here.length === 0 && others.length === 1; // a page of no car: nothing else takes room
	fill(
		bar,
		(alone ? others : here).map(({ car, list }) => line(car, list)),
		alone || !others.length ? null : together(others, here.length > 0),
	);
	document.documentElement.classList.toggle("has-undone", lines.length > 0);
}

/** @param {Doc<Car>} car */
const isHere = (car) => location.hash.startsWith(address("car", car.id));

/**
 * together says the other cars in one line. It leads to the restore list that
 * presses most; there the next one stands in this line.
 * @param {{car: Doc<Car>, list: import("./temporaries.js").Standing[]}[]} others
 * @param {boolean} isBeside whether the car at hand has a line of its own
 */
function together(others, isBeside) {
	const minutes = (/** @type {typeof others[number]} */ { list }) =>
		Math.max(0, ...list.filter(({ isOverdue }) => isOverdue).map((one) => one.minutes));
	const first = others.reduce((most, one) => (minutes(one) > minutes(most) ? one : most));
	const late = minutes(first);
	const who = `${others.length} ${isBeside ? "other " : ""}${others.length === 1 ? "car" : "cars"}`;
	return h(
		"a",
		{ href: address("car", first.car.id, "restore"), class: late ? "is-overdue" : null },
		mark("caution"),
		h(
			"span",
			null,
			h("strong", null, `${who}: `),
			"something to put back",
			late ? h("strong", null, ` for ${inMinutes(late)} now`) : null,
		),
		mark("next"),
	);
}

/** On the page of a car, the bar about another says so first. */
const elsewhere = "Another car";

/** @param {Doc<Car>} car @param {import("./temporaries.js").Standing[]} list */
function line(car, list) {
	const overdue = list.filter(({ isOverdue }) => isOverdue);
	const rest = list.filter(({ isOverdue }) => !isOverdue);
	// what forbids the start is never cut off
	rest.sort((a, b) => Number(Boolean(b.noStart)) - Number(Boolean(a.noStart)));
	const of = /^#\/(car|unit)\//.test(location.hash) ? elsewhere : car.body.name;
	return h(
		"a",
		{ href: address("car", car.id, "restore"), class: overdue.length ? "is-overdue" : null },
		mark("caution"),
		h(
			"span",
			null,
			h("strong", null, isHere(car) ? "Remember: " : `${of}: `),
			overdue.map(({ what, minutes }) => h("strong", null, `${what} for ${inMinutes(minutes)} now. `)),
			rest.map(({ what }) => what).join(" · "),
			// last: a long name is cut before a part is
			!isHere(car) && of === elsewhere ? ` (${car.body.name})` : null,
		),
		mark("next"),
	);
}
