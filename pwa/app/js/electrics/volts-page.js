// Volts along the feed: a walk with the meter from the battery to the points
// and back, on a drawing of this car. The guilty stretch is named.

import { engineState, onState } from "../engine/client.js";
import { electricsOf, unitDocuments } from "../record/car-electrics.js";
import { stalledHeat } from "./spark.js";
import { placesOf, supplyIn, turnedRound } from "./supply.js";
import { beginAnew, factsOf, keepFact, workedOn } from "../record/visit-facts.js";
import { dayName, today } from "../record/visits.js";
import { garage } from "../kept/garage.js";
import { drafts } from "../kept/drafts.js";
import { carQuestions } from "./car-questions.js";
import { caution, trouble } from "../kit/caution.js";
import { circuit } from "./circuit.js";
import { watchButton } from "../safety/coil-watch-bar.js";
import { button, choice } from "../kit/field.js";
import { findings, questions } from "../kit/finding/findings.js";
import { heroWord } from "../kit/finding/hero-word.js";
import { working } from "../kit/finding/working.js";
import { coilWatch } from "../safety/coil-watch.js";
import { fill, h } from "../kit/dom.js";
import { inPlace } from "../kit/hold-still.js";
import { onward } from "../kit/onward.js";
import { firstAnswer } from "../kit/first-answer.js";
import { fold } from "../kit/fold.js";
import { num } from "../kit/format.js";
import { latestOnly } from "../kit/latest-only.js";
import { address } from "../kit/address.js";
import { inEnglish } from "../kit/words.js";
import { ask } from "../engine/ask.js";
import { signDoubt, voltsDoubt } from "./doubts.js";

/** @typedef {import("./supply.js").State} State */

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	const carId = ctx.params.car;
	const draftKey = `volts/${carId}`;
	const state = {
		at: /** @type {State} */ (
			(await drafts.get(draftKey).catch(() => null))?.state === "cranking" ? "cranking" : "closed"
		),
	};
	const draw = () => {
		const { car, facts } = unitDocuments(carId);
		const electrics = electricsOf(facts.car, facts.distributor);
		const asked = carQuestions(car, ["voltage", "earth", "ballast"], draw);
		if (asked) return fill(root, h("p", { class: "lead" }, lead), asked);
		if (electrics.nominalV === null || electrics.earth === null || electrics.ballasted === null)
			return fill(root, oddFacts(carId));
		return walk(
			root,
			ctx,
			{ ...electrics, nominalV: electrics.nominalV, earth: electrics.earth, ballasted: electrics.ballasted },
			state,
			draw,
			() => drafts.put(draftKey, { state: state.at }).catch(() => {}),
		);
	};
	await firstAnswer(Promise.resolve(draw()));
}

const lead =
	"Half a volt lost in a switch looks like a bad coil. Go from the battery to the points with the meter. The part that loses most is the faulty one.";

/** @param {import("./supply.js").Place[]} places @param {State} at @param {Facts} facts of the volts */
function whatIsMissing(places, at, facts) {
	const isRead = (/** @type {import("./supply.js").Place} */ { id }) => Boolean(facts[`${at}.${id}`]?.value.trim());
	if (!places.some(isRead)) return lead;
	const missing = places.findIndex((place) => !isRead(place));
	return missing < 0
		? lead
		: `Measure ${missing + 1}. ${places[missing].name} next: every loss is counted from place 1.`;
}

/** @param {string} carId */
function oddFacts(carId) {
	return trouble(
		{
			title: "System voltage, earth or ballast under Facts cannot be used here",
			detail: "This page knows 6 and 12 V, positive and negative earth.",
			do: "Correct them under Facts.",
		},
		h("a", { class: "button next", href: address("car", carId, "facts") }, "Correct the facts"),
	);
}

/**
 * @param {HTMLElement} root
 * @param {PageContext} ctx
 * @param {import("../record/car-electrics.js").Electrics & {nominalV: 6 | 12, earth: "positive" | "negative",
 *   ballasted: boolean}} electrics
 * @param {{at: State}} state @param {() => void} again draws the page anew @param {() => void} keepState
 */
