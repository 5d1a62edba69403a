// Choose a curve: what this engine, as it is now, should have; where the present
// curve stands; and base, stop, speed and capsule to try, with margin and cost.
// An estimate, and it says so: the manual and a person who hears knock come first.

import { better, earliestOf, engineOf, idleAt, missingOf, needed } from "./engine-input.js";
import { takeCurve, useBook } from "./chosen-sheet.js";
import { curveFigure } from "./curve-figure.js";
import { listened, listenedWords } from "./listenings.js";
import { presentCurve } from "./present-curve.js";
import { tryOut } from "./try-out.js";
import { placesTable } from "./places-table.js";
import { onReady } from "../engine/client.js";
import { ask } from "../engine/ask.js";
import { drafts } from "../kept/drafts.js";
import { followGarage } from "../kept/follow.js";
import { garage } from "../kept/garage.js";
import { address } from "../kit/address.js";
import { caution, deferral } from "../kit/caution.js";
import { fill, h } from "../kit/dom.js";
import { button, nextButton, problemLine, textField } from "../kit/field.js";
import { findings, questions } from "../kit/finding/findings.js";
import { judged } from "../kit/finding/judged.js";
import { working } from "../kit/finding/working.js";
import { firstAnswer, patient } from "../kit/first-answer.js";
import { fold } from "../kit/fold.js";
import { dateWords, parse, rpm, short } from "../kit/format.js";
import { inEnglish } from "../kit/words.js";
import { driveOf } from "../record/car-electrics.js";
import { factEditor } from "../record/fact-editor.js";
import { factFields } from "../record/facts.js";
import { chosenOf } from "../record/sheet.js";

/** @typedef {import("../record/known.js").Given} Given */
/** @typedef {import("./try-out.js").Tried} Tried */

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	const car = /** @type {Doc<Car>} */ (ctx.car);
	const draftKey = `choose/${car.id}`;
	const kept = /** @type {{tried?: Tried, stops?: string} | null} */ (await drafts.get(draftKey).catch(() => null));
	const state = { tried: kept?.tried ?? null, stops: kept?.stops ?? "" };
	const keep = () => drafts.put(draftKey, state).catch(() => {});
	const [answer, facts, more] = [h("div"), h("div"), h("div")];
	let drawn = "";
	const draw = async () => {
		const given = givenNow(car.id);
		const engine = engineOf(given);
		const now = JSON.stringify([engine, given.car.body.chosen, state.stops, presentCurve(given)]);
		if (now === drawn) return;
		drawn = now;
		if (!engine) return fill(answer, firstSay(missingOf(given)));
		try {
			const found = await work(given, engine, stopsOf(state.stops));
			if (!ctx.signal.aborted && now === drawn) fill(answer, answerOf({ ctx, given, found, state, keep }));
		} catch (problem) {
			if (!ctx.signal.aborted && now === drawn) fill(answer, problemLine(/** @type {Problem} */ (problem)));
		}
	};
	fill(facts, factsOf(givenNow(car.id)));
	fill(
		more,
		stopsField(state, () => (keep(), draw())),
		onTheRoad(car),
	);
	fill(root, answer, facts, more);
	const again = () => {
		drawn = "";
		draw();
	};
	ctx.signal.addEventListener("abort", onReady(again));
	await firstAnswer(followGarage(ctx.signal, draw), patient);
}

/** @param {string} id @returns {Given} */
function givenNow(id) {
	const car = /** @type {Doc<Car>} */ (garage.get("car", id));
	return { car, distributor: garage.get("distributor", car.body.distributorId), answers: {} };
}

/** What is asked before anything can be said. @param {string[]} missing */
function firstSay(missing) {
	const fields = factFields();
	const labels = missing.map((key) => inEnglish(fields.find((one) => one.key === key)?.label ?? key).toLowerCase());
	return [
		h("p", { class: "lead", role: "status" }, `Say first: ${labels.join(", ")}.`),
		h("p", { class: "note" }, "Octane is asked, never guessed. It counts most."),
	];
}

