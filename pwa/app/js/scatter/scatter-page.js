// Cylinder by cylinder: how far each flash stands from where it should, what
// the pattern means, and which cylinder is the earliest.

import { onReady } from "../engine/client.js";
import { keepFactOf } from "../record/car-electrics.js";
import { intervalsDoubt } from "./firing.js";
import { garage } from "../kept/garage.js";
import { answersTo, questionOf } from "../record/choices.js";
import { cylindersOf, orderOf } from "../record/known.js";
import { mostRuns, scatterInput, scatterKey, scatterVisit } from "./scatter.js";
import { firstAnswer, patient } from "../kit/first-answer.js";
import { caution } from "../kit/caution.js";
import { button, choice, nextButton, problemLine, textField } from "../kit/field.js";
import { judged } from "../kit/finding/judged.js";
import { notYet } from "../kit/finding/not-yet.js";
import { xyPlate } from "../kit/plate/xy-plate.js";
import { fill, h } from "../kit/dom.js";
import { fold } from "../kit/fold.js";
import { num, signed } from "../kit/format.js";
import { address } from "../kit/address.js";
import { cautions } from "../safety/cautions.js";
import { ask } from "../engine/ask.js";
import { changedFact, keepVisitFacts } from "../record/visit-facts.js";
import { inEnglish } from "../kit/words.js";

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	const car = /** @type {Doc<Car>} */ (ctx.car);
	const given = () => {
		const now = /** @type {Doc<Car>} */ (garage.get("car", car.id));
		return { car: now, distributor: garage.get("distributor", now.body.distributorId), answers: {} };
	};
	const cylinders = cylindersOf(given());
	if (cylinders === null)
		return fill(
			root,
			notYet("How many cylinders?", "Without their number there is no even spacing to compare with.", {
				href: address("car", car.id, "facts"),
				label: "Enter the facts",
			}),
		);
	const facts = () => scatterVisit(car.id)?.body.facts ?? {};
	const steps = address("car", car.id, "do", "scatter");
	const measure = () => nextButton("Measure each cylinder, by strobe", steps);
	const [word, go, picture] = [h("div"), h("div"), h("div")];
	const draw = async () => {
		const input = scatterInput(given(), facts());
		if (!input) {
			fill(picture);
			fill(go, measure());
			return fill(word, h("p", { class: "lead" }, "Enter one whole run, every flash against No. 1."));
		}
		try {
			const answer = await ask("scatter.analyse", input);
			if (ctx.signal.aborted) return;
			fill(word, judged("the cylinders", answer), answer.verdict === "unknown" ? null : hero(answer));
			fill(go, answer.verdict === "pass" ? button("Measure again, by strobe", steps) : measure());
			fill(picture, plate(answer), parts(answer));
		} catch (problem) {
			fill(picture);
			fill(go, measure());
			fill(word, problemLine(/** @type {Problem} */ (problem)));
		}
	};
	const keep = (/** @type {string} */ key, /** @type {Partial<Fact>} */ change) =>
		keepVisitFacts(car, { [key]: changedFact(facts()[key], change) }).then(draw, () => {});
	fill(
		root,
		word,
		go,
		picture,
		caution("before each cylinder is read", [
			cautions().strobe,
			cautions().highTension,
			cautions().fan,
			cautions().bench,
		]),
		firingQuestions(given(), cylinders, facts(), { keep, draw }),
		entry(given(), cylinders, { ...facts() }, keep), // as it is typed
		button("Ring sheet to write on", address("car", car.id, "cap")),
	);
	ctx.signal.addEventListener("abort", onReady(draw));
	await firstAnswer(draw(), patient);
}

/**
 * How the engine fires and what fires it: uneven firing by design, and two sets
 * of points out of step, look like a worn cam.
 * @param {import("../record/known.js").Given} given @param {number} cylinders @param {Facts} facts
 * @param {{keep: (key: string, change: Partial<Fact>) => void, draw: () => void}} doing
 */
