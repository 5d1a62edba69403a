// The spark over speed: what the coil can give against what the plug may ask
// for, as the car is and with changes tried on paper; the start on a low
// battery; what the picture stands on.

import { engineState, onState } from "../engine/client.js";
import { electricsOf, unitDocuments } from "../record/car-electrics.js";
import { drafts } from "../kept/drafts.js";
import { dwellNow } from "./points.js";
import { asideOf, changedIn, isChanged, sparkFigures } from "./spark.js";
import { factsOf } from "../record/visit-facts.js";
import { carQuestions } from "./car-questions.js";
import { firstAnswer } from "../kit/first-answer.js";
import { caution, trouble } from "../kit/caution.js";
import { button, nextButton } from "../kit/field.js";
import { findings, questions } from "../kit/finding/findings.js";
import { mark } from "../kit/mark.js";
import { notYet, stillStarting } from "../kit/finding/not-yet.js";
import { sparkBasis } from "./spark-basis.js";
import { redraw, sparkPlate } from "./spark-plate.js";
import { needTable, polarityPart, startTable } from "./spark-start.js";
import { working } from "../kit/finding/working.js";
import { fill, h } from "../kit/dom.js";
import { fold } from "../kit/fold.js";
import { num, short } from "../kit/format.js";
import { latestOnly } from "../kit/latest-only.js";
import { address } from "../kit/address.js";
import { inEnglish } from "../kit/words.js";
import { ask } from "../engine/ask.js";
import { groundOf, isOwnCoil } from "./spark-ground.js";
import { changeWords, coilChoice, knobs } from "./spark-knobs.js";

/** @typedef {import("./spark-ground.js").Ground} Ground */
/** @typedef {import("./spark.js").SparkChange} SparkChange */

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	const carId = ctx.params.car;
	const draftKey = `spark/${carId}`;
	/** @type {SparkChange} */
	const change = { ...(await drafts.get(draftKey).catch(() => null))?.change };
	let turn = 0;
	async function update() {
		const mine = ++turn;
		const missing = missingOf(carId, update);
		if (missing) return fill(root, missing);
		try {
			const ground = await groundOf(carId);
			if (mine === turn && !ctx.signal.aborted)
				bench(root, carId, ground, change, () => drafts.put(draftKey, { change }).catch(() => {}), update);
		} catch (problem) {
			if (mine === turn && !ctx.signal.aborted)
				fill(
					root,
					trouble(
						/** @type {Problem} */ (problem),
						button("Look at the facts", address("car", carId, "facts")),
					),
				);
		}
	}
	if (engineState() !== "ready") fill(root, stillStarting(engineState(), carId));
	ctx.signal.addEventListener("abort", onState(update));
	await firstAnswer(update());
}

/** What must be known first. @param {string} carId @param {() => void} answered */
function missingOf(carId, answered) {
	const { car, facts, visits } = unitDocuments(carId);
	const electrics = electricsOf(facts.car, facts.distributor);
	if (electrics.electronic)
		return notYet(
			"An electronic trigger sets its own charge",
			"There is no dwell to work from, so what the coil can give over speed is not told here. Look to its feed, its earth and the ohms its maker asks for.",
			{ href: address("car", carId, "readings"), label: "Next: readings" },
		);
	const asked = carQuestions(car, ["voltage", "cylinders"], answered);
	if (asked) return h("div", null, h("p", { class: "lead" }, lead), asked);
	if (electrics.nominalV === null || electrics.cylinders === null)
		return notYet("Voltage or cylinders cannot be used", "6 or 12 V and 1 to 16 cylinders can be worked with.", {
			href: address("car", carId, "facts"),
			label: "Correct the facts",
		});
	if (dwellNow(factsOf(visits, "points"), facts.distributor, electrics.cylinders)) return null;
	return notYet(
		"The dwell is not known yet",
		"It sets how long the coil charges. It differs from type to type, so it cannot be guessed. Read it, or enter the book’s.",
		{ href: address("car", carId, "points"), label: "Enter the dwell" },
	);
}

const lead =
	"Dwell, volts and ohms set what the coil can give. Gap, pressure and timing set what the plug may ask for.";

/**
 * @param {HTMLElement} root
 * @param {string} carId
 * @param {Ground} ground
 * @param {SparkChange} change kept up to date here
 * @param {() => void} keep
 * @param {() => void} again
 */
