// The spark over speed: what the coil can give against what the plug may ask
// for, as the car is and with changes tried on paper; the start on a low
// battery; what the picture stands on.

import { engineState, onState } from "../calc/client.js";
import { ask, corners, totalBands } from "../calc/judgement.js";
import { caseOf } from "../data/case.js";
import { electricsOf, unitDocuments } from "../data/electrics.js";
import { garage } from "../data/garage.js";
import { dwellNow } from "../data/points.js";
import { asideOf, changedIn, coils, isChanged, sparkFigures, speedsFor, sweepIn, takenWords } from "../data/spark.js";
import { measuredFigures, supplyIn } from "../data/supply.js";
import { factsOf, workedOn } from "../data/visit-facts.js";
import { dayName } from "../data/visits.js";
import { carQuestions } from "../elements/car-questions.js";
import { caution, deferral, trouble } from "../elements/caution.js";
import { button, choice, nextButton } from "../elements/field.js";
import { findings, questions } from "../elements/findings.js";
import { mark } from "../elements/marks.js";
import { notYet, stillStarting } from "../elements/not-yet.js";
import { sparkBasis } from "../elements/spark-basis.js";
import { redraw, sparkPlate } from "../elements/spark-plate.js";
import { polarityPart, startTable } from "../elements/spark-start.js";
import { stepper } from "../elements/stepper.js";
import { working } from "../elements/working.js";
import { fill, h } from "../lib/dom.js";
import { num, short } from "../lib/format.js";
import { latestOnly } from "../lib/latest-only.js";
import { address } from "../lib/routes.js";
import { inEnglish } from "../lib/words.js";

/**
 * @typedef {import("../data/spark.js").SparkChange} SparkChange
 *
 * @typedef {object} Ground what the picture stands on
 * @property {any} input of coil.sweep @property {Sweep} found @property {number[]} table speeds read one by one
 * @property {{[path: string]: string}} taken @property {{dwell: number, from: string}} dwell @property {number} pitch distributor degrees
 * @property {PolarityAnswer | null} polarity @property {boolean} ballasted @property {ReturnType<typeof measuredFigures>} volts
 */

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	const carId = ctx.params.car;
	const draftKey = `spark/${carId}`;
	/** @type {SparkChange} */
	const change = { ...(await garage.draft(draftKey).catch(() => null))?.change };
	let turn = 0;
	async function update() {
		const mine = ++turn;
		const missing = missingOf(carId, update);
		if (missing) return fill(root, missing);
		try {
			const ground = await groundOf(carId);
			if (mine === turn && !ctx.signal.aborted) bench(root, carId, ground, change, () => garage.setDraft(draftKey, { change }).catch(() => {}), update);
		} catch (problem) {
			if (mine === turn && !ctx.signal.aborted) fill(root, trouble(/** @type {Problem} */ (problem), button("Look at the facts", address("car", carId, "facts"))));
		}
	}
	if (engineState() !== "ready") fill(root, stillStarting(engineState(), carId));
	ctx.signal.addEventListener("abort", onState(update));
	await Promise.race([update(), new Promise((resolve) => setTimeout(resolve, 120))]);
}

/** What must be known first. @param {string} carId @param {() => void} answered */
function missingOf(carId, answered) {
	const { car, facts, visits } = unitDocuments(carId);
	const electrics = electricsOf(facts.car, facts.distributor);
	if (electrics.electronic) return notYet("An electronic trigger sets its own charge", "There is no dwell to work from, so what the coil can give over speed is not told here. Look to its feed, its earth and the ohms its maker asks for.", { href: address("car", carId, "readings"), label: "On to the readings" });
	const asked = carQuestions(car, ["voltage", "cylinders"], answered);
	if (asked) return h("div", null, h("p", { class: "lead" }, lead), asked);
	if (electrics.nominalV === null || electrics.cylinders === null) return notYet("Voltage or cylinders cannot be used", "6 or 12 V and 1 to 16 cylinders can be worked with.", { href: address("car", carId, "facts"), label: "Correct the facts" });
	if (dwellNow(factsOf(visits, "points"), facts.distributor, electrics.cylinders)) return null;
	return notYet("The dwell is not known yet", "How long the coil charges follows from it, and it differs too much from type to type to be guessed. Read it, or enter the book’s.", { href: address("car", carId, "points"), label: "Enter the dwell" });
}

