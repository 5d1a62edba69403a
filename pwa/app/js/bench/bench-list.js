// The bench in the garage's list: every distributor that is worked on by itself.

import { addUnit, nameOf, whereIs } from "./units.js";
import { stateLine } from "../state/state-line.js";
import { garage } from "../kept/garage.js";
import { nameForm } from "../record/name-form.js";
import { button } from "../kit/field.js";
import { fill, h } from "../kit/dom.js";
import { fold } from "../kit/fold.js";
import { breath } from "../kit/platform.js";
import { address } from "../kit/address.js";
import { hasWords } from "../kit/format.js";

/**
 * isSought says whether every word that is sought stands in a name, a type number or an owner.
 * @param {string} sought @param {{name: string, typeNumber?: string, owner?: string, where?: string}} body
 */
export const isSought = (sought, { name, typeNumber = "", owner = "", where = "" }) =>
	hasWords(`${name} ${typeNumber} ${owner} ${where}`, sought);

/**
 * benchList draws them, those in no car first; null where there is none.
 * @param {{sought: string, most: number, showAll: () => void}} how
 */
export function benchList({ sought, most, showAll }) {
	const units = garage.units();
	if (!units.length) return null;
	const inCars = new Set(garage.cars().map(({ body }) => body.distributorId));
	const away = (/** @type {Doc<Distributor>} */ { id, body }) => Boolean(body.back) || inCars.has(id);
	const found = units.filter(({ body }) => isSought(sought, body)).sort((a, b) => Number(away(a)) - Number(away(b)));
	return h(
		"section",
		{ class: "bench-list" },
		h("h2", null, "On the bench"),
		found.length === 0 ? h("p", { class: "note" }, "No distributor by that name.") : null,
		h("ul", { class: "ruled", role: "list" }, found.slice(0, most).map(row)),
		found.length > most ? button(`All ${found.length} distributors`, showAll) : null,
	);
}

/** @param {Doc<Distributor>} unit */
function row(unit) {
	const line = h("p", { class: "verdict-line" });
	const car = garage.get("car", unit.id);
	if (car)
		breath()
			.then(() => import("../job/next-step.js")) // as large as all the rest of the first screen
			.then(({ standAndNext }) => standAndNext(car))
			.then(({ state }) => fill(line, state ? stateLine(state) : null))
			.catch(() => {});
	return h(
		"li",
		{ class: "car-row", "data-unit": unit.id },
		h(
			"a",
			{ class: "car-link", href: address("unit", unit.id) },
			h("span", { class: "car-row-name" }, nameOf(unit)),
			unit.body.demo ? h("span", { class: "stamp" }, "demo") : null,
			h("span", { class: "note" }, [whereIs(unit), unit.body.owner].filter(Boolean).join(" · ")),
		),
		line,
	);
}

/** addUnitForm takes a distributor on the bench, without a car. @param {PageContext} ctx */
export async function addUnitForm(ctx) {
	const { element, add, isHalf } = await nameForm({
		label: "Name or number of the distributor",
		name: "unit-name",
		draftKey: "new-unit",
		what: "this distributor",
		make: addUnit,
		then: (id) => ctx.go(address("unit", id)),
	});
	return fold(
		"garage/unit",
		{ title: "A distributor without a car", class: "add-unit", isOpen: isHalf },
		element,
		button("Take it on the bench", add),
	);
}
