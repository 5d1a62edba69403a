// Readings: the visits of a car, or one set of readings being taken.

import { garage } from "../kept/garage.js";
import { drafts } from "../kept/drafts.js";
import { wantedIn, wantedTaken } from "../record/next-reading.js";
import { enoughReadings, judgedSets } from "../record/judged-sets.js";
import { runName, runsOf } from "../record/runs.js";
import { complete } from "../record/sheet.js";
import { notedWords } from "../record/visit-facts.js";
import { dayName, placeName, startSet, updateSet } from "../record/visits.js";
import { button, nextButton } from "../kit/field.js";
import { whenAllowed } from "./engine-stop.js";
import { readingEntry } from "./reading-entry.js";
import { readingStart } from "./reading-start.js";
import { trouble } from "../kit/caution.js";
import { mark } from "../kit/mark.js";
import { offerUndo } from "../kit/undo-bar.js";
import { fill, h } from "../kit/dom.js";
import { address } from "../kit/address.js";
import { inEnglish } from "../kit/words.js";

/** @typedef {"bench" | "car"} Place */

const bothPlaces = /** @type {Place[]} */ (["bench", "car"]);
const placesOfUnit = /** @type {Place[]} */ (["bench"]);

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	if (ctx.params.visit) return showVisit(root, ctx);
	const car = /** @type {Doc<Car>} */ (ctx.car);
	const taken = h("div");
	const draw = () => fill(taken, visitList(car)); // never the buttons: one may be under the finger
	draw();
	const figures = button("Readings from a file", address("car", car.id, "figures"));
	fill(root, start(car, ctx), figures, taken);
	ctx.signal.addEventListener("abort", garage.on("change", draw));
}

/** @param {Doc<Car>} car @param {PageContext} ctx */
function start(car, ctx) {
	/** @param {Place} place */
	const begin = async (place) => {
		const { visit, set } = await startSet(car, place);
		ctx.go(address("car", car.id, "readings", visit, set));
	};
	const places = /** @type {const} */ ({ bench: "Measure on the bench", car: "Measure on the car, by strobe" });
	const wanted = unreadPlace(car);
	return h(
		"section",
		null,
		wanted
			? null
			: [
					h("p", { class: "lead" }, "Enough is read for a verdict."),
					nextButton("Read the verdict", address("car", car.id, "verdict")),
				],
		h("p", { class: "lead" }, `${wanted ? "Take" : "Or take"} the book’s speeds, rising, then falling.`),
		(car.isUnit ? placesOfUnit : bothPlaces).map((place) =>
			(place === wanted ? nextButton : button)(places[place], () => begin(place)),
		),
	);
}

/** Where too little is read yet to judge the curve, the bench first; "": nowhere. @param {Doc<Car>} car */
function unreadPlace(car) {
	const visits = garage.visits({ carId: car.id });
	return (car.isUnit ? placesOfUnit : bothPlaces).find((place) => {
		const judged = judgedSets(visits, place);
		return !judged || complete(judged.main).length < enoughReadings;
	});
}

/** @param {Doc<Car>} car */
function visitList(car) {
	const visits = garage.visits({ carId: car.id });
	if (visits.length === 0) return null;
	const runs = runsOf(visits);
	return [
		h("h2", null, "Taken so far"),
		h(
			"ul",
			{ class: "ruled", role: "list" },
			visits.map((visit) =>
				h(
					"li",
					{ class: "visit" },
					h(
						"p",
						{ class: "visit-head" },
						h("strong", null, dayName(visit.body.date)),
						visit.body.title ? ` · ${visit.body.title}` : null,
					),
					visit.body.notes ? h("p", { class: "note" }, visit.body.notes) : null,
					notedWords(visit.body)
						? h("p", { class: "note" }, `Also noted that day: ${notedWords(visit.body)}.`)
						: null,
					visit.body.sets
						.filter((set) => !set.removed)
						.map((set) =>
							h(
								"a",
								{ class: "set-line", href: address("car", car.id, "readings", visit.id, set.id) },
								inEnglish(
									[placeName(set), runName(runs, set.id), countOf(set)].filter(Boolean).join(" · "),
								),
								mark("next"),
							),
						),
				),
			),
		),
	];
}

/** @param {string} visit @param {VisitSet} set */
async function removeSet(visit, set) {
	await updateSet(visit, set.id, (found) => {
		found.removed = true;
	});
	offerUndo(`${countOf(set).replace(/^n/, "N")} ${placeName(set).toLowerCase()}: removed.`, () =>
		updateSet(visit, set.id, (found) => {
			delete found.removed;
		}).then(() => {}),
	);
}

/** @param {HTMLElement} root @param {PageContext} ctx */
async function showVisit(root, ctx) {
	const visit = ctx.visits.find(({ id }) => id === ctx.params.visit) ?? null;
	const sets = visit?.body.sets.filter((set) => !set.removed) ?? [];
	const set = ctx.params.set ? sets.find(({ id }) => id === ctx.params.set) : sets[0];
	if (!visit || !set) {
		return fill(
			root,
			trouble({ title: "These readings are not on this phone", do: "Go back to the list of readings." }),
		);
	}
	const car = /** @type {Doc<Car>} */ (ctx.car);
	const stageKey = `stage/${set.id}`;
	const stage = (await drafts.get(stageKey)) ?? (complete(set).length > 0 ? "entry" : "start");
	/** @param {"start" | "entry"} next */
	const go = async (next) => {
		await drafts.put(stageKey, next);
		await draw(next);
		scrollTo(0, 0);
	};
	/** @param {string} at */
	const draw = async (at) => {
		const onProved = (await wantedIn(set.id))?.isStatic
			? (/** @type {boolean} */ isProved) =>
					wantedTaken(set.id).finally(() =>
						isProved ? ctx.go(address("car", car.id, "verdict")) : draw("start"),
					)
			: null;
		if (at === "start")
			return readingStart(root, {
				visit: visit.id,
				setId: set.id,
				car,
				signal: ctx.signal,
				onBegin: () => go("entry"),
				onProved,
				end: removal(ctx, visit, set),
			});
		const enter = () =>
			readingEntry(root, {
				ctx,
				visit: visit.id,
				setId: set.id,
				onChangeFacts: () => go("start"),
				end: removal(ctx, visit, set),
			});
		return set.place === "bench" ? enter() : whenAllowed(root, car, enter);
	};
	await draw(stage);
}

/**
 * Removing is rare: it stands far from what is tapped often. The list says it is gone, and undoes it.
 * @param {PageContext} ctx @param {Doc<Visit>} visit @param {VisitSet} set
 */
const removal = (ctx, visit, set) =>
	button("Remove this set", () => {
		addEventListener("hashchange", () => removeSet(visit.id, set), { once: true });
		ctx.go(address("car", ctx.params.car, "readings"));
	});

/** How many readings a set has, in words. @param {VisitSet} set */
function countOf(set) {
	const count = complete(set).length;
	return count === 1 ? "1 reading" : `${count || "no"} readings`;
}
