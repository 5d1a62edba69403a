// The fault hunt: what the car does and when, what was changed last, then the
// likeliest causes with their reasons, and one next test.

import { another, huntOf, keepHunt, takenBack, toObservation } from "./hunt.js";
import { nextTest } from "./next-test.js";
import { huntCar, onFile } from "./on-file.js";
import { ask } from "../engine/ask.js";
import { engineState, onReady } from "../engine/client.js";
import { garage } from "../kept/garage.js";
import { deferral, trouble } from "../kit/caution.js";
import { button, nextButton } from "../kit/field.js";
import { fill, h } from "../kit/dom.js";
import { firstAnswer, patient } from "../kit/first-answer.js";
import { fold } from "../kit/fold.js";
import { latestOnly } from "../kit/latest-only.js";
import { mark } from "../kit/mark.js";
import { stillStarting } from "../kit/finding/not-yet.js";
import { firstCapital, inEnglish } from "../kit/words.js";
import { standing } from "../safety/standing.js";

/** @typedef {import("./hunt.js").Hunt} Hunt */

/** In which state a complaint is met, in the order of a journey. */
const states = /** @type {const} */ ([
	["start", "When it is started"],
	["cold", "Cold"],
	["hot", "Hot"],
	["idle", "At idle"],
	["opening", "As the throttle opens"],
	["light", "At a gentle cruise"],
	["load", "When it has to pull"],
	["high", "At high speed"],
	["overrun", "On the over-run"],
	["stopping", "When it is switched off"],
	["damp", "On damp days"],
	["any", "At any time"],
	["seen", "Seen on the engine"],
]);

/** What is changed in a garage, by the cause it would be. Common practice. */
const changes = /** @type {const} */ ([
	["IG01", "points"],
	["IG05", "condenser"],
	["IG06", "coil"],
	["IG14", "plugs"],
	["IG12", "plug leads"],
	["IG11", "cap"],
	["IG10", "rotor"],
	["IG15", "timing"],
	["IG28", "distributor"],
	["FU01", "carburettor"],
	["FU04", "fuel pump or filter"],
	["FU08", "fuel"],
	["ME01", "valve clearances"],
	["ME09", "battery or starter"],
]);

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	const car = /** @type {Doc<Car>} */ (ctx.car);
	const hunt = () => huntOf(garage.visits({ carId: car.id }));
	const draw = latestOnly(
		async () => {
			const now = hunt();
			if (!now.isTold) return fill(root, await symptomPart(car, now, again));
			if (!now.changed) return fill(root, changedPart(car, again));
			if (engineState() !== "ready") fill(root, stillStarting(engineState(), car.id));
			const answer = await rank(car, now);
			if (!ctx.signal.aborted) fill(root, await found(car, now, answer, again));
		},
		(problem) => fill(root, trouble(/** @type {Problem} */ (problem))),
	);
	function again() {
		draw();
		scrollTo(0, 0);
	}
	ctx.signal.addEventListener("abort", onReady(draw));
	await firstAnswer(Promise.resolve(draw()), patient);
}

/** @param {Doc<Car>} car */
function givenOf(car) {
	const now = /** @type {Doc<Car>} */ (garage.get("car", car.id) ?? car);
	return { car: now, distributor: garage.get("distributor", now.body.distributorId), answers: {} };
}

/** @param {Doc<Car>} car @param {Hunt} hunt */
async function rank(car, { symptoms, changed, trail }) {
	const undone = standing(car.id);
	const of = givenOf(car);
	return ask("faults.rank", {
		car: huntCar(of),
		symptoms,
		lastChanged: changed ?? [],
		observations: trail.map(toObservation),
		facts: await onFile(of),
		noStart: undone.some(({ noStart }) => noStart),
		noIgnition: undone.some(({ noIgnition }) => noIgnition),
		mostTests: 3,
	});
}

/** What it does, and when: as many as fit. @param {Doc<Car>} car @param {Hunt} hunt @param {() => void} again */
async function symptomPart(car, { symptoms }, again) {
	const list = await ask("faults.list", { car: huntCar(givenOf(car)) });
	const chosen = new Set(symptoms);
	const go = h("div", { class: "onward-room" });
	const say = () =>
		fill(
			go,
			chosen.size
				? nextButton(`Go on: ${chosen.size} told`, async () => {
						await keepHunt(car, "told", "yes");
						again();
					})
				: null,
		);
	const line = (/** @type {{id: string, name: string}} */ { id, name }) => {
		const box = h("input", {
			type: "checkbox",
			id: `hunt-${id}`,
			checked: chosen.has(id),
			on: {
				change: () => {
					if (box.checked) chosen.add(id);
					else chosen.delete(id);
					keepHunt(car, "symptoms", [...chosen].join(" "));
					say();
				},
			},
		});
		return h(
			"div",
			{ class: "option" },
			box,
			h("label", { for: box.id }, mark("done"), h("span", null, firstCapital(inEnglish(name)))),
		);
	};
	const told = new Set();
	const groups = states.map(([state, title]) => {
		const here = list.symptoms.filter(
			(/** @type {{id: string, when: string[]}} */ { id, when }) => when[0] === state && !told.has(id),
		);
		for (const { id } of here) told.add(id);
		if (!here.length) return null;
		const isOpen = here.some((/** @type {{id: string}} */ { id }) => chosen.has(id));
		return fold(
			`hunt/${state}`,
			{ title, answer: here.length === 1 ? "1 answer" : `${here.length} answers`, isOpen },
			h("div", { class: "choice-options" }, here.map(line)),
		);
	});
	say();
	return [
		h("p", { class: "lead" }, "What does it do, and when? Open a line. Tap all that is true."),
		h("p", { class: "note" }, deferral),
		groups,
		go,
	];
}