const lead = "Dwell, volts and ohms decide what the coil can give; gap, pressure and timing what the plug may ask for.";

/** @param {string} carId @returns {Promise<Ground>} */
async function groundOf(carId) {
	const { facts, visits } = unitDocuments(carId);
	const electrics = /** @type {any} */ (electricsOf(facts.car, facts.distributor));
	const dwell = /** @type {{dwell: number, from: string}} */ (dwellNow(factsOf(visits, "points"), facts.distributor, electrics.cylinders));
	const { spec } = caseOf(carId);
	const bands = spec ? await totalBands(spec).catch(() => []) : [];
	const timing = bands.filter(({ engineRPM }) => engineRPM > 0 && engineRPM <= 12_000).slice(0, 64).map((band) => ({ engineRPM: band.engineRPM, crankDeg: Math.min(70, Math.max(-40, (band.minCrankDeg + band.maxCrankDeg) / 2)) }));
	const polarity = await polarityOf(facts.car, electrics.earth);
	const top = Math.min(7000, Math.max(4000, Math.ceil((spec ? corners(spec).at(-1) ?? 0 : 5000) / 500) * 500));
	const speeds = speedsFor(top);
	const volts = await voltsOf(electrics, visits, facts.car);
	const { input, taken } = sweepIn(electrics, facts.car, dwell, speeds.drawn, timing, polarity?.polarity ?? "unknown", volts.figures);
	const found = /** @type {Sweep} */ (await ask("coil.sweep", input));
	const words = { ...takenWords(found.assumed), ...taken };
	if (timing.length) words["engine.sparkCrankDeg"] = "the middle of the book’s curve is taken at each speed";
	return { input, found, table: speeds.table, taken: words, dwell, pitch: 360 / electrics.cylinders, polarity, ballasted: (input.coil.ballastOhm ?? 0) > 0, volts };
}

/** What the walk along the feed measured. @param {import("../data/electrics.js").Electrics} electrics @param {Doc<Visit>[]} visits @param {Facts} car @returns {Promise<ReturnType<typeof measuredFigures>>} */
async function voltsOf(electrics, visits, car) {
	const input = supplyIn(electrics, "closed", factsOf(visits, "volts"), car);
	const judged = input ? /** @type {SupplyJudgement | null} */ (await ask("supply.judge", input).catch(() => null)) : null;
	return judged ? measuredFigures(judged, electrics.ballasted === true, dayName(workedOn(visits, "volts")?.body.date ?? "")) : { figures: {}, hints: {} };
}

/** @param {Facts} car @param {string | null} earth @returns {Promise<PolarityAnswer | null>} */
async function polarityOf(car, earth) {
	if (!earth) return null;
	const marks = car.coilMarks?.value ?? "";
	const terminal = car.coilTerminal?.value ?? "";
	const fits = marks === "plus-minus" ? ["+", "-"].includes(terminal) : marks === "sw-cb" && ["SW", "CB"].includes(terminal);
	return ask("coil.polarity", {
		earth, ...(marks ? { marks } : {}), ...(fits ? { distributorTerminal: terminal } : {}),
		...(car.coilMadeFor?.value ? { madeForEarth: car.coilMadeFor.value } : {}), ...(car.sparkFlare?.value ? { flare: car.sparkFlare.value } : {}),
	});
}

/**
 * @param {HTMLElement} root @param {string} carId @param {Ground} ground @param {SparkChange} change kept up to date here @param {() => void} keep @param {() => void} again
 */
