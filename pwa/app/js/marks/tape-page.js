// A timing tape for this pulley, to be printed at true scale.

import { onReady } from "../engine/client.js";
import { garage } from "../kept/garage.js";
import { drafts } from "../kept/drafts.js";
import { keepFactOf } from "../record/car-electrics.js";
import { sheetMm, tapeInput } from "./marks.js";
import { caution } from "../kit/caution.js";
import { button, choice, nextButton, problemLine, textField } from "../kit/field.js";
import { measuredField } from "../kit/measured-field.js";
import { tapeSheet } from "./tape-sheet.js";
import { working } from "../kit/finding/working.js";
import { fill, h } from "../kit/dom.js";
import { fold } from "../kit/fold.js";
import { num } from "../kit/format.js";
import { address } from "../kit/address.js";
import { cautions } from "../safety/cautions.js";
import { ask } from "../engine/ask.js";

/** What is printed where nothing is wished otherwise. Chosen. */
const usual = { before: "50", after: "10", step: "2", carrier: "pulley", thickness: "" };

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	const carId = ctx.params.car;
	const facts = () => /** @type {Facts} */ (garage.get("car", carId)?.body.facts ?? {});
	const wish = { ...usual, ...(await drafts.get(`tape/${carId}`)) };
	const sheets = h("div", { class: "tape-sheets", "aria-live": "polite" });
	const toPrint = nextButton("Print at 100 %", () => print());
	const draw = async () => {
		const { input, missing } = tapeInput(facts(), wish);
		if (!input) return fill(sheets, h("p", { class: "lead" }, missing));
		try {
			const tape = await ask("marks.tape", input);
			if (!ctx.signal.aborted) fill(sheets, drawn(tape, facts(), wish));
		} catch (problem) {
			fill(sheets, problemLine(/** @type {Problem} */ (problem)));
		}
	};
	const keep = (/** @type {Partial<typeof wish>} */ change) => {
		Object.assign(wish, change);
		drafts.put(`tape/${carId}`, wish);
		draw();
	};
	fill(
		root,
		h(
			"div",
			{ class: "tape-wishes" },
			diameter(carId, facts, draw),
			crankTurns(carId, facts, draw),
			choice({
				label: "The tape goes",
				name: "carrier",
				value: wish.carrier,
				isRow: true,
				options: [
					{ value: "pulley", label: "on the pulley, which turns" },
					{ value: "case", label: "on the case, which stands" },
				],
				onChange: (carrier) => keep({ carrier }),
			}).element,
			toPrint,
			reach(wish, keep),
			fold(
				"tape/finer",
				{ title: "Finer wishes" },
				choice({
					label: "A line every",
					name: "step",
					value: wish.step,
					isRow: true,
					options: [
						{ value: "1", label: "1°" },
						{ value: "2", label: "2°" },
						{ value: "5", label: "5°" },
					],
					onChange: (step) => keep({ step }),
				}).element,
				textField({
					label: "Thickness of paper and glue",
					name: "thickness",
					value: wish.thickness,
					unit: "mm",
					isNumber: true,
					note: "0.3 mm on 150 mm changes 30° by 0.16 mm. Empty: none.",
					onInput: (thickness) => keep({ thickness }),
				}).element,
			),
			button("Back to the marks", address("car", carId, "marks")),
			caution("before it goes on the rim", [cautions().byHand, cautions().fan, cautions().solvents]),
		),
		sheets,
	);
	ctx.signal.addEventListener("abort", onReady(draw));
	await draw();
}

/**
 * The pulley itself: facts of the car, kept with them.
 * @param {string} carId @param {() => Facts} facts @param {() => Promise<void>} draw
 */
const diameter = (carId, facts, draw) =>
	measuredField({
		label: "Diameter where the tape goes",
		name: "pulleyDiameter",
		fact: facts().pulleyDiameter,
		units: ["mm", "in"],
		note: "Measured over the rim itself. It sets the scale.",
		onChange: (change) => keepFactOf("car", carId, "pulleyDiameter", { ...change, source: "measured" }).then(draw),
	}).element;

/** @param {string} carId @param {() => Facts} facts @param {() => Promise<void>} draw */
const crankTurns = (carId, facts, draw) =>
	choice({
		label: "Seen from where you stand, the crank turns",
		name: "crankRotation",
		value: facts().crankRotation?.value ?? "",
		isRow: true,
		options: [
			{ value: "clockwise", label: "clockwise" },
			{ value: "anticlockwise", label: "anticlockwise" },
		],
		onChange: (value) => keepFactOf("car", carId, "crankRotation", { value, source: "measured" }).then(draw),
	}).element;

/** @param {any} tape @param {Facts} facts @param {{carrier: string}} wish */
function drawn(tape, facts, wish) {
	const rim = `${facts.pulleyDiameter.value} ${facts.pulleyDiameter.unit || "mm"} rim, crank ${facts.crankRotation.value}, ${wish.carrier === "case" ? "tape on the case" : "tape on the pulley"}`;
	return [
		h(
			"p",
			{ class: "lead tape-side" },
			h("strong", null, `Before TDC lies on the ${tape.beforeSide} of the zero. `),
			tape.sideWhy,
		),
		h(
			"p",
			{ class: "tape-check" },
			"On the paper 0 to 30 must measure ",
			h("strong", { class: "figures" }, `${num(tape.checkMm, 2)} mm`),
			`; one degree is ${num(tape.mmPerDeg, 3)} mm.`,
		),
		tape.pages.map((/** @type {import("./tape-sheet.js").TapePage} */ page) =>
			tapeSheet(page, {
				count: tape.pages.length,
				beforeSide: tape.beforeSide,
				words: rim,
				rotation: facts.crankRotation.value,
			}),
		),
		h(
			"p",
			{ class: "note screen-only" },
			`On the screen it is drawn to fit; on paper a sheet is ${num(sheetMm.width, 1)} mm wide.`,
		),
		fold(
			"tape/how",
			{ title: "How to print it and lay it on" },
			h(
				"ol",
				{ class: "tape-how" },
				tape.instructions.map((/** @type {string} */ line) => h("li", null, line)),
			),
		),
		working("the tape", tape.working, tape.sources),
	];
}

/**
 * How far it reaches.
 * @param {{before: string, after: string}} wish @param {(change: {before?: string, after?: string}) => void} keep
 */
function reach(wish, keep) {
	return h(
		"div",
		{ class: "two-fields" },
		textField({
			label: "Before TDC",
			name: "before",
			value: wish.before,
			unit: "°",
			isNumber: true,
			onInput: (before) => keep({ before }),
		}).element,
		textField({
			label: "After TDC",
			name: "after",
			value: wish.after,
			unit: "°",
			isNumber: true,
			onInput: (after) => keep({ after }),
		}).element,
	);
}
