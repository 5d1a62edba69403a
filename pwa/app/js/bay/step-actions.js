// The one next thing of a step, with the way back beside it.

import { garage } from "../kept/garage.js";
import { complete } from "../record/sheet.js";
import { h } from "../kit/dom.js";
import { button, nextButton } from "../kit/field.js";
import { mark } from "../kit/mark.js";
import { doneLabel } from "./step-view.js";
import { pageAddress } from "./step-way.js";
import { blockedBox } from "../safety/restore-list.js";

const firstReadings = "Take the readings";

/** @param {import("./large-step.js").Runner} runner @returns {import("../kit/dom.js").Child[]} */
export function stepActions(runner) {
	const { step, car } = runner;
	const stop = runner.blocked();
	const back = runner.at > 0 ? backButton(runner, stop ? " Back one step" : "Back") : null;
	if (stop) return [blockedBox(car, stop, () => runner.draw()), back];
	if (runner.readsFirst()) return [back, nextButton("Read: now enter it", () => runner.begins())];
	const next = () => runner.next();
	if (step.readings && runner.outcome === null && readingsLabel(runner) === firstReadings)
		// one thing to do next: read
		return [nextButton(firstReadings, () => runner.openReadings()), back, button("Read already: next step", next)];
	const page = step.readings
		? button(readingsLabel(runner), () => runner.openReadings(), "to-readings")
		: step.page
			? button(step.page.label, pageAddress(car, step.page.name), "to-readings")
			: null;
	return [page, back, nextButton(runner.isLast ? "Finished" : doneLabel(step), next)];
}

/** @param {import("./large-step.js").Runner} runner @param {string} label */
const backButton = (runner, label) =>
	h(
		"button",
		{
			type: "button",
			class: "button step-back",
			"aria-label": "Back one step",
			on: { click: () => runner.back() },
		},
		mark("back"),
		label,
	);

/** @param {import("./large-step.js").Runner} runner */
function readingsLabel({ run, step }) {
	const [visit, set] = run.sets?.[step.readings ?? ""]?.split("/") ?? [];
	const found = visit
		? /** @type {Doc<Visit> | null} */ (garage.get("visit", visit))?.body.sets.find(({ id }) => id === set)
		: null;
	const count = found ? complete(found).length : 0;
	return count ? `Go on reading: ${count} taken` : firstReadings;
}
