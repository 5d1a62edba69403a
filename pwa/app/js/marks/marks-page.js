// The timing marks of this car: true zero, distances along the rim, teeth of
// the ring gear, travel of the piston; from here to the tape and the cap.

import { figureRows } from "../kit/plate/rows.js";
import { onReady } from "../engine/client.js";
import { keepFactOf } from "../record/car-electrics.js";
import { garage } from "../kept/garage.js";
import { arcTable, pistonTable, rimOf, teethTable } from "./marks.js";
import { firstAnswer } from "../kit/first-answer.js";
import { figureIn } from "../kit/units.js";
import { caution } from "../kit/caution.js";
import { button, choice, nextButton, problemLine, textField } from "../kit/field.js";
import { measuredField } from "../kit/measured-field.js";
import { mark, verdictWord } from "../kit/mark.js";
import { working } from "../kit/finding/working.js";
import { fill, h } from "../kit/dom.js";
import { fold } from "../kit/fold.js";
import { num, parse } from "../kit/format.js";
import { address } from "../kit/address.js";
import { cautions } from "../safety/cautions.js";
import { ask } from "../engine/ask.js";
import { timing } from "../record/answers.js";
import { keepVisitFacts, lastFact } from "../record/visit-facts.js";
import { inEnglish } from "../kit/words.js";

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	const car = /** @type {Doc<Car>} */ (ctx.car);
	const parts = [trueZero(car), rim(car), ring(car), piston(car)];
	fill(
		root,
		nextButton("Prove TDC step by step", address("car", car.id, "do", "prove-tdc")),
		button("Print a tape for this pulley", address("car", car.id, "tape")),
		button("Cap plan and ring sheet", address("car", car.id, "cap")),
		parts.map(({ element }) => element),
	);
	const draw = () => Promise.all(parts.map((part) => part.draw()));
	ctx.signal.addEventListener("abort", onReady(draw));
	await firstAnswer(draw());
}

/** @param {string} carId */
const factsOf = (carId) => /** @type {Facts} */ (garage.get("car", carId)?.body.facts ?? {});

/** Two touches of a stop. @param {Doc<Car>} car */
function trueZero(car) {
	const [kept, keptAfter] = [lastFact(car.id, "tdc.firstTouch")?.fact, lastFact(car.id, "tdc.secondTouch")?.fact];
	const side = (/** @type {Fact | undefined} */ fact, /** @type {string} */ usual) =>
		fact ? (/after/.test(fact.unit) ? "after" : "before") : usual;
	/** @type {{[key: string]: string}} */
	const typed = {
		first: kept?.value ?? "",
		"first.side": side(kept, ""),
		second: keptAfter?.value ?? "",
		"second.side": side(keptAfter, ""),
	};
	const room = h("div", { class: "marks-answer", "aria-live": "polite" });
	const draw = async () => {
		const [first, second] = [timing(typed, "first"), timing(typed, "second")];
		if (first === null || second === null)
			return fill(room, h("p", { class: "note" }, "Both touches, each with its side of the old zero."));
		try {
			const answer = await ask("marks.tdc", {
				stopBeforeCrankDeg: -Math.max(first, second),
				stopAfterCrankDeg: -Math.min(first, second),
			});
			const zero = -answer.trueZeroCrankDeg;
			fill(
				room,
				h(
					"div",
					{ class: "step-figure" },
					h("p", { class: "step-number figures" }, `${num(Math.abs(zero))}°`),
					h(
						"p",
						{ class: "step-number-words" },
						`${Math.abs(zero) < 0.05 ? "off:" : zero > 0 ? "before" : "after"} the old zero is true TDC`,
					),
				),
				h("p", null, mark(answer.verdict), h("strong", null, ` ${verdictWord(answer.verdict)}. `), answer.note),
				caution("the stop", [cautions().stop]),
				working("true TDC", answer.working, answer.sources),
			);
		} catch (problem) {
			fill(room, problemLine(/** @type {Problem} */ (problem)));
		}
	};
	const keep = () => {
		const fact = (/** @type {string} */ key) => ({
			value: typed[key].trim(),
			unit: `crank degrees ${typed[`${key}.side`] || "before"} TDC`,
			source: /** @type {Source} */ ("measured"),
			note: "on the old marks",
		});
		const change = /** @type {{[key: string]: Fact}} */ ({});
		if (typed.first.trim()) change["tdc.firstTouch"] = fact("first");
		if (typed.second.trim()) change["tdc.secondTouch"] = fact("second");
		if (Object.keys(change).length) keepVisitFacts(car, change).catch(() => {});
		draw();
	};
	const touch = (/** @type {string} */ key, /** @type {string} */ label) => [
		textField({
			label,
			name: key,
			value: typed[key],
			unit: "° on the old marks",
			isNumber: true,
			onInput: (text) => {
				typed[key] = text;
				keep();
			},
		}).element,
		choice({
			label: "That is",
			name: `${key}-side`,
			value: typed[`${key}.side`],
			isRow: true,
			options: [
				{ value: "before", label: "before the old zero" },
				{ value: "after", label: "after the old zero" },
			],
			onChange: (value) => {
				typed[`${key}.side`] = value;
				keep();
			},
		}).element,
	];
	return {
		draw,
		element: fold(
			"marks/stops",
			{ title: "True zero from two stops" },
			touch("first", "It touches first at"),
			touch("second", "Turned back, it touches at"),
			room,
		),
	};
}

