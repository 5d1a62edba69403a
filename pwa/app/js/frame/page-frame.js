// What surrounds every page: the running head with the car's name, the foot.

import { headState } from "./head-state.js";
import { garage } from "../kept/garage.js";
import { fill, h } from "../kit/dom.js";
import { address } from "../kit/address.js";
import { mark } from "../kit/mark.js";
import { saveState } from "../sharing/save-state.js";
import { inEnglish } from "../kit/words.js";

/** Where the last few addresses were, to make "back" go back, not forward. */
/** @type {string[]} */
const trail = [];

/**
 * pageHead draws the running head.
 * @param {HTMLElement} head
 * @param {import("./routes.js").Route} route
 * @param {Doc<Car> | null} car
 * @param {AbortSignal} signal of the page
 */
export function pageHead(head, route, car, signal) {
	follow(location.hash || "#/");
	const up = parent(route, car);
	fill(
		head,
		h(
			"div",
			{ class: "running-head" },
			up
				? h("a", { class: "back", href: up.href, on: { click: goBack } }, mark("back"), up.label)
				: h("span", { class: "imprint" }, "Pointsmith"),
			saveState(),
			route.name === "help"
				? null
				: h("a", { class: "to-help", href: address("help", helpTopic(route.name)) }, "Help"),
		),
		h(
			"h1",
			{ tabindex: "-1" },
			car ? h("span", { class: "car-name" }, car.body.name) : null,
			car?.body.demo ? h("span", { class: "stamp" }, "demo") : null,
			car
				? h(
						"span",
						{ class: "page-title" },
						route.chapter && !car.isUnit ? h("span", { class: "chapter figures" }, route.chapter) : null,
						inEnglish((car.isUnit && route.unitTitle) || route.title),
					)
				: inEnglish(route.title),
		),
		car ? headState(car, route, signal) : null,
	);
}

/** @param {HTMLElement} foot */
export function pageFoot(foot) {
	fill(
		foot,
		h(
			"nav",
			{ class: "foot-links", "aria-label": "About the app" },
			h("a", { href: "#/" }, "The garage"),
			h("a", { href: "#/settings" }, "Settings"),
			h("a", { href: "#/help" }, "Help"),
		),
	);
}

/**
 * @param {import("./routes.js").Route} route
 * @param {Doc<Car> | null} car
 */
function parent(route, car) {
	if (route.name === "garage") return null;
	if (car && route.name === "readings" && location.hash.split("/").length > 4)
		return { href: address("car", car.id, "readings"), label: "Readings" };
	if (car && !["car", "unit"].includes(route.name))
		return garage.isUnit(car.id)
			? { href: address("unit", car.id), label: "The bench" }
			: { href: address("car", car.id), label: "The job" };
	return { href: "#/", label: "The garage" };
}

/** @param {string} name */
function helpTopic(name) {
	return ["garage", "settings", "lost", "join", "reset"].includes(name) ? "" : name;
}

/** @param {string} hash */
function follow(hash) {
	if (trail.at(-2) === hash) trail.pop();
	else if (trail.at(-1) !== hash) trail.push(hash);
	if (trail.length > 50) trail.shift();
}

/** @param {MouseEvent} event */
function goBack(event) {
	const link = /** @type {HTMLAnchorElement} */ (event.currentTarget);
	if (trail.at(-2) !== link.hash || event.ctrlKey || event.metaKey || event.shiftKey) return;
	event.preventDefault();
	history.back();
}
