// Where a step leads: to the page it is done on, or to what must be put right
// first.

import { address } from "../kit/address.js";
import { h } from "../kit/dom.js";
import { mark } from "../kit/mark.js";
import { restoreList } from "../safety/restore-list.js";

/** @param {Doc<Car>} car @param {string} page "do/static" or the name of a page */
export const pageAddress = (car, page) => address("car", car.id, ...page.split("/"));

/**
 * blockedBox says what is in the way, and how to put it right there.
 * @param {Doc<Car>} car
 * @param {{list: import("../safety/temporaries.js").Standing[], title: string, text: string}} stop
 * @param {() => void} onTicked
 */
export function blockedBox(car, stop, onTicked) {
	return h(
		"section",
		{ class: "step-blocked", role: "alert" },
		h("h3", null, mark("fail"), " ", stop.title),
		h("p", null, stop.text),
		restoreList(car, stop.list, onTicked),
	);
}
