// The time line of a car or a distributor: what was done, read and found, day
// by day, the newest first.

import { garage } from "../kept/garage.js";
import { runsOf } from "../record/runs.js";
import { complete } from "../record/sheet.js";
import { dayName, placeName } from "../record/visits.js";
import { notedWords } from "../record/visit-facts.js";
import { followGarage } from "../kept/follow.js";
import { address } from "../kit/address.js";
import { trouble } from "../kit/caution.js";
import { fill, h } from "../kit/dom.js";
import { nextButton } from "../kit/field.js";
import { mark } from "../kit/mark.js";
import { inEnglish } from "../kit/words.js";

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	const id = ctx.params.car;
	const [head, days] = [h("div"), h("div")];
	fill(root, head, days);
	let drawn = "";
	await followGarage(ctx.signal, async () => {
		const visits = garage.visits({ carId: id });
		const now = JSON.stringify(visits);
		if (now === drawn) return;
		drawn = now;
		const runs = runsOf(visits);
		fill(head, runs.length > 1 ? nextButton("Before and after", address("car", id, "compare")) : null);
		fill(days, timeLine(id, visits, runs));
	});
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
	if (!work.length && !read.length && !noted && !body.notes) return null;
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
		),
		body.notes ? h("p", { class: "note" }, body.notes) : null,
		noted ? h("p", { class: "note" }, inEnglish(`Measured: ${noted}.`)) : null,
		work.map(({ what, verdict, odometer }) =>
			h(
				"p",
				null,
				verdict && verdict !== "unknown" ? [mark(verdict), " "] : null,
				inEnglish(what),
				odometer ? h("span", { class: "note" }, ` at ${odometer} miles`) : null,
			),
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
	);
}
