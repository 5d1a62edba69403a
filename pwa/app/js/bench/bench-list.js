// The bench in the garage's list: every distributor that is worked on by itself.

import { addUnit, carOf, nameOf, whereIs } from "./units.js";
import { stateLine } from "../state/state-line.js";
import { garage } from "../kept/garage.js";
import { nameForm } from "../record/name-form.js";
import { button } from "../kit/field.js";
import { fill, h } from "../kit/dom.js";
import { fold } from "../kit/fold.js";
import { breath } from "../kit/platform.js";
import { address } from "../kit/address.js";

/** benchList draws them, those in no car first; null where there is none. */
export function benchList() {
	const units = garage.units();
	if (!units.length) return null;
	const sorted = [...units].sort((a, b) => Number(away(a)) - Number(away(b)));
	return h(
		"section",
		{ class: "bench-list" },
		h("h2", null, "On the bench"),
		h("ul", { class: "ruled", role: "list" }, sorted.map(row)),
	);
}

/** @param {Doc<Distributor>} unit */
const away = (unit) => Boolean(unit.body.back) || carOf(unit.id) !== null;

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
			unit.body.demo ? h("span", { class: "stamp" }, "invented") : null,
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