function bench(root, carId, ground, change, keep, again) {
	const { car } = unitDocuments(carId);
	const status = h("p", { class: "in-band-count", role: "status" });
	const rooms = { words: h("div", { class: "what-it-does" }), start: h("div") };
	const controls = h("div", { class: "knobs" });
	const figure = sparkPlate(plateInput(ground, null), { status, controls });
	const refresh = latestOnly(async () => {
		const tried = isChanged(change) ? /** @type {Sweep} */ (await ask("coil.sweep", changedIn(ground.input, change))) : null;
		redraw(figure, plateInput(ground, tried));
		fill(status, statusLine(ground.found, tried));
		fill(rooms.words, tried ? changeWords(ground, tried) : null);
		fill(rooms.start, startTable(ground.found.cranking, tried?.cranking ?? null, ground.ballasted));
	}, (problem) => fill(status, String(problem.detail ?? problem.title)));
	const changed = () => { keep(); refresh(); };
	const parts = knobs(ground, change, changed);
	const reset = button("Put everything back as it is", () => {
		for (const key of Object.keys(change)) delete change[/** @type {keyof SparkChange} */ (key)];
		changed();
		again();
	});
	fill(controls, coilChoice(change, () => { changed(); again(); }), parts, reset);
	const { found } = ground;
	fill(root, hero(ground), questions(found.ask), figure, rooms.words, care(),
		nextButton("On to the readings", address("car", carId, "readings")),
		h("section", { "aria-labelledby": "findings-title" }, h("h2", { id: "findings-title" }, "What is found, as it is"), findings(found.findings)),
		rooms.start, polarityPart(car, ground.polarity, again),
		sparkBasis(car, {
			hasBallast: electricsOf(car.body.facts, {}).ballasted !== false, taken: ground.taken, measured: ground.volts.figures, hints: ground.volts.hints, typed: refreshBasis(carId, again), again,
			dwell: { words: `${short(ground.dwell.dwell)} distributor degrees · ${ground.dwell.from}`, href: address("car", carId, "points") },
		}));
	refresh();
}