function firingQuestions(given, cylinders, facts, { keep, draw }) {
	const { car, distributor } = given;
	const unit = distributor?.body.facts ?? {};
	const put = (
		/** @type {"car" | "distributor"} */ of,
		/** @type {string} */ id,
		/** @type {string} */ key,
		/** @type {string} */ value,
	) => keepFactOf(of, id, key, { value, source: "measured" }).then(draw);
	const typed = car.body.facts.firingIntervals?.value ?? "";
	const uneven = h("div");
	const intervals = textField({
		label: "Crank degrees from each firing to the next",
		name: "firingIntervals",
		value: typed,
		unit: "crank degrees",
		maxLength: 120,
		note:
			"In firing order, the first from No. 1, such as 90 150. What comes again need be typed once. " +
			"They add up to 720, or 360 for a two-stroke.",
		onInput(value) {
			intervals.setProblem(intervalsDoubt(value, cylinders));
			put("car", car.id, "firingIntervals", value);
		},
	});
	intervals.setProblem(intervalsDoubt(typed, cylinders));
	const against = choice({
		label: "The errors are read against",
		name: "scatter-against",
		value: facts["scatter.against"]?.value ?? "",
		isRow: true,
		options: [
			{ value: "even", label: "an even ring" },
			{ value: "own", label: "each cylinder’s own mark" },
		],
		onChange: (value) => keep("scatter.against", { value }),
	}).element;
	const show = (/** @type {string} */ how) => fill(uneven, how === "uneven" ? [intervals.element, against] : null);
	show(car.body.facts.firing?.value ?? "");
	const how = choice({
		label: questionOf("firing"),
		name: "firing",
		value: car.body.facts.firing?.value ?? "",
		note: "Not said: even firing is taken, and the cam is not called worn for sure.",
		options: answersTo("firing"),
		onChange(value) {
			show(value);
			put("car", car.id, "firing", value);
		},
	});
	return fold(
		"scatter/fires",
		{ title: "How it fires" },
		how.element,
		uneven,
		distributor ? setsChoice(unit, (value) => put("distributor", distributor.id, "pointsSets", value)) : null,
	);
}

/** Which points fire it. @param {Facts} unit @param {(value: string) => void} put */
function setsChoice(unit, put) {
	return choice({
		label: questionOf("pointsSets"),
		name: "pointsSets",
		value: unit.pointsSets?.value || (unit.pointsKind?.value === "single" ? "single" : ""),
		options: answersTo("pointsSets"),
		onChange: put,
	}).element;
}

/**
 * @param {import("../record/known.js").Given} given
 * @param {number} cylinders
 * @param {Facts} facts
 * @param {(key: string, change: Partial<Fact>) => void} keep
 */
function entry(given, cylinders, facts, keep) {
	const order = orderOf(given);
	const isRead = Boolean(facts[scatterKey(1, 2)]?.value);
	let runs = Math.max(
		1,
		...Array.from({ length: mostRuns }, (_, i) => (facts[scatterKey(i + 1, 2)]?.value ? i + 1 : 0)),
	);
	const room = h("div");
	const unit = () => (facts["scatter.unit"]?.value === "crank" ? "crank degrees" : "distributor degrees");
	const cell = (/** @type {number} */ run, /** @type {number} */ flash) => {
		const key = scatterKey(run, flash);
		const name = order ? `No. ${order[flash - 1]}` : `Flash ${flash}`;
		return h(
			"div",
			{ class: "scatter-cell" },
			textField({
				label: name,
				name: key,
				value: facts[key]?.value ?? "",
				isNumber: true,
				unit: "°",
				note: flash === 1 ? "Empty: 0, all others are read against it." : null,
				onInput: (value) => {
					facts[key] = { value, unit: unit(), source: "measured", note: facts[key]?.note || "early" };
					keep(key, facts[key]);
				},
			}).element,
			choice({
				label: h("span", { class: "vh" }, `${name}, run ${run}`),
				name: `${key}-side`,
				value: facts[key]?.note || "early",
				isRow: true,
				options: [
					{ value: "early", label: "early" },
					{ value: "late", label: "late" },
				],
				onChange: (note) => {
					facts[key] = changedFact(facts[key], { unit: unit(), note });
					keep(key, facts[key]);
				},
			}).element,
		);
	};
	const draw = () =>
		fill(
			room,
			Array.from({ length: runs }, (_, run) =>
				h(
					"section",
					null,
					h("h3", null, `Run ${run + 1}`),
					Array.from({ length: cylinders }, (_, i) => cell(run + 1, i + 1)),
				),
			),
		);
	draw();
	return fold(
		"scatter/entry",
		{ title: order ? "Each flash, in firing order" : "Each flash, in the order it comes", isOpen: !isRead },
		order
			? null
			: h("p", { class: "note" }, "Enter the firing order under Facts, and the earliest cylinder is named."),
		choice({
			label: "Read",
			name: "scatter-place",
			value: facts["scatter.place"]?.value ?? "",
			isRow: true,
			options: [
				{ value: "bench", label: "on the bench" },
				{ value: "car", label: "on the car" },
			],
			onChange: (value) => {
				facts["scatter.place"] = { value, unit: "", source: "measured", note: "" };
				keep("scatter.place", { value });
			},
		}).element,
		choice({
			label: "In",
			name: "scatter-unit",
			value: facts["scatter.unit"]?.value ?? "",
			isRow: true,
			options: [
				{ value: "distributor", label: "distributor degrees" },
				{ value: "crank", label: "crank degrees" },
			],
			onChange: (value) => {
				facts["scatter.unit"] = { value, unit: "", source: "measured", note: "" };
				keep("scatter.unit", { value });
			},
		}).element,
		room,
		button("One more run of the same", () => {
			runs = Math.min(mostRuns, runs + 1);
			draw();
		}),
		textField({
			label: "Margin from No. 1’s total to knock",
			name: "scatter.margin",
			value: facts["scatter.margin"]?.value ?? "",
			unit: "crank degrees",
			isNumber: true,
			note: "Found on the road; it is smaller on the earliest cylinder.",
			onInput: (value) => keep("scatter.margin", { value, unit: "crank degrees" }),
		}).element,
	);
}

