// The bench in the garage's list: every distributor that is worked on by itself.

import { addUnit, carOf, nameOf, whereIs } from "./units.js";
import { stateLine } from "../state/state-line.js";
import { garage } from "../kept/garage.js";
import { drafts } from "../kept/drafts.js";
import { nameProblem } from "../kept/car-name.js";
import { button, textField } from "../kit/field.js";
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
	const draftKey = "new-unit";
	let name = String((await drafts.get(draftKey).catch(() => "")) ?? "");
	const add = async () => {
		const problem = nameProblem(name);
		field.setProblem(problem);
		if (problem) return field.input.focus();
		const id = await addUnit(name).catch(() => null);
		if (!id)
			return field.setProblem({
				field: "name",
				problem: "the phone has no room to keep it",
				limit: "some free storage",
				do: "Free some room and add it again.",
			});
		await drafts.put(draftKey, undefined);
		ctx.go(address("unit", id));
	};
	const field = textField({
		label: "Name or number of the distributor",
		name: "unit-name",
		value: name,
		onEnter: add,
		onInput: (text) => {
			name = text;
			field.setProblem(text.trim() === "" ? null : nameProblem(text));
			drafts.put(draftKey, text);
		},
	});
	return fold(
		"garage/unit",
		{ title: "A distributor without a car", class: "add-unit", isOpen: name !== "" },
		field.element,
		button("Take it on the bench", add),
	);
}
