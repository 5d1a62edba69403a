// Choose a curve: what this engine, as it is now, should have; where the present
// curve stands; and base, stop, speed and capsule to try, with margin and cost.
// An estimate, and it says so: the manual and a person who hears knock come first.

import { better, earliestOf, engineOf, idleAt, missingOf, needed } from "./engine-input.js";
import { takeCurve, useBook } from "./chosen-sheet.js";
import { curveFigure } from "./curve-figure.js";
import { listened, listenedWords } from "./listenings.js";
import { capsuleAsked, presentCurve } from "./present-curve.js";
import { tryOut } from "./try-out.js";
import { placesTable } from "./places-table.js";
import { onReady } from "../engine/client.js";
import { ask } from "../engine/ask.js";
import { drafts } from "../kept/drafts.js";
import { followGarage } from "../kept/follow.js";
import { garage } from "../kept/garage.js";
import { address } from "../kit/address.js";
import { deferral } from "../kit/caution.js";
import { fill, h } from "../kit/dom.js";
import { button, nextButton, problemLine } from "../kit/field.js";
import { findings, questions } from "../kit/finding/findings.js";
import { judged } from "../kit/finding/judged.js";
import { working } from "../kit/finding/working.js";
import { firstAnswer, patient } from "../kit/first-answer.js";
import { fold } from "../kit/fold.js";
import { dateWords, num, rpm, short } from "../kit/format.js";
import { inEnglish } from "../kit/words.js";
import { driveOf } from "../record/car-electrics.js";
import { factEditor } from "../record/fact-editor.js";
import { factFields } from "../record/facts.js";
import { partsAtHand } from "../record/known.js";
import { chosenOf } from "../record/sheet.js";

/** @typedef {import("../record/known.js").Given} Given */
/** @typedef {import("./try-out.js").Tried} Tried */

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	const car = /** @type {Doc<Car>} */ (ctx.car);
	const draftKey = `choose/${car.id}`;
	const kept = /** @type {{tried?: Tried} | null} */ (await drafts.get(draftKey).catch(() => null));
	const state = { tried: kept?.tried ?? null };
	const keep = () => drafts.put(draftKey, state).catch(() => {});
	const [answer, facts, more] = [h("div"), h("div"), h("div")];
	/** @param {import("../kit/dom.js").Children} said */
	const stands = (said) => {
		fill(answer, said);
		if (facts.parentNode !== root) fill(root, answer, facts, more);
	};
	let drawn = "";
	const draw = async () => {
		const given = givenNow(car.id);
		const engine = engineOf(given);
		const now = JSON.stringify([engine, given.car.body.chosen, stopsOf(given), presentCurve(given)]);
		if (now === drawn) return;
		drawn = now;
		if (!engine) return stands(firstSay(missingOf(given)));
		if (!answer.hasChildNodes()) fill(answer, h("p", { class: "lead", role: "status" }, "Working it out …"));
		try {
			const found = await work(given, engine);
			if (!ctx.signal.aborted && now === drawn) stands(answerOf({ ctx, given, found, state, keep }));
		} catch (problem) {
			if (!ctx.signal.aborted && now === drawn) stands(problemLine(/** @type {Problem} */ (problem)));
		}
	};
	fill(facts, factsOf(givenNow(car.id)));
	fill(more, onTheRoad(car));
	fill(root, answer); // what stands below it comes with it, and is not pushed down
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

/** @param {Given} given @param {NonNullable<ReturnType<typeof engineOf>>} engine */
async function work(given, engine) {
	const early = await earliestOf(given);
	const [target, places] = await Promise.all([
		ask("combustion.target", {
			...engine,
			...idleAt(given),
			...driveOf(given.distributor?.body.sheet),
			...(early.earliestCrankDeg ? { earliestCrankDeg: early.earliestCrankDeg } : {}),
			...stopsOf(given),
		}),
		ask("combustion.places", { ...engine, ...idleAt(given) }),
	]);
	const { knock, best } = engine.records;
	const learned =
		knock.length + best.length ? await ask("combustion.best", { ...engine, engineRPM: midRPM, load: 1 }) : null;
	const present = presentCurve(given);
	const weighed = present
		? (await ask("combustion.weigh", { places: places.places, curves: [present.curve], ...early })).curves[0]
		: null;
	return { target, places, early, learned, present, weighed };
}

/** The stops at hand, as the target takes them. @param {Given} given */
function stopsOf({ distributor }) {
	const { stopsDistDeg } = /** @type {{stopsDistDeg?: number[]}} */ (partsAtHand(distributor?.body.facts));
	return stopsDistDeg ? { stopsDistDeg } : {};
}

/** @typedef {Awaited<ReturnType<typeof work>>} Found */
/**
 * @param {object} of
 * @param {PageContext} of.ctx @param {Given} of.given @param {Found} of.found
 * @param {{tried: Tried | null}} of.state @param {() => void} of.keep
 */