/** What was changed last before it began. @param {Doc<Car>} car @param {() => void} again */
function changedPart(car, again) {
	const say = (/** @type {string} */ id) => async () => {
		await keepHunt(car, "changed", id);
		again();
	};
	return [
		h("h2", null, "What was changed last, before the trouble began?"),
		h("p", { class: "note" }, "What was fitted because of the trouble does not count."),
		h(
			"div",
			{ class: "part-list" },
			changes.map(([id, name]) => button(firstCapital(inEnglish(name)), say(id))),
		),
		nextButton("Nothing, or not known", say("none")),
	];
}

/**
 * @param {Doc<Car>} car @param {Hunt} hunt @param {any} answer of faults.rank @param {() => void} again
 */
async function found(car, hunt, answer, again) {
	const [test, ...others] = answer.nextTests;
	const judge = (/** @type {import("./hunt.js").Observation} */ one) =>
		rank(car, { ...hunt, trail: [...hunt.trail.filter(({ id }) => id !== one.id), one] });
	return [
		h(
			"section",
			{ class: "hero", "aria-live": "polite" },
			h(
				"p",
				{ class: `hero-summary ${hunt.found ? "" : "is-open"}` },
				inEnglish(answer.summary.replace(/ Next: .*$/, "")),
			),
		),
		hunt.found ? itWas(car, hunt, answer, again) : null,
		test
			? nextTest({ car, hunt, test, again, judge })
			: h("p", { class: "lead" }, "No test is left that would tell more."),
		h("h2", null, "What it can be"),
		h(
			"ol",
			{ class: "ruled hunt-causes", role: "list" },
			answer.causes.slice(0, 3).map((/** @type {any} */ cause) => causeLine(car, cause, again)),
		),
		h("p", { class: "note" }, `${percent(answer.none.probability)}: ${inEnglish(answer.none.says)}.`),
		others.length
			? fold(
					"hunt/other-tests",
					{ title: "Other tests", answer: `${others.length} that tell nearly as much` },
					others.map((/** @type {any} */ one) => nextTest({ car, hunt, test: one, again, judge })),
				)
			: null,
		trailOf(car, hunt, again),
		fold(
			"hunt/anew",
			{ title: "Change what was told, or start again" },
			button("Change what it does", async () => {
				await keepHunt(car, "told", "");
				again();
			}),
			button("Start another hunt", () => {
				another(car);
				again();
			}),
		),
	];
}

/** Rounded down, as the calculation words it. @param {number} share */
const percent = (share) => `${Math.floor(100 * share)} in 100`;

/** A cause, why, and the repair. @param {Doc<Car>} car @param {any} cause @param {() => void} again */
function causeLine(car, { id, name, probability, because, about, mend }, again) {
	const why = because
		.slice(0, 2)
		.map((/** @type {{text: string, factor: number}} */ { text, factor }) => `${text} (${times(factor)})`);
	return h(
		"li",
		{ class: "visit" },
		h("p", null, h("strong", null, inEnglish(firstCapital(name))), ` · ${percent(probability)}`),
		why.length ? h("p", { class: "note" }, inEnglish(`${firstCapital(why.join("; "))}.`)) : null,
		fold(
			`hunt/cause-${id}`,
			{ title: "What it is, and the repair", level: "h3" },
			h("p", null, inEnglish(about)),
			h("p", null, inEnglish(mend)),
			button(["It was this", h("span", { class: "vh" }, ` ${inEnglish(name)}`)], async () => {
				await keepHunt(car, "found", id, name);
				again();
			}),
		),
	);
}

/** @param {number} factor */
const times = (factor) =>
	factor >= 1
		? `${factor.toFixed(factor < 3 ? 1 : 0)} times likelier`
		: `${(1 / factor).toFixed(1)} times less likely`;

/** What was answered, each to be taken back. @param {Doc<Car>} car @param {Hunt} hunt @param {() => void} again */
function trailOf(car, hunt, again) {
	if (!hunt.trail.length) return null;
	return fold(
		"hunt/trail",
		{ title: "Tests so far", answer: `${hunt.trail.length} answered` },
		h(
			"ul",
			{ class: "ruled", role: "list" },
			hunt.trail.map(({ id, says }) =>
				h(
					"li",
					null,
					h("p", null, inEnglish(firstCapital(says))),
					button("Take this answer back", async () => {
						await takenBack(car, hunt, id);
						again();
					}),
				),
			),
		),
	);
}

/** @param {Doc<Car>} car @param {Hunt} hunt @param {any} answer @param {() => void} again */
function itWas(car, hunt, answer, again) {
	const cause = answer.causes.find((/** @type {{id: string}} */ { id }) => id === hunt.found);
	return h(
		"section",
		{ class: "boxed" },
		h("p", null, mark("done"), " ", h("strong", null, `It was: ${inEnglish(cause?.name ?? hunt.found)}.`)),
		h("p", { class: "note" }, cause ? inEnglish(cause.mend) : ""),
		button("It was something else", async () => {
			await keepHunt(car, "found", "");
			again();
		}),
	);
}