/** @param {Doc<Car>} car */
function rim(car) {
	const room = h("div");
	const draw = async () => {
		const diameter = rimOf(factsOf(car.id));
		if (diameter === null) return fill(room, h("p", { class: "note" }, "Type the diameter for the distances."));
		const rows = await arcTable(diameter);
		fill(
			room,
			table(
				"Distances on this rim",
				["Crank", "Rim, mm", "Rule, mm"],
				rows.map(({ crankDeg, arcMm, chordMm }) => [`${crankDeg}°`, num(arcMm, 2), num(chordMm, 2)]),
			),
			h(
				"p",
				{ class: "note" },
				"Wrap a strip of paper for the first; a straight rule gives the second, which is shorter.",
			),
		);
	};
	const field = measuredField({
		label: "Diameter where the marks are",
		name: "pulleyDiameter",
		fact: factsOf(car.id).pulleyDiameter,
		units: ["mm", "in"],
		onChange: (change) => keepFactOf("car", car.id, "pulleyDiameter", { ...change, source: "measured" }).then(draw),
	});
	return {
		draw,
		element: fold("marks/rim", { title: "Along the rim" }, field.element, room),
	};
}

/** @param {Doc<Car>} car */
function ring(car) {
	const room = h("div");
	const draw = async () => {
		const teeth = parse(factsOf(car.id).ringTeeth?.value);
		if (teeth === null || !Number.isInteger(teeth) || teeth < 20 || teeth > 400)
			return fill(room, h("p", { class: "note" }, "20 to 400 teeth, counted on the ring gear."));
		const rows = await teethTable(teeth);
		fill(
			room,
			table(
				`One tooth is ${num(rows[0].degPerTooth, 2)} crank degrees`,
				["Crank", "Teeth"],
				rows.map((row) => [`${row.crankDeg}°`, num(row.teeth, 2)]),
			),
		);
	};
	const field = textField({
		label: "Teeth of the ring gear",
		name: "ringTeeth",
		value: factsOf(car.id).ringTeeth?.value ?? "",
		unit: "teeth",
		isNumber: true,
		onInput: (value) =>
			keepFactOf("car", car.id, "ringTeeth", { value, unit: "teeth", source: "measured" }).then(draw),
	});
	return {
		draw,
		element: fold("marks/gear", { title: "By the ring gear" }, field.element, room),
	};
}

/** @param {Doc<Car>} car */
function piston(car) {
	const room = h("div");
	const draw = async () => {
		const facts = factsOf(car.id);
		const [stroke, rod] = [figureIn(facts.stroke, "mm"), figureIn(facts.rod, "mm")];
		if (stroke === null || rod === null)
			return fill(room, h("p", { class: "note" }, inEnglish("Stroke and rod, centre to centre.")));
		try {
			const rows = await pistonTable(stroke, rod);
			fill(
				room,
				table(
					"Travel of the piston below its top",
					["Crank", "mm", "in"],
					rows.map(({ crankDeg, travelMm }) => [`${crankDeg}°`, num(travelMm, 2), num(travelMm / 25.4, 4)]),
				),
			);
		} catch (problem) {
			fill(room, problemLine(/** @type {Problem} */ (problem)));
		}
	};
	const field = (/** @type {"stroke" | "rod"} */ key, /** @type {string} */ label) =>
		measuredField({
			label,
			name: key,
			fact: factsOf(car.id)[key],
			units: ["mm", "in"],
			onChange: (change) => keepFactOf("car", car.id, key, { ...change, source: "measured" }).then(draw),
		}).element;
	return {
		draw,
		element: fold(
			"marks/piston",
			{ title: "By the piston" },
			field("stroke", "Stroke"),
			field("rod", "Connecting rod"),
			room,
		),
	};
}

/** @param {string} caption @param {string[]} heads @param {string[][]} rows */
const table = (caption, heads, rows) => figureRows({ caption, heads, rows, class: "ruled-table figures" });
