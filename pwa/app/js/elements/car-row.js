// One car in the garage's list.

import { duplicateCar, nameProblem } from "../data/cars.js";
import { garage } from "../data/garage.js";
import { jobOf } from "../data/job.js";
import { lastVerdict } from "../data/last-verdict.js";
import { fill, h } from "../lib/dom.js";
import { address } from "../lib/routes.js";
import { button, nextButton, textField } from "./field.js";
import { verdictMark } from "./marks.js";

/**
 * carRow gives the list item: name, verdict, what comes next, and the rarer
 * actions folded away.
 * @param {Doc<Car>} car
 * @param {{isNext: boolean, onRemove: (car: Doc<Car>) => void, go: (hash: string) => void}} options
 */
export function carRow(car, { isNext, onRemove, go }) {
	const distributor = garage.get("distributor", car.body.distributorId);
	const { next } = jobOf(car, distributor, garage.visits({ carId: car.id }));
	const verdict = h("p", { class: "verdict-line" });
	lastVerdict(car).then((found) => {
		if (found) fill(verdict, h("span", { class: "verdict-word" }, verdictMark(found.verdict)), found.summary ? h("span", { class: "note" }, " ", found.summary) : null);
	});
	return h("li", { class: "car-row", "data-car": car.id },
		h("a", { class: "car-link", href: address("car", car.id) },
			h("span", { class: "car-row-name" }, car.body.name), car.body.demo ? h("span", { class: "stamp" }, "invented") : null,
			car.body.owner ? h("span", { class: "note" }, car.body.owner) : null),
		verdict,
		isNext ? nextButton(next.action, next.href) : h("p", { class: "row-next" }, "Next: ", h("a", { href: next.href }, next.action.toLowerCase())),
		more(car, onRemove, go));
}

/** @param {Doc<Car>} car @param {(car: Doc<Car>) => void} onRemove @param {(hash: string) => void} go */
function more(car, onRemove, go) {
	let name = car.body.name;
	const half = `rename/${car.id}`; // half typed, it outlives the app
	const rename = textField({
		label: "Rename", name: "rename", value: name, onInput: (text) => {
			name = text;
			rename.setProblem(nameProblem(text));
			garage.setDraft(half, text);
		},
		onEnter: () => keep(),
	});
	const keep = async () => {
		const problem = nameProblem(name);
		rename.setProblem(problem);
		if (problem) return;
		await garage.update("car", car.id, (body) => { body.name = name.trim(); });
		await garage.setDraft(half, undefined);
	};
	const details = h("details", { class: "more" },
		h("summary", null, "More", h("span", { class: "vh" }, ` for ${car.body.name}: rename, copy, remove`)),
		rename.element, button("Keep this name", keep),
		button("Make a copy without readings", async () => { const id = await duplicateCar(car.id); if (id) go(address("car", id)); }),
		button("Remove from the garage", () => onRemove(car)));
	garage.draft(half).then((text) => {
		if (!text || text === car.body.name) return;
		name = rename.input.value = text;
		details.open = true;
	}).catch(() => {});
	return details;
}
