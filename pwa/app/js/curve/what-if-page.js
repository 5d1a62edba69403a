// What if: change a spring, a post, the stop, the weights or the base, and
// see at once where the curve would go, against the book and against what was
// found.

import { engineState, onState } from "../engine/client.js";
import { bookFigure, corners } from "../record/book-band.js";
import { caseOf } from "../record/case.js";
import { forCalculation, fromAddress, knobs, words } from "./change.js";
import { drafts } from "../kept/drafts.js";
import { firstAnswer } from "../kit/first-answer.js";
import { caution } from "../kit/caution.js";
import { chosenLine } from "./chosen-line.js";
import { compareTable, countLine } from "./compare-table.js";
import { curvePlate, redraw } from "../kit/plate/curve-plate.js";
import { stillStarting } from "../kit/finding/not-yet.js";
import { baseUnderFit, limitOf, raised, ratioOf } from "./from-judgement.js";
import { stepper } from "../kit/stepper.js";
import { working } from "../kit/finding/working.js";
import { fill, h } from "../kit/dom.js";
import { button } from "../kit/field.js";
import { fold } from "../kit/fold.js";
import { latestOnly } from "../kit/latest-only.js";
import { address } from "../kit/address.js";
import { ask } from "../engine/ask.js";
import { followGarage } from "../kept/follow.js";
import { bookMissing, readingsMissing, refused } from "./cannot-judge.js";

/**
 * @typedef {object} Ground what the changes stand on
 * @property {Spec} spec @property {Fit} fit @property {BookFigure} book
 * @property {number} topDistRPM how far the lines are drawn
 * @property {CurvePoint[]} found the curve as found
 * @property {boolean} isTotal the base is known, so the figure shows totals
 * @property {number} base as found, or the book's where none was found; 0 when the figure shows advance alone
 * @property {boolean} isBaseFound
 * @property {import("./compare-table.js").Taken} taken what was read
 */

/** How many parts stand open: the two springs and the post are changed most (chosen). */
const often = 3;

/**
 * @param {HTMLElement} root
 * @param {PageContext} ctx
 */
export async function show(root, ctx) {
	const carId = ctx.params.car;
	const draftKey = `what-if/${carId}`;
	const offered = fromAddress(ctx.params.mend);
	if (offered) {
		await drafts.put(draftKey, { change: offered }).catch(() => {});
		history.replaceState(history.state, "", address("car", carId, "what-if"));
	}
	const kept = await drafts.get(draftKey).catch(() => null);
	/** @type {{turn: number, change: GovernorChange}} */
	const state = { turn: 0, change: { ...(offered ?? kept?.change) } };

	async function update() {
		const turn = ++state.turn;
		const given = caseOf(carId);
		const missing = bookMissing(given, carId) ?? (given.sets.length ? null : readingsMissing(carId));
		if (missing || !given.spec) return fill(root, missing);
		try {
			const ground = await groundOf(given.spec, given.sets);
			if (turn === state.turn && !ctx.signal.aborted)
				bench(root, carId, ground, state.change, (change) => drafts.put(draftKey, { change }).catch(() => {}));
		} catch (problem) {
			if (turn === state.turn && !ctx.signal.aborted)
				fill(root, refused(/** @type {Problem} */ (problem), carId));
		}
	}

	if (engineState() !== "ready") fill(root, stillStarting(engineState(), carId));
	ctx.signal.addEventListener(
		"abort",
		onState(() => update()),
	);
	await firstAnswer(followGarage(ctx.signal, update));
}

/** @param {Spec} spec @param {ReadingSet[]} readings @returns {Promise<Ground>} */
async function groundOf(spec, readings) {
	const [judgement, fit] = await Promise.all([
		ask("advance.judge", { spec, readings }),
		ask("advance.fit", { spec, readings }),
	]);
	const found = baseUnderFit(fit, judgement.baseCrankDeg ?? null);
	const total = await bookFigure(spec, "total");
	const topDistRPM = Math.max((1.12 * /** @type {number} */ (corners(spec).at(-1))) / ratioOf(spec), 500);
	const asFound = /** @type {WhatIfAnswer} */ (
		await ask("advance.whatif", { model: fit.model, change: {}, topDistRPM })
	);
	const isTotal = total.rows.length > 0 && (found ?? spec.baseCrankDeg ?? null) !== null;
	const base = isTotal ? (found ?? spec.baseCrankDeg ?? 0) : 0;
	return {
		spec,
		fit,
		isTotal,
		isBaseFound: (judgement.baseCrankDeg ?? null) !== null,
		book: isTotal ? total : await bookFigure(spec, "advance"),
		base,
		topDistRPM,
		found: asFound.curve,
		taken: takenOf(judgement, isTotal, base),
	};
}

/**
 * The readings in the quantity shown: bench readings raised by the base where
 * totals are; a car's totals left out where advance alone is.
 * @param {Judgement} judgement @param {boolean} isTotal @param {number} base crank degrees
 * @returns {import("./compare-table.js").Taken}
 */
function takenOf({ points, counts }, isTotal, base) {
	const shown = points.filter((p) => p.verdict !== "unknown" && (isTotal || p.base === "excluded"));
	return {
		error: Math.max(0, ...shown.map((p) => p.readingErrorCrankDeg ?? 0)),
		counts,
		readings: shown.map((p) => ({
			engineRPM: p.engineRPM,
			direction: p.direction,
			crankDeg: p.measuredCrankDeg + (isTotal && p.base === "excluded" ? base : 0),
		})),
	};
}

/**
 * The figure, its controls and the comparison.
 * @param {HTMLElement} root @param {string} carId @param {Ground} ground
 * @param {GovernorChange} change kept up to date here
 * @param {(change: GovernorChange) => void} keep
 */