function answerOf({ ctx, given, found, state, keep }) {
	const { target, places, early, learned, present, weighed } = found;
	const chosen = chosenOf(given.car);
	return [
		inUse(given),
		h("p", { class: "lead", role: "status" }, inEnglish(targetWords(target))),
		h(
			"p",
			{ class: "note" },
			"An estimate, kept below where knock may begin. The book stays beside it. ",
			deferral,
		),
		early.earliestCrankDeg ? h("p", { class: "note" }, earlyWords(early)) : null,
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
				take("Take these figures", ctx, spec, basisOf(given, null, words), button),
		}),
		weighed
			? fold(
					"choose/present",
					{ title: "As it is now, place by place" },
					placesTable(weighed.places, "As it is now, place by place"),
				)
			: null,
		learned?.beforeRecords ? learnedWords(learned) : null,
		fold(
			"choose/found",
			{
				title: "About this target",
				answer: target.findings.map((/** @type {Finding} */ { title }) => inEnglish(title)).join("; "),
			},
			findings(target.findings),
		),
		questions(capsuleAsked(given.distributor?.body.facts) ? [capsuleQuestion, ...target.asks] : target.asks),
		assumedLines(target.assumed),
		working("the target", target.working, target.sources),
	];
}

const midRPM = 3000; // where before and after are told: the speed most road tests reach (chosen)

/** What was heard has changed the range: before and after. @param {any} learned of combustion.best */
function learnedWords(learned) {
	const range = (/** @type {any} */ of) =>
		`${num(of.knockLimitLowCrankDeg, 0)} to ${num(of.knockLimitHighCrankDeg, 0)} degrees`;
	return fold(
		"choose/learned",
		{ title: "What the road has told", answer: `knock from ${range(learned)}` },
		h(
			"p",
			null,
			`At ${rpm(midRPM)} rpm, full throttle, knock may begin at ${range(learned.beforeRecords)} by the engine’s figures alone, at ${range(learned)} with what was heard and tried.`,
		),
	);
}

/** @param {{earliestCrankDeg?: number, earliestCylinder?: number}} early */
const earlyWords = ({ earliestCrankDeg = 0, earliestCylinder }) =>
	`${earliestCylinder ? `Cylinder ${earliestCylinder}` : "One cylinder"} fires ${short(earliestCrankDeg)} degrees before No. 1. That much is taken off.`;

const capsuleQuestion =
	"What do the numbers of the capsule’s code mean? Makers differ. Say it on the capsule’s page; until then none is counted.";

/** @param {any} target */
const targetWords = ({ baseCrankDeg, limitDistDeg, totalCrankDeg, allInEngineRPM, capsuleMostDistDeg }) =>
	`Base ${short(baseCrankDeg)} and total ${short(totalCrankDeg)} crank degrees, stop ${short(limitDistDeg)} distributor degrees, all in at ${rpm(allInEngineRPM)} rpm. Vacuum adds at most ${short(capsuleMostDistDeg)} distributor degrees.`;

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

/**
 * @param {string} label @param {PageContext} ctx @param {Spec} spec @param {string} basis
 * @param {(label: string, target: () => void) => HTMLElement} [make] the one thing to do next, unless said
 */
function take(label, ctx, spec, basis, make = nextButton) {
	const carId = ctx.params.car;
	const said = h("div", { "aria-live": "polite" });
	return [
		make(label, () =>
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

/**
 * Where the present curve stands. An estimate fails no car: what it says is a watch at most.
 * @param {string} name @param {any} weighed
 */
const standing = (name, weighed) => [
	h("h2", null, `As it is now, ${name}`),
	judged("the present curve", { ...weighed, verdict: weighed.verdict === "fail" ? "watch" : weighed.verdict }),
];

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

/** The parts of the distributor that may go in. */
const parts = ["stopsAtHand", "primariesAtHand", "secondariesAtHand"];

/** The facts it stands on: those still asked stand first, one leads to the next. @param {Given} given */
function factsOf(given) {
	const asked = missingOf(given);
	const rest = [...needed, ...better].filter((one) => !asked.includes(one));
	/** @type {{key: string, label: string, element: HTMLElement, isKnown: () => boolean, open: () => void}[]} */
	const editors = [];
	for (const key of [...asked, ...rest, ...parts]) {
		const next = () => editors.find((one) => asked.includes(one.key) && one.key !== key && !one.isKnown()) ?? null;
		const one = editorOf(given, key, next);
		if (one) editors.push(one);
	}
	const those = (/** @type {string[]} */ keys) =>
		h(
			"div",
			null,
			editors.filter(({ key }) => keys.includes(key)).map(({ element }) => element),
		);
	return [
		those(asked),
		fold("choose/facts", { title: "The engine as it is now" }, those(rest)),
		fold("choose/parts", { title: "Stops and springs at hand" }, those(parts)),
	];
}

/**
 * One fact, kept with the car or with its distributor.
 * @param {Given} given @param {string} key @param {() => any} next
 */
function editorOf({ car, distributor }, key, next) {
	const field = factFields().find((one) => one.key === key);
	const doc = field?.of === "distributor" ? distributor : car;
	if (!field || !doc) return null;
	const known = { ...doc.body.facts };
	const keep = (/** @type {Fact} */ fact) => {
		known[key] = fact;
		return garage
			.update(field.of, doc.id, (body) => {
				body.facts = { ...body.facts, [key]: fact };
			})
			.catch(() => {});
	};
	return { key, label: field.label, ...factEditor(field, known[key], () => known, keep, next) };
}

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
		button("Find it on the road, step by step", address("car", car.id, "do", "road-timing")),
		button("The map over speed and vacuum", address("car", car.id, "map")),
	];
}
