// The time line of a car or a distributor: what was done, read and found, day
// by day, the newest first.

import { baseInput, dwellInput } from "./drift.js";
import { ask } from "../engine/ask.js";
import { garage } from "../kept/garage.js";
import { distanceField, milesOf } from "../electrics/clock-distance.js";
import { photoCount, shownPhotos } from "../record/photos/visit-photos.js";
import { runsOf } from "../record/runs.js";
import { complete } from "../record/sheet.js";
import { dayName, placeName, today } from "../record/visits.js";
import { notedWords } from "../record/visit-facts.js";
import { followGarage } from "../kept/follow.js";
import { address } from "../kit/address.js";
import { trouble } from "../kit/caution.js";
import { fill, h } from "../kit/dom.js";
import { nextButton, problemLine } from "../kit/field.js";
import { working } from "../kit/finding/working.js";
import { mark } from "../kit/mark.js";
import { inEnglish } from "../kit/words.js";

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	const id = ctx.params.car;
	const [head, days, drift] = [h("div"), h("div"), h("div")];
	const car = /** @type {Doc<Car>} */ (ctx.car);
	fill(root, head, days, car.isUnit ? null : [h("h2", null, "How it drifts"), drift, distanceField(car).element]);
	let drawn = "";
	await followGarage(ctx.signal, async () => {
		const visits = garage.visits({ carId: id });
		const now = JSON.stringify(visits);
		if (now === drawn) return;
		drawn = now;
		const runs = runsOf(visits);
		fill(head, runs.length > 1 ? nextButton("Before and after", address("car", id, "compare")) : null);
		fill(days, timeLine(id, visits, runs));
		if (!car.isUnit) fill(drift, await drifts(id, visits));
	});
}

/**
 * How dwell and base drift, and when they are due.
 * @param {string} id @param {Doc<Visit>[]} visits
 */
async function drifts(id, visits) {
	const car = /** @type {Doc<Car>} */ (garage.get("car", id));
	const given = { car, distributor: garage.get("distributor", car.body.distributorId), answers: {} };
	const inputs = [dwellInput(given, visits, today()), baseInput(given, visits, today())].filter(
		(one) => one !== null,
	);
	if (!inputs.length)
		return h(
			"p",
			{ class: "note" },
			"Read dwell or static timing again on another day: the drift stands here then.",
		);
	return Promise.all(inputs.map(drift));
}

/** @param {import("./drift.js").DriftInput} input */
async function drift(input) {
	const title = input.what === "dwell" ? "Dwell" : "Static timing";
	const name = input.what === "dwell" ? "the dwell" : "static timing";
	try {
		const answer = await ask("record.drift", input);
		return [
			h("h3", null, title),
			h("p", { role: "status" }, inEnglish(answer.text)),
			answer.notes.map((/** @type {string} */ note) => h("p", { class: "note" }, inEnglish(note))),
			working(`the drift of ${name}`, answer.working, answer.sources),
		];
	} catch (problem) {
		return [h("h3", null, title), problemLine(/** @type {Problem} */ (problem))];
	}
}

/** @param {string} id @param {Doc<Visit>[]} visits newest first @param {import("../record/runs.js").Run[]} runs */
function timeLine(id, visits, runs) {
	const days = visits.map((visit) => day(id, visit, runs)).filter((one) => one !== null);
	if (!days.length)
		return [
			trouble({ title: "Nothing yet", do: "Read it, or note work on it: it stands here then, day by day." }),
			nextButton("To the readings", address("car", id, "readings")),
		];
	return [h("h2", null, "Day by day"), h("ul", { class: "ruled", role: "list" }, days)];
}

/** @param {string} id @param {Doc<Visit>} visit @param {import("../record/runs.js").Run[]} runs */
function day(id, { id: visitId, body }, runs) {
	const work = (body.events ?? []).filter(({ removed, what }) => !removed && what);
	const read = runs.filter(({ visit }) => visit.id === visitId);
	const noted = notedWords(body);
	const miles = milesOf(body);
	const photos = shownPhotos(body).length;
	if (!work.length && !read.length && !noted && !body.notes && !photos) return null;
	const where = garage.isUnit(id) && body.carId ? garage.get("car", body.carId)?.body.name : "";
	return h(
		"li",
		{ class: "visit" },
		h(
			"p",
			{ class: "visit-head" },
			h("strong", null, dayName(body.date)),
			body.title ? ` · ${body.title}` : null,
			where ? ` · in ${where}` : null,
			miles === null ? null : ` · ${Math.round(miles)} miles`,
		),
		body.notes ? h("p", { class: "note" }, body.notes) : null,
		noted ? h("p", { class: "note" }, inEnglish(`Measured: ${noted}.`)) : null,
		work.map(({ what, verdict }) =>
			h("p", null, verdict && verdict !== "unknown" ? [mark(verdict), " "] : null, inEnglish(what)),
		),
		read.map(({ set, name }) =>
			h(
				"a",
				{ class: "set-line", href: address("car", id, "readings", visitId, set.id) },
				inEnglish(
					[
						placeName(set),
						name,
						`${complete(set).length || "no"} reading${complete(set).length === 1 ? "" : "s"}`,
					]
						.filter(Boolean)
						.join(" · "),
				),
				mark("next"),
			),
		),
		photos
			? h("a", { class: "set-line", href: address("car", id, "photos") }, photoCount(photos), mark("next"))
			: null,
	);
}