/** The earliest cylinder, named; large where something is to be done about it. @param {any} answer */
function hero({ verdict, earliest, realMarginCrankDeg: margin }) {
	if (earliest.crankDeg < 0.05) return h("p", { class: "lead" }, "No cylinder fires before No. 1.");
	const who = earliest.cylinder ? `No. ${earliest.cylinder}` : `Flash ${earliest.position}`;
	const words = [
		`fires earliest, ${signed(earliest.crankDeg)} crank degrees before its turn.`,
		margin !== null && margin !== undefined ? ` Its margin to knock is ${num(margin)} degrees.` : "",
	];
	if (verdict === "pass") return null; // what is found says it
	return h(
		"div",
		{ class: "step-figure" },
		h("p", { class: "step-number figures" }, who),
		h("p", { class: "step-number-words" }, words),
	);
}

/** @param {any} answer */
function plate({ flashes, meanDistDeg: mean }) {
	const most = Math.max(
		1.5,
		Math.abs(mean) + 1.25,
		...flashes.map((/** @type {any} */ f) => Math.abs(f.errorDistDeg) + 0.5),
	);
	const names = Object.fromEntries(
		flashes.map((/** @type {any} */ f) => [f.position, String(f.cylinder || f.position)]),
	);
	return xyPlate({
		number: 1,
		title: "Each cylinder in firing order, early above, late below.",
		lineWords: "Line: the one wave a turn. Band: ±1 about the mean, good.",
		stems: true,
		x: { label: "cylinder", lo: 0.5, hi: flashes.length + 0.5, names },
		y: { label: "distributor degrees, early +", lo: -most, hi: most },
		band: [
			{ x: 0.5, lo: mean - 1, hi: mean + 1 },
			{ x: flashes.length + 0.5, lo: mean - 1, hi: mean + 1 },
		],
		line: flashes.map((/** @type {any} */ f) => ({ x: f.position, y: f.waveDistDeg })),
		marks: flashes.map((/** @type {any} */ f) => ({
			x: f.position,
			y: f.errorDistDeg,
			words: `${f.cylinder ? `No. ${f.cylinder}` : `flash ${f.position}`}: ${signed(f.errorDistDeg)} distributor degrees, ${f.verdict}`,
		})),
	});
}

/** The pattern in its parts, each with what it means. @param {any} answer */
function parts(answer) {
	const rows = [
		["Mean", answer.meanDistDeg, "an offset against No. 1, no fault"],
		["One wave a turn", answer.firstHarmonicDistDeg, inEnglish("shaft or bush")],
		["Largest left over", answer.residualMaxDistDeg, "single lobes of the cam"],
		[
			"Early and late by turns",
			answer.alternatingDistDeg,
			"uneven firing, two sets of points, or every other lobe",
		],
		...(answer.repeatSpreadDistDeg === null || answer.repeatSpreadDistDeg === undefined
			? []
			: [["Spread of repeats", answer.repeatSpreadDistDeg, inEnglish("slack in bush or drive")]]),
	];
	return h(
		"table",
		{ class: "ruled-table figures parts-table" },
		h("caption", null, "Taken apart, distributor degrees"),
		h(
			"tbody",
			null,
			rows.map(([name, value, means]) =>
				h(
					"tr",
					null,
					h("th", { scope: "row" }, String(name)),
					h("td", null, num(Number(value), 2)),
					h("td", { class: "note" }, String(means)),
				),
			),
		),
	);
}