/** @param {Given} given @param {NonNullable<ReturnType<typeof engineOf>>} engine @param {number[]} stops */
async function work(given, engine, stops) {
	const early = await earliestOf(given);
	const [target, places] = await Promise.all([
		ask("combustion.target", {
			...engine,
			...idleAt(given),
			...driveOf(given.distributor?.body.sheet),
			...(early.earliestCrankDeg ? { earliestCrankDeg: early.earliestCrankDeg } : {}),
			...(stops.length ? { stopsDistDeg: stops } : {}),
		}),
		ask("combustion.places", { ...engine, ...idleAt(given) }),
	]);
	const present = presentCurve(given);
	const weighed = present
		? (await ask("combustion.weigh", { places: places.places, curves: [present.curve], ...early })).curves[0]
		: null;
	return { target, places, early, present, weighed };
}

/** @typedef {Awaited<ReturnType<typeof work>>} Found */
/**
 * @param {object} of
 * @param {PageContext} of.ctx @param {Given} of.given @param {Found} of.found
 * @param {{tried: Tried | null, stops: string}} of.state @param {() => void} of.keep
 */
function answerOf({ ctx, given, found, state, keep }) {
	const { target, places, early, present, weighed } = found;
	const chosen = chosenOf(given.car);
	return [
		inUse(given),
		h("p", { class: "lead", role: "status" }, inEnglish(targetWords(target))),
		h("p", { class: "note" }, "An estimate. The low end of where knock may begin is never passed. ", deferral),
		chosen ? null : take("Take this curve", ctx, target.spec, basisOf(given, target)),
		curveFigure({ target, places: places.places, present }),
		weighed ? standing(present?.name ?? "", weighed) : null,
		tryOut({
			places: places.places,
			early,
			target,
			tried: state.tried,
			ratio: driveOf(given.distributor?.body.sheet),
			onTry: (tried) => {
				state.tried = tried;
				keep();
			},
			take: (/** @type {Spec} */ spec, /** @type {string} */ words) =>
				take("Take these figures", ctx, spec, basisOf(given, null, words)),
		}),
		weighed ? fold("choose/present", { title: "As it is now, place by place" }, placesTable(weighed.places)) : null,
		findings(target.findings),
		questions(target.asks),
		assumedLines(target.assumed),
		working("the target", target.working, target.sources),
	];
}

/** @param {any} target */
const targetWords = ({ baseCrankDeg, limitDistDeg, totalCrankDeg, allInEngineRPM, capsuleMostDistDeg }) =>
	`Base ${short(baseCrankDeg)}, stop ${short(limitDistDeg)}, total ${short(totalCrankDeg)}, all in at ${rpm(allInEngineRPM)} rpm. Vacuum at most ${short(capsuleMostDistDeg)} distributor degrees.`;

/** What a curve was chosen for. @param {Given} given @param {any} target @param {string} [words] */
function basisOf({ car }, target, words) {
	const { compressionRatio: ratio, fuel } = car.body.facts;
	const heard = listened(car.id).length;
	return [
		words ?? targetWords(target).split(". ")[0],
		`compression ${ratio.value}`,
		`${fuel.value} ${fuel.unit}`,
		heard ? `${heard} heard or tried on the road` : "nothing heard on the road yet",
	].join("; ");
}

/** @param {string} label @param {PageContext} ctx @param {Spec} spec @param {string} basis */
function take(label, ctx, spec, basis) {
	const carId = ctx.params.car;
	const said = h("div", { "aria-live": "polite" });
	return [
		nextButton(label, () =>
			takeCurve(carId, spec, basis).then(
				() => ctx.go(address("car", carId, "strobe")),
				() =>
					fill(
						said,
						problemLine({
							problem: "the phone has no room to keep it",
							limit: "some free storage",
							do: "Free some room and take it again.",
						}),
					),
			),
		),
		said,
	];
}