function bench(root, carId, ground, change, keep) {
	const status = h("p", { class: "in-band-count", role: "status" });
	const does = h("div", { class: "what-it-does" });
	const comparison = h("div", {});
	const controls = h("div", { class: "knobs" });
	const figure = curvePlate(inputOf(ground, null, change), { status, controls });
	const refresh = latestOnly(
		async () => {
			const answer = /** @type {WhatIfAnswer} */ (
				await ask("advance.whatif", {
					model: ground.fit.model,
					change: forCalculation(change),
					topDistRPM: ground.topDistRPM,
				})
			);
			const input = inputOf(ground, answer, change);
			redraw(figure, input);
			fill(status, countLine(input, ground.taken));
			fill(
				comparison,
				fold("what-if/table", { title: "As found and as changed" }, compareTable(input, ground.taken)),
			);
			fill(does, effects(answer));
		},
		(problem) => fill(status, String(problem.detail ?? problem.title)),
	);
	const parts = knobs
		.filter(({ key }) => key !== "baseCrankDeg" || ground.isTotal)
		.map((knob) =>
			part(knob, ground, change, () => {
				keep(change);
				refresh();
			}),
		);
	fillKnobs(controls, parts, () => {
		for (const key of Object.keys(change)) delete change[/** @type {keyof GovernorChange} */ (key)];
		parts.forEach((one) => one.reset());
		keep(change);
		refresh();
	});
	const caveat =
		ground.isBaseFound || !ground.fit.basis
			? null
			: h("p", { class: "note" }, `This stands on ${ground.fit.basis}.`);
	fill(
		root,
		h("p", { class: "lead" }, "Change a part below, on paper: the curve follows."),
		chosenLine(carId),
		caveat,
		figure,
		does,
		comparison,
		care(),
	);
	refresh();
}

/**
 * @param {HTMLElement} controls @param {ReturnType<typeof part>[]} parts @param {() => void} putBack
 */
function fillKnobs(controls, parts, putBack) {
	const [first, more] = [parts.slice(0, often), parts.slice(often)];
	fill(
		controls,
		first.map((one) => one.element),
		fold(
			"what-if/more",
			{ title: "More parts", isOpen: more.some(({ isChanged }) => isChanged) },
			more.map((one) => one.element),
		),
		button("Put everything back as found", putBack),
	);
}

/**
 * @param {import("./change.js").Knob} knob
 * @param {Ground} ground
 * @param {GovernorChange} change
 * @param {() => void} changed
 */
function part(knob, ground, change, changed) {
	const found = foundValue(knob, ground);
	const { key } = knob;
	const control = stepper({
		...knob,
		...reach(knob, change[key] ?? found, found),
		rest: found,
		value: change[key] ?? found,
		words: (value) =>
			key === "baseCrankDeg" && !ground.isBaseFound
				? words(key, value, found).replace("as it is", "as the book has it")
				: words(key, value, found),
		onChange(value) {
			if (value === found) delete change[key];
			else change[key] = value;
			changed();
		},
	});
	return { element: control.element, reset: () => control.set(found), isChanged: change[key] !== undefined };
}

/**
 * A knob's range, widened to whole steps where a mend or this car goes beyond it.
 * @param {import("./change.js").Knob} knob
 * @param {number[]} values
 */
function reach({ min, max, step }, ...values) {
	const room = 6 * step; // so that both buttons still move it
	const low = Math.min(...values);
	const high = Math.max(...values);
	return {
		min: low < min ? Math.floor(low / step) * step : min,
		max: high > max - room ? Math.ceil(high / step) * step + room : max,
	};
}

/** The value at which nothing is changed. @param {import("./change.js").Knob} knob @param {Ground} ground */
function foundValue({ key, rest }, ground) {
	if (rest !== null) return rest;
	return key === "baseCrankDeg" ? ground.base : ground.fit.model.limitDistDeg;
}

/**
 * @param {Ground} ground @param {WhatIfAnswer | null} answer @param {GovernorChange} change
 * @returns {PlateInput}
 */
function inputOf(ground, answer, change) {
	const { spec, found, book, base, isTotal, isBaseFound } = ground;
	const ratio = ratioOf(spec);
	const newBase = isTotal ? (change.baseCrankDeg ?? base) : 0;
	const foundName = isTotal && !isBaseFound ? "as found, set on the book’s base" : "as found";
	return {
		title: isTotal
			? "Total timing before TDC: as found, and with the changes set above."
			: "Advance above base: as found, and with the changes set above.",
		axis: { quantity: isTotal ? "total" : "advance", baseCrankDeg: newBase, driveRatio: ratio },
		bands: book.rows,
		range: book.range,
		points: [],
		limits: limitOf({ ...spec, limitDistDeg: change.limitDistDeg ?? spec.limitDistDeg }, newBase, ratio),
		curves: [
			{ kind: "found", name: foundName, points: raised(found, ratio, base) },
			...(answer
				? [
						{
							kind: /** @type {const} */ ("what-if"),
							name: "with these changes",
							points: raised(answer.curve, ratio, newBase),
						},
					]
				: []),
		],
	};
}

/** @param {WhatIfAnswer} answer */
function effects(answer) {
	const lines = answer.words ?? [];
	return lines.length
		? fold(
				"what-if/does",
				{ title: "What this does", id: "does-title" },
				h(
					"ul",
					null,
					lines.map((line) => h("li", null, line)),
				),
				working("the change", answer.working),
			)
		: null;
}

function care() {
	return caution("before doing it", [
		"A curve that fits the book can still knock on today’s fuel. Listen for knock on the road. Back off at the first knock. Too much advance can burn pistons.",
		"Ignition off and the battery’s earth lead off before the distributor is opened.",
	]);
}