function walk(root, ctx, electrics, state, again, keepState) {
	const carId = ctx.params.car;
	const { car, visits, facts } = unitDocuments(carId);
	const now = () => factsOf(garage.visits({ carId }), "volts");
	const hero = h("div", { class: "room-hero", "aria-live": "polite" });
	const found = h("div");
	const next = onward();
	const places = placesOf(electrics.ballasted, state.at);
	const measured = places.filter(({ id }) => now()[`${state.at}.${id}`]?.value).length;
	const drawing = circuit({
		places,
		electrics,
		factOf: (place) => now()[`${state.at}.${place}`],
		check: (place, value) => {
			const isOdd = turnedRound(electrics.ballasted, state.at, (id) =>
				id === place ? value : (now()[`${state.at}.${id}`]?.value ?? ""),
			).has(place);
			return isOdd ? signDoubt(value) : voltsDoubt(value, electrics.nominalV, state.at === "cranking");
		},
		onChange: (place, change) => {
			keepFact(car, "volts", `${state.at}.${place}`, change);
			refresh();
		},
	});
	const refresh = latestOnly(
		async () => {
			const input = supplyIn(electrics, state.at, now(), facts.car);
			const judged = input ? /** @type {SupplyJudgement} */ (await ask("supply.judge", input)) : null;
			if (ctx.signal.aborted) return;
			drawing.show(judged);
			inPlace(root, () => {
				fill(hero, judged ? heroOf(judged) : h("p", { class: "lead" }, whatIsMissing(places, state.at, now())));
				if (judged?.verdict === "pass" && !coilWatch.now())
					next.to("Next: the points", address("car", carId, "points"));
				else next.to();
				offer.hidden = next.element.hasChildNodes();
			});
			fill(found, judged ? foundOf(judged) : null);
		},
		(problem) => {
			drawing.show(null);
			fill(hero, trouble(problem));
		},
	);
	const offer =
		state.at === "closed"
			? watchButton(car.body.name, "volts along the feed", ctx.signal, { isNext: true })
			: h("div");
	ctx.signal.addEventListener("abort", coilWatch.on(refresh));
	ctx.signal.addEventListener("abort", onState(refresh));
	const before = workedOn(visits, "volts");
	fill(
		root,
		hero,
		next.element,
		stateChoice(state, () => {
			keepState();
			again();
		}),
		care(state.at, electrics, facts.car),
		offer,
		placeByPlace(drawing.element, measured, places.length),
		found,
		before ? h("p", { class: "note" }, `These figures belong to the visit of ${dayName(before.body.date)}.`) : null,
		before
			? button(
					before.body.date === today()
						? "Measure again after a repair: a new set"
						: "Start a new set today; the old figures stay in their visit",
					() => {
						beginAnew(car, "volts");
						again();
						scrollTo(0, 0);
					},
				)
			: null,
	);
	fill(hero, h("p", { class: "lead" }, lead));
	if (engineState() !== "ready")
		// below the fields, which are not to move when it has
		fill(found, h("p", { class: "note" }, "The engine is starting. Enter volts meanwhile: everything is saved."));
	drawing.show(null);
	return refresh();
}

/** @param {SupplyJudgement} judged */
const foundOf = ({ ask: asked, findings: list }) => [
	questions(asked),
	list.length ? fold("volts/found", { title: "What is found" }, findings(list)) : null,
];

/** It stands open until half is measured. @param {HTMLElement} circuit @param {number} measured @param {number} all */
const placeByPlace = (circuit, measured, all) =>
	fold(
		"volts/places",
		{ title: "Place by place", answer: `${measured} of ${all} measured`, isOpen: 2 * measured < all },
		circuit,
	);

/** @param {{at: State}} state @param {() => void} changed */
function stateChoice(state, changed) {
	return choice({
		label: "Measured with",
		name: "state",
		value: state.at,
		isRow: false,
		onChange: (value) => {
			state.at = value;
			changed();
		},
		options: [
			{
				value: "closed",
				label: "ignition on, points closed",
				note: "engine still; current flows, so every drop shows",
			},
			{
				value: "cranking",
				label: "the starter turning",
				note: "battery to coil only; shows battery, clamps and the starting bypass",
			},
		],
	}).element;
}

/**
 * @param {State} at
 * @param {import("../record/car-electrics.js").Electrics & {nominalV: 6 | 12}} electrics
 * @param {Facts} car
 */
function care(at, electrics, car) {
	if (at === "cranking") {
		return caution("before cranking", [
			"Handbrake on, out of gear, wheels chocked, clear of fan and belts. Someone at the key who knows how to stop it.",
			"Coil lead off the cap and on earth, so that it does not start; dry hands, hold no lead.",
			"No smoking: battery gas and fuel vapour burn.",
		]);
	}
	const { watts, isUsual } = stalledHeat(electrics, car);
	const [what, hot] = electrics.ballasted
		? ["Coil and ballast heat", "The ballast gets hot enough to burn a finger."]
		: ["The coil heats", "It gets hot enough to burn a finger."];
	return caution("before the ignition is on with the engine still", [
		`${what} up with about ${num(watts, 0)} watts${isUsual ? " (usual ohms; this car’s are not measured)" : ""}: one to two minutes at most (common practice), then off. ${hot}`,
		"The points have to be closed. Before turning the engine: ignition off, plugs out, out of gear, clear of the spanner.",
		"An electric fan may start by itself. No tools across battery posts; rings and watches off.",
	]);
}

/** @param {SupplyJudgement} judged */
function heroOf(judged) {
	const current = `Current${judged.currentA === null ? " " : ": "}${judged.currentBy}.`;
	return h(
		"section",
		{ class: `hero is-${judged.verdict}`, "aria-labelledby": "hero-word" },
		heroWord("The feed", judged.verdict),
		h("p", { class: "hero-summary" }, inEnglish(judged.summary)),
		h("p", { class: "note" }, current),
		working("the volts", judged.working, judged.sources),
	);
}