function bench(root, carId, ground, change, keep, again) {
	const { car } = unitDocuments(carId);
	const status = h("p", { class: "in-band-count", role: "status" });
	const rooms = { words: h("div", { class: "what-it-does" }), start: h("div") };
	const controls = h("div", { class: "knobs" });
	const inFold = fold("spark/knobs", { title: "Change something on paper", isOpen: isChanged(change) }, controls);
	const figure = sparkPlate(plateInput(ground, null), { status, controls: inFold });
	const refresh = latestOnly(
		async () => {
			const tried = isChanged(change)
				? /** @type {Sweep} */ (await ask("coil.sweep", changedIn(ground.input, change)))
				: null;
			redraw(figure, plateInput(ground, tried));
			fill(status, statusLine(ground.found, tried));
			fill(rooms.words, tried ? changeWords(ground, tried) : null);
			fill(rooms.start, startTable(ground.found.cranking, tried?.cranking ?? null, ground.ballasted));
		},
		(problem) => fill(status, String(problem.detail ?? problem.title)),
	);
	const changed = () => {
		keep();
		refresh();
	};
	const parts = knobs(ground, change, changed);
	const reset = button("Put everything back as it is", () => {
		for (const key of Object.keys(change)) delete change[/** @type {keyof SparkChange} */ (key)];
		changed();
		again();
	});
	fill(
		controls,
		coilChoice(change, () => {
			changed();
			again();
		}),
		parts,
		reset,
	);
	const { found } = ground;
	fill(
		root,
		hero(ground),
		nextButton("Next: readings", address("car", carId, "readings")),
		questions(found.ask),
		figure,
		rooms.words,
		care(carId),
		fold("spark/found", { title: "What is found, as it is", id: "findings-title" }, findings(found.findings)),
		rooms.start,
		needTable(ground.need),
		polarityPart(car, ground.polarity, again),
		sparkBasis(car, {
			hasBallast: electricsOf(car.body.facts, {}).ballasted !== false,
			taken: ground.taken,
			measured: ground.volts.figures,
			hints: ground.volts.hints,
			typed: refreshBasis(carId, again),
			again,
			dwell: {
				words: `${short(ground.dwell.dwell)} distributor degrees · ${ground.dwell.from}`,
				href: address("car", carId, "points"),
			},
		}),
	);
	refresh();
}

/**
 * After a figure is typed the picture follows once the field is left: nothing is drawn anew under the finger.
 * @param {string} carId
 * @param {() => void} again
 */
function refreshBasis(carId, again) {
	const now = () => {
		const { car } = unitDocuments(carId).facts;
		return JSON.stringify([sparkFigures(car).values, ...asideOf(car)]);
	};
	const before = now();
	let isWaiting = false;
	return () => {
		if (isWaiting || now() === before) return;
		const typing = document.activeElement;
		if (!(typing instanceof HTMLInputElement) || typing.type !== "text") return again();
		isWaiting = true;
		typing.addEventListener("blur", () => setTimeout(again, 150), { once: true });
	};
}

/** All of it is worked out, nothing measured. */
const workedOut = {
	pass: "Worked out: enough",
	watch: "Worked out: barely enough",
	fail: "Worked out: too weak",
	unknown: "Worked out: unknown",
};

/** @param {Ground} ground */
function hero({ found, input }) {
	const slow = found.rows[0];
	return h(
		"section",
		{ class: `hero is-${found.verdict}`, "aria-labelledby": "hero-word" },
		h("h2", { class: "hero-word is-words", id: "hero-word" }, mark(found.verdict), ` ${workedOut[found.verdict]}`),
		h("p", { class: "hero-summary" }, inEnglish(found.summary)),
		isOwnCoil(input)
			? null
			: h("p", null, "Nothing of this coil is measured yet: a usual one is taken. Its ohms come first."),
		h(
			"p",
			{ class: "note" },
			`${short(found.totalOhm)} Ω in all; ${num(found.stalledA)} A with the engine stopped, on ${short(found.stoppedV)} V; ${num(slow.currentA)} A at ${short(slow.engineRPM)} rpm. “Can give” is worked out with usual losses taken off, not measured: see the findings.`,
		),
		working("the spark", found.working, found.sources),
	);
}

/** @param {string} carId */
function care(carId) {
	const why = button("Show why", address("car", carId, "why"));
	const before = caution("before anything is tried on the car", [
		"This page works on paper. Coil, ballast and plug gap are changed with the ignition off and the coil cold.",
		"High tension throws the hand into the fan; never pull a lead with the engine running. With a pacemaker, stay away from a live ignition.",
	]);
	return [why, before];
}

/** @param {Ground} ground @param {Sweep | null} tried @returns {import("./spark-plate.js").SparkPlateInput} */
function plateInput({ found, table }, tried) {
	return {
		number: 1,
		title: "What the coil can give and what the plug may ask for, full throttle. Where the bands meet, the engine may misfire.",
		found: found.rows,
		changed: tried?.rows ?? null,
		stops: table,
	};
}

/** @param {Sweep} found @param {Sweep | null} tried */
function statusLine(found, tried) {
	const now = tried ?? found;
	const good = now.rows.filter(({ verdict }) => verdict !== "fail").at(-1);
	const short1 = now.rows.find(({ verdict }) => verdict === "fail");
	const high = now.findings.find(({ code }) => code === "current-high");
	const burns = high?.verdict === "fail";
	const words = burns
		? `Burns points: ${num(now.mostA)} A at a slow idle.`
		: high
			? `Perhaps ${num(now.mostA)} A at a slow idle: measure the ohms first.`
			: short1
				? good
					? `Enough or perhaps enough up to ${good.engineRPM} rpm, short from ${short1.engineRPM}.`
					: "Short at every speed."
				: now.rows.every(({ verdict }) => verdict === "pass")
					? "Enough at every speed drawn, with a clean plug."
					: "Perhaps enough: a worn or dirty plug may misfire.";
	const least = Math.min(...now.rows.map(({ realMarginLowKV }) => realMarginLowKV));
	return [
		mark(burns || short1 ? "fail" : now.verdict === "watch" ? "watch" : "pass"),
		h(
			"span",
			null,
			h("strong", null, tried ? "Changed: " : "As it is: "),
			words,
			` Least to spare ${num(least)}\u00a0kV.`,
		),
	];
}