/** After a figure is typed the picture follows once the field is left: nothing is drawn anew under the finger. @param {string} carId @param {() => void} again */
function refreshBasis(carId, again) {
	const now = () => { const { car } = unitDocuments(carId).facts; return JSON.stringify([sparkFigures(car).values, ...asideOf(car)]); };
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

/** All of it is worked out, so the verdict is one on paper. */
const onPaper = { pass: "On paper: enough", watch: "On paper: watch", fail: "On paper: fail", unknown: "On paper: unknown" };

/** @param {Ground} ground */
function hero({ found, input }) {
	const slow = found.rows[0];
	const isOwn = ["primaryOhm", "inductanceMilliH", "turnsRatio"].some((key) => key in input.coil);
	return h("section", { class: `hero is-${found.verdict}`, "aria-labelledby": "hero-word" },
		h("h2", { class: "hero-word is-words", id: "hero-word" }, mark(found.verdict), ` ${onPaper[found.verdict]}`),
		h("p", { class: "hero-summary" }, inEnglish(found.summary)),
		isOwn ? null : h("p", null, "Nothing of this coil is measured yet: a usual one is taken. Its ohms come first."),
		h("p", { class: "note" }, `${short(found.totalOhm)} Ω in all; ${num(found.stalledA)} A with the engine stopped, on ${short(found.stoppedV)} V; ${num(slow.currentA)} A at ${short(slow.engineRPM)} rpm. “Can give” is a bound worked out, not a measurement: see the findings.`),
		working("the spark", found.working, found.sources));
}

function care() {
	return caution("before anything is tried on the car", ["This page works on paper. Coil, ballast and plug gap are changed with the ignition off and the coil cold.", "High tension throws the hand into the fan; never pull a lead with the engine running. With a pacemaker, stay away from a live ignition.", deferral]);
}

/** @param {Ground} ground @param {Sweep | null} tried @returns {import("../elements/spark-plate.js").SparkPlateInput} */
function plateInput({ found, table }, tried) {
	return { number: 1, title: "What the coil can give and what the plug may ask for, full throttle. Where the bands meet, the engine may misfire.", found: found.rows, changed: tried?.rows ?? null, stops: table };
}

/** @param {Sweep} found @param {Sweep | null} tried */
function statusLine(found, tried) {
	const now = tried ?? found;
	const good = now.rows.filter(({ verdict }) => verdict !== "fail").at(-1);
	const short1 = now.rows.find(({ verdict }) => verdict === "fail");
	const high = now.findings.find(({ code }) => code === "current-high");
	const burns = high?.verdict === "fail";
	const words = burns ? `Burns points: ${num(now.mostA)} A at a slow idle.` : high ? `Perhaps ${num(now.mostA)} A at a slow idle: measure the ohms first.` : short1 ? (good ? `Enough with a clean plug up to ${good.engineRPM} rpm, short from ${short1.engineRPM}.` : "Short at every speed.") : "Enough at every speed drawn, with a clean plug.";
	const least = Math.min(...now.rows.map(({ marginKV }) => marginKV));
	return [mark(burns || short1 ? "fail" : now.verdict === "watch" ? "watch" : "pass"), h("span", null, h("strong", null, tried ? "Changed, on paper: " : "As it is, on paper: "), words, ` Least to spare ${num(least)}\u00a0kV.`)];
}

/** @param {Ground} ground @param {Sweep} tried */
function changeWords({ found }, tried) {
	const at = found.rows.findIndex(({ engineRPM }) => engineRPM === 3000);
	const [a, b] = [found.rows[at], tried.rows[at]];
	const own = tried.findings.filter(({ code }) => ["current-high", "current-low", "spark-short", "spark-thin"].includes(code));
	return h("section", { "aria-labelledby": "does-title" }, h("h2", { id: "does-title" }, "What this does"),
		h("ul", null,
			h("li", null, `Current with the engine stopped: ${num(tried.stalledA)} A instead of ${num(found.stalledA)}; heat ${num(tried.stalledWatts, 0)} W instead of ${num(found.stalledWatts, 0)}.`),
			a && b ? h("li", null, `At 3000 rpm: ${num(b.currentA)} A and ${num(b.energyMilliJ, 0)} mJ instead of ${num(a.currentA)} A and ${num(a.energyMilliJ, 0)} mJ; to spare at best ${num(b.marginKV)} kV instead of ${num(a.marginKV)}.`) : null),
		own.length ? findings(own) : null, working("the change", tried.working));
}

/** @param {SparkChange} change @param {() => void} changed */
function coilChoice(change, changed) {
	return choice({
		label: "The coil", name: "coil", isRow: true, value: change.coil ?? "", note: "Usual figures, common practice; none is measured.",
		options: [{ value: "", label: "as it is" }, ...Object.entries(coils).map(([value, { label, note }]) => ({ value, label, note }))],
		onChange: (value) => { change.coil = /** @type {SparkChange["coil"]} */ (value); delete change.primaryOhm; changed(); },
	}).element;
}

/** @param {Ground} ground @param {SparkChange} change @param {() => void} changed */
function knobs({ input, pitch, taken }, change, changed) {
	const coil = change.coil ? coils[change.coil] : null;
	const foundOhm = coil?.primaryOhm ?? input.coil.primaryOhm ?? Number(/([\d.]+) Ω/.exec(taken["coil.primaryOhm"] ?? "")?.[1] ?? 3);
	const foundGap = input.plug.gapMm ?? 0.6;
	const dwell = input.points.dwellDistDeg;
	/** @type {(key: "primaryOhm" | "ballastOhm" | "dwellDistDeg" | "gapMm", knob: Pick<import("../elements/stepper.js").StepperInput, "name" | "min" | "max" | "step" | "rest" | "less" | "more">, unit: (x: number) => string) => HTMLElement} */
	const knob = (key, how, unit) => stepper({
		...how, value: change[key] ?? how.rest, words: (value) => `${unit(value)}${Math.abs(value - how.rest) < 1e-9 ? ", as it is" : ""}`,
		onChange(value) { if (value === how.rest) delete change[key]; else change[key] = value; changed(); },
	}).element;
	return [
		knob("primaryOhm", { name: "Coil primary", min: Math.min(0.4, foundOhm), max: Math.max(5, foundOhm), step: 0.1, rest: foundOhm, less: "fewer ohms", more: "more ohms" }, (x) => `${short(x)} Ω`),
		knob("ballastOhm", { name: "Ballast", min: 0, max: Math.max(3, input.coil.ballastOhm ?? 0), step: 0.1, rest: input.coil.ballastOhm ?? 0, less: "fewer ohms", more: "more ohms" }, (x) => (x === 0 ? "None" : `${short(x)} Ω`)),
		knob("dwellDistDeg", { name: "Dwell", min: Math.min(dwell, Math.ceil(pitch / 4)), max: Math.max(dwell, Math.floor(pitch * 0.75)), step: 1, rest: dwell, less: "less", more: "more" }, (x) => `${short(x)} distributor degrees`),
		knob("gapMm", { name: "Plug gap", min: Math.min(0.3, foundGap), max: Math.max(1.5, foundGap), step: 0.05, rest: foundGap, less: "narrower", more: "wider" }, (x) => `${short(x)} mm, ${num(x / 0.0254, 0)} thou`),
	];
}
