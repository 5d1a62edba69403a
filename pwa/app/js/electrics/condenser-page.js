// The condenser: measured, seen and judged; what its size does to the spark and
// to the points, and which contact is said to build up metal on this car.

import { engineState, onState } from "../engine/client.js";
import { condenserFigures, condenserIn, condenserLooks, ownSizeKeys } from "./condenser.js";
import { electricsOf, keepFactOf, unitDocuments } from "../record/car-electrics.js";
import { garage } from "../kept/garage.js";
import { checkDoubt } from "../condition/check-doubts.js";
import { beginAnew, factsOf, keepFact, text, workedOn } from "../record/visit-facts.js";
import { dayName, today } from "../record/visits.js";
import { carQuestions } from "./car-questions.js";
import { caution, trouble } from "../kit/caution.js";
import { condenserEffects, condenserPlate, condenserTable } from "./condenser-size.js";
import { button, choice } from "../kit/field.js";
import { findings } from "../kit/finding/findings.js";
import { heroWord } from "../kit/finding/hero-word.js";
import { verdictMark } from "../kit/mark.js";
import { measuredField } from "../kit/measured-field.js";
import { notYet } from "../kit/finding/not-yet.js";
import { working } from "../kit/finding/working.js";
import { fill, h } from "../kit/dom.js";
import { inPlace } from "../kit/hold-still.js";
import { onward } from "../kit/onward.js";
import { firstAnswer } from "../kit/first-answer.js";
import { fold } from "../kit/fold.js";
import { parse, short } from "../kit/format.js";
import { latestOnly } from "../kit/latest-only.js";
import { address } from "../kit/address.js";
import { inEnglish } from "../kit/words.js";
import { ask } from "../engine/ask.js";

const lead =
	"The condenser sits across the points. Too small: they burn. Too large: the spark is weak. Leaking: the engine stops when hot.";

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	const carId = ctx.params.car;
	const draw = () => {
		const { car, facts } = unitDocuments(carId);
		const electrics = electricsOf(facts.car, facts.distributor);
		if (electrics.electronic)
			return fill(
				root,
				notYet(
					"No condenser at work",
					"An electronic trigger switches the coil itself. A condenser left on the coil is for the radio only.",
					{ href: address("car", carId, "readings"), label: "Next: readings" },
				),
			);
		const asked = carQuestions(car, ["voltage", "earth"], draw);
		if (asked) return fill(root, h("p", { class: "lead" }, lead), asked);
		if (electrics.nominalV === null)
			return fill(
				root,
				trouble(
					{
						title: "The system voltage cannot be used",
						limit: "6 or 12 V",
						do: "Correct it under Facts.",
					},
					h("a", { class: "button next", href: address("car", carId, "facts") }, "Correct the facts"),
				),
			);
		return bench(root, ctx, draw);
	};
	await firstAnswer(Promise.resolve(draw()));
}

/** @param {HTMLElement} root @param {PageContext} ctx @param {() => void} again */
function bench(root, ctx, again) {
	const carId = ctx.params.car;
	const { car, visits } = unitDocuments(carId);
	const now = () => factsOf(garage.visits({ carId }), "check");
	const hero = h("div", { class: "room-hero", "aria-live": "polite" }, nothingYet());
	const starting =
		engineState() === "ready"
			? null
			: // below the fields, which are not to move when it has
				h("p", { class: "note" }, "The engine is starting. Enter figures meanwhile: everything is saved.");
	const rooms = { root, hero, found: h("div", null, starting), sizes: h("div"), next: onward() };
	const refresh = latestOnly(
		async () => {
			const { facts } = unitDocuments(carId);
			const input = condenserIn(electricsOf(facts.car, facts.distributor), facts.car, now());
			const judged = input ? /** @type {CondenserJudgement} */ (await ask("condenser.judge", input)) : null;
			if (!input && engineState() === "ready") starting?.remove();
			if (judged && !ctx.signal.aborted) tell(rooms, carId, judged, parse(text(now(), "B15.capacity")));
		},
		(problem) => fill(hero, trouble(problem)),
	);
	const keep = (/** @type {string} */ key, /** @type {Partial<Fact>} */ change) => {
		keepFact(car, "check", key, change);
		refresh();
	};
	const before = workedOn(visits, "check");
	fill(
		root,
		hero,
		rooms.next.element,
		care(),
		measured(car, now, keep),
		ownSize(car, refresh),
		rooms.found,
		rooms.sizes,
		button("All condition checks", address("car", carId, "condition")),
		before && before.body.date !== today()
			? h(
					"p",
					{ class: "note after-form" },
					`These figures belong to the visit of ${dayName(before.body.date)}; typing corrects them there.`,
				)
			: null,
		before && before.body.date !== today()
			? button("Start a new set today; the old figures stay in their visit", () => {
					beginAnew(car, "check");
					again();
					scrollTo(0, 0);
				})
			: null,
	);
	ctx.signal.addEventListener("abort", onState(refresh));
	return refresh();
}