/** That a chosen curve is in use, or put aside. @param {Given} given */
function inUse({ car }) {
	const { chosen } = car.body;
	if (!chosen) return null;
	const day = dateWords(chosen.at.slice(0, 10));
	return h(
		"div",
		{ class: "boxed" },
		h(
			"p",
			null,
			h(
				"strong",
				null,
				chosen.off
					? `The book’s table is in use. A curve chosen on ${day} is kept.`
					: `The curve chosen on ${day} is in use, not the book’s.`,
			),
			` ${inEnglish(chosen.basis)}.`,
		),
		chosen.off
			? button("Use the chosen curve again", () => useBook(car.id, false))
			: button("Use the book again", () => useBook(car.id, true)),
	);
}

/** Where the present curve stands. @param {string} name @param {any} weighed */
const standing = (name, weighed) => [h("h2", null, `As it is now, ${name}`), judged("the present curve", weighed)];

/** @param {string[]} lines */
const assumedLines = (lines) =>
	lines.length
		? fold(
				"choose/assumed",
				{ title: "Taken, because nobody said", answer: `${lines.length}` },
				h(
					"ul",
					null,
					lines.map((line) => h("li", null, inEnglish(line))),
				),
			)
		: null;

/** The facts it stands on: those still asked stand first, one leads to the next. @param {Given} given */
function factsOf(given) {
	const asked = missingOf(given);
	const known = { ...given.car.body.facts };
	const fields = factFields();
	/** @type {{key: string, label: string, element: HTMLElement, isKnown: () => boolean, open: () => void}[]} */
	const editors = [];
	for (const key of [...asked, ...[...needed, ...better].filter((one) => !asked.includes(one))]) {
		const field = fields.find((one) => one.key === key);
		if (!field) continue;
		const keep = (/** @type {Fact} */ fact) => {
			known[key] = fact;
			return garage
				.update("car", given.car.id, (body) => {
					body.facts = { ...body.facts, [key]: fact };
				})
				.catch(() => {});
		};
		const next = () => editors.find((one) => asked.includes(one.key) && one.key !== key && !one.isKnown()) ?? null;
		editors.push({ key, label: field.label, ...factEditor(field, known[key], () => known, keep, next) });
	}
	const elements = editors.map(({ element }) => element);
	return [
		elements.slice(0, asked.length),
		fold("choose/facts", { title: "The engine as it is now" }, h("div", null, elements.slice(asked.length))),
	];
}

/** @param {string} text @returns {number[]} the stops at hand, as typed */
const stopsOf = (text) =>
	text
		.split(/[\s;]+|,(?=\s)/)
		.map((one) => parse(one))
		.filter((one) => one !== null && one >= 0 && one <= 25)
		.map(Number)
		.slice(0, 20);

/** @param {{stops: string}} state @param {() => void} changed */
const stopsField = (state, changed) =>
	fold(
		"choose/stops",
		{ title: "Stops at hand" },
		textField({
			label: "As stamped, distributor degrees",
			name: "stops",
			value: state.stops,
			note: "Such as 9 11 13. Empty: any.",
			onInput: (value) => {
				state.stops = value;
				changed();
			},
		}).element,
	);

/** Records and the road. @param {Doc<Car>} car */
function onTheRoad(car) {
	const all = listened(car.id);
	return [
		fold(
			"choose/heard",
			{ title: "Heard on the road", answer: all.length ? `${all.length}` : "nothing yet" },
			h(
				"ul",
				null,
				all.map(({ one }) => h("li", null, inEnglish(listenedWords(one)))),
			),
			button("Write down what was heard", address("car", car.id, "heard")),
		),
		caution("before the road test", [
			"Knock breaks pistons. Start low, stop at the first trace, never repeat it.",
			"On public roads the law and other people come first. Someone else listens.",
		]),
		button("Find it on the road, step by step", address("car", car.id, "do", "road-timing")),
		button("The map over speed and vacuum", address("car", car.id, "map")),
	];
}
