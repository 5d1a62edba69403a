// One car in the garage's list.

import { duplicateCar } from "./cars.js";
import { garage } from "../kept/garage.js";
import { drafts } from "../kept/drafts.js";
import { jobOf } from "../job/job.js";
import { beingLookedAt, stateLine } from "../state/state-line.js";
import { fill, h } from "../kit/dom.js";
import { address } from "../kit/address.js";
import { button, nextButton, textField } from "../kit/field.js";
import { firstAnswer } from "../kit/first-answer.js";
import { breath } from "../kit/platform.js";
import { nameProblem } from "../kept/car-name.js";

/**
 * carRow gives the list item: name, verdict, what comes next, and the rarer
 * actions folded away.
 * @param {Doc<Car>} car
 * @param {{isNext: boolean, onRemove: (car: Doc<Car>) => void, go: (hash: string) => void}} options
 */
export function carRow(car, { isNext, onRemove, go }) {
	const distributor = garage.get("distributor", car.body.distributorId);
	const { steps, next } = jobOf(car, distributor, garage.visits({ carId: car.id }));
	const isJudged = steps.some(({ name, state }) => name === "readings" && state === "done");
	const verdict = h(
		"p",
		{ class: "verdict-line", "aria-busy": isJudged ? "true" : null },
		// its place is kept, so that nothing moves when the answer comes
		isJudged ? beingLookedAt() : null,
	);
	const onward = h("div");
	/** @param {{label: string, href: string} | null} to */
	const say = (to) =>
		fill(
			onward,
			to
				? isNext
					? nextButton(to.label, to.href)
					: h("p", { class: "row-next" }, "Next: ", h("a", { href: to.href }, to.label.toLowerCase()))
				: null,
		);
	say({ label: next.action, href: next.href });
	// what judges comes after the first screen: it is as large as all the rest of it
	inTurn(async () => {
		const { standAndNext } = await import("../job/next-step.js");
		const { state, next: now } = await standAndNext(car);
		verdict.removeAttribute("aria-busy");
		fill(verdict, state ? stateLine(state) : null);
		say(now);
	});
	return h(
		"li",
		{ class: "car-row", "data-car": car.id },
		h(
			"a",
			{ class: "car-link", href: address("car", car.id) },
			h("span", { class: "car-row-name" }, car.body.name),
			car.body.demo ? h("span", { class: "stamp" }, "demo") : null,
			car.body.owner ? h("span", { class: "note" }, car.body.owner) : null,
		),
		verdict,
		onward,
		more(car, onRemove, go),
	);
}

/** @type {Promise<unknown>} */
let turn = Promise.resolve();

/**
 * Cars are judged one after the other, the first first, so that the page hears a finger in between; one that takes long
 * holds up nobody.
 * @param {() => Promise<void>} judge
 */
function inTurn(judge) {
	turn = turn.then(breath).then(() => firstAnswer(judge().catch(() => {})));
}

/** @param {Doc<Car>} car @param {(car: Doc<Car>) => void} onRemove @param {(hash: string) => void} go */
function more(car, onRemove, go) {
	let name = car.body.name;
	const half = `rename/${car.id}`; // half typed, it outlives the app
	const rename = textField({
		label: "Rename",
		name: "rename",
		value: name,
		onInput: (text) => {
			name = text;
			rename.setProblem(nameProblem(text));
			drafts.put(half, text);
		},
		onEnter: () => keep(),
	});
	const keep = async () => {
		const problem = nameProblem(name);
		rename.setProblem(problem);
		if (problem) return;
		await garage.update("car", car.id, (body) => {
			body.name = name.trim();
		});
		await drafts.put(half, undefined);
	};
	const details = h(
		"details",
		{ class: "more" },
		h("summary", null, "More", h("span", { class: "vh" }, ` for ${car.body.name}: rename, copy, remove`)),
		rename.element,
		button("Keep this name", keep),
		button("Make a copy without readings", async () => {
			const id = await duplicateCar(car.id);
			if (id) go(address("car", id));
		}),
		button("Remove from the garage", () => onRemove(car)),
	);
	drafts
		.get(half)
		.then((text) => {
			if (!text || text === car.body.name) return;
			name = rename.input.value = text;
			details.open = true;
		})
		.catch(() => {});
	return details;
}