const nothingYet = () => [
	h(
		"p",
		{ class: "verdict-line" },
		h("span", { class: "verdict-word" }, verdictMark("unknown")),
		h("span", { class: "note" }, " Nothing is measured yet."),
	),
	h("p", { class: "lead" }, lead),
];

function care() {
	return caution("before the condenser is touched", [
		"It stores a charge. Ignition off, then short its lead to its case before you touch it. Do so again after every test at high volts.",
		"Never crank with the coil lead hanging loose. High tension jumps far and throws the hand. With a pacemaker, stay away from a live ignition.",
		"Do not open old ones: their oil may hold PCB, a poison. Warm one with a hair dryer, never a flame. (From memory.)",
	]);
}

/** @param {Doc<Car>} car @param {() => Facts} now @param {(key: string, change: Partial<Fact>) => void} keep */
function measured(car, now, keep) {
	const book = car.body.facts.condenser;
	const said = book?.value.trim()
		? `The facts of this car say ${book.value.trim()} ${book.unit} (${book.source || "source not given"}). `
		: "";
	return h(
		"section",
		null,
		h("h2", null, "What was measured and seen"),
		condenserFigures.map(
			({ id, unit, label, note, most }) =>
				measuredField({
					label,
					name: id,
					units: [unit],
					fact: now()[id],
					note: id === "B15.capacity" ? said + note : note,
					also: () => "",
					check: (value) =>
						checkDoubt({ id, unit, possible: { low: 0, high: most } }, { value, unit }, parse(value)),
					onChange: (change) => keep(id, change),
				}).element,
		),
		condenserLooks.map(
			({ key, label, options }) =>
				choice({
					label,
					name: key,
					value: text(now(), key),
					isRow: true,
					options: options.map(([value, words, note]) => ({ value, label: words, note })),
					onChange: (value) => keep(key, { value, unit: "" }),
				}).element,
		),
	);
}

/**
 * The car's own range of size, which counts in the condition check too.
 * @param {Doc<Car>} car
 * @param {() => void} changed
 */
function ownSize(car, changed) {
	const has = ownSizeKeys.some(({ key }) => car.body.facts[key]?.value.trim());
	return h(
		"details",
		{ class: "own-limit", open: has },
		h("summary", null, "The size this car’s book wants"),
		ownSizeKeys.map(
			({ end, key }) =>
				measuredField({
					label: end === "least" ? "From" : "To",
					name: key,
					units: ["µF"],
					fact: car.body.facts[key],
					also: () => "",
					onChange: (change) => {
						keepFactOf("car", car.id, key, { source: "book", ...change });
						changed();
					},
				}).element,
		),
	);
}

/**
 * @param {{root: HTMLElement, hero: HTMLElement, found: HTMLElement, sizes: HTMLElement, next:
 *   ReturnType<typeof onward>}} rooms
 * @param {string} carId
 * @param {CondenserJudgement} judged
 * @param {number | null} mine µF
 */
function tell(rooms, carId, judged, mine) {
	const coil = judged.assumed.length ? "The coil’s figures are partly assumed: see the spark page." : "";
	inPlace(rooms.root, () => {
		fill(rooms.hero, heroOf(judged));
		if (judged.verdict !== "unknown") rooms.next.to("Next: the points", address("car", carId, "points"));
	});
	fill(
		rooms.found,
		judged.findings.length
			? fold("condenser/found", { title: "What is found, and what to do" }, findings(judged.findings))
			: null,
		fold(
			"condenser/test",
			{ title: "The test that decides" },
			h(
				"p",
				null,
				inEnglish(
					"Ignition off. Take its lead off. Clip a known good condenser between the distributor’s low-tension terminal and its body. The fault goes: it was the condenser. The fault stays: it was not. A meter tests at a few volts; breakdown shows at about 250 (owners’ forum).",
				),
			),
		),
	);
	fill(
		rooms.sizes,
		fold(
			"condenser/size",
			{ title: "What its size does on this car" },
			condenserPlate(judged.sizes, mine),
			condenserEffects(judged.effects),
			condenserTable(judged.sizes, mine),
			coil ? h("p", { class: "note" }, coil) : null,
			working("the condenser", judged.working, judged.sources),
		),
	);
}

/** @param {CondenserJudgement} judged */
const heroOf = (judged) =>
	judged.verdict === "unknown" && judged.findings.length === 0
		? h("p", { class: "lead" }, lead)
		: h(
				"section",
				{ class: `hero is-${judged.verdict}`, "aria-labelledby": "hero-word" },
				heroWord("The condenser", judged.verdict),
				h("p", { class: "hero-summary" }, inEnglish(judged.summary)),
				judged.peakPrimaryV === null
					? null
					: h(
							"p",
							{ class: "note" },
							`First peak across the points ${short(Math.round(judged.peakPrimaryV))} V after ${Math.round(judged.peakAtMicroS ?? 0)} µs; with 0.2 µF ${Math.round(judged.usualPeakV)} V after ${Math.round(judged.usualAtMicroS)} µs. A bound worked out, not a measurement.`,
						),
			);
