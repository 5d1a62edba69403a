// The cap of this car: which post serves which cylinder, which share a mark,
// which leads to keep apart; and a sheet for the bench ring.

import { onReady } from "../engine/client.js";
import { keepFactOf } from "../record/car-electrics.js";
import { garage } from "../kept/garage.js";
import { cylindersOf, factText, orderOf, rotationOf } from "../record/known.js";
import { capFigure, ringFigure } from "./cap-figure.js";
import { firstAnswer, patient } from "../kit/first-answer.js";
import { button, choice, nextButton, problemLine, textField } from "../kit/field.js";
import { working } from "../kit/finding/working.js";
import { fill, h } from "../kit/dom.js";
import { fold } from "../kit/fold.js";
import { num, parse } from "../kit/format.js";
import { address } from "../kit/address.js";
import { ask } from "../engine/ask.js";
import { inEnglish } from "../kit/words.js";

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	const carId = ctx.params.car;
	const plan = h("div", { "aria-live": "polite" });
	const given = () => {
		const car = /** @type {Doc<Car>} */ (garage.get("car", carId));
		return { car, distributor: garage.get("distributor", car.body.distributorId), answers: {} };
	};
	const draw = async () => {
		try {
			fill(plan, await drawn(given(), carId));
		} catch (problem) {
			fill(plan, problemLine(/** @type {Problem} */ (problem)));
		}
	};
	const distributorId = given().car.body.distributorId;
	const keep = (
		/** @type {"car" | "distributor"} */ of,
		/** @type {string} */ key,
		/** @type {string} */ value,
		unit = "",
	) => keepFactOf(of, of === "car" ? carId : distributorId, key, { value, unit, source: "measured" }).then(draw);
	const known = given();
	fill(
		root,
		plan,
		fold(
			"cap/from",
			{ title: "What it is drawn from", class: "cap-asks" },
			textField({
				label: "Firing order",
				name: "firingOrder",
				value: factText(known, "firingOrder"),
				note: "As 1-3-4-2, No. 1 first.",
				onInput: (value) => keep("car", "firingOrder", value),
			}).element,
			choice({
				label: "The rotor turns, seen from the cap end",
				name: "rotation",
				value: factText(known, "rotation"),
				isRow: true,
				options: [
					{ value: "clockwise", label: "clockwise" },
					{ value: "anticlockwise", label: "anticlockwise" },
				],
				onChange: (value) => keep("distributor", "rotation", value),
			}).element,
			textField({
				label: "Post of No. 1, on the clock face",
				name: "firstPostClock",
				value: factText(known, "firstPostClock"),
				isNumber: true,
				unit: "o’clock",
				note: "Seen from above, 12 towards the front of the car; 7.5 is half past seven.",
				onInput: (value) => keep("distributor", "firstPostClock", value),
			}).element,
			textField({
				label: "Banks, front to rear",
				name: "banks",
				value: factText(known, "banks"),
				note: "For a V engine, as 1 3 5 7 / 2 4 6 8: it finds the leads that must lie apart.",
				onInput: (value) => keep("car", "banks", value),
			}).element,
			textField({
				label: "Teeth of the drive gear",
				name: "gearTeeth",
				value: factText(known, "gearTeeth"),
				isNumber: true,
				unit: "teeth",
				onInput: (value) => keep("distributor", "gearTeeth", value, "teeth"),
			}).element,
		),
		button("Back to the marks", address("car", carId, "marks")),
	);
	ctx.signal.addEventListener("abort", onReady(draw));
	await firstAnswer(draw(), patient);
}

/** @param {import("../record/known.js").Given} given @param {string} carId */
async function drawn(given, carId) {
	const [cylinders, order, rotation, typed] = [
		cylindersOf(given),
		orderOf(given),
		rotationOf(given),
		parse(factText(given, "firstPostClock")),
	];
	if (!order || !rotation)
		return h("p", { class: "lead" }, "Firing order and rotation are needed first; fill them in below.");
	const clock = typed !== null && typed > 0 && typed <= 12 ? typed : 12;
	const banks = factText(given, "banks")
		.split("/")
		.map((bank) => (bank.match(/\d+/g) ?? []).map(Number))
		.filter((bank) => bank.length);
	const teeth = parse(factText(given, "gearTeeth"));
	const plan = await ask("cap.plan", {
		cylinders: cylinders ?? order.length,
		firingOrder: order,
		rotation,
		firstPostClock: clock,
		...(banks.length > 1 ? { banks } : {}),
		...(teeth !== null && Number.isInteger(teeth) && teeth > 0 ? { gearTeeth: teeth } : {}),
	});
	return [
		clock === typed
			? null
			: h("p", { class: "note" }, "Where No. 1 stands in the cap is not entered; it is drawn at 12."),
		nextButton("Print cap plan and ring sheet", () => print()),
		capFigure(plan, rotation, inEnglish(`${order.length} posts, ${rotation}, fires ${order.join("-")}`)),
		plan.pairs.length
			? h(
					"p",
					null,
					h("strong", null, "Share a mark, one turn apart: "),
					h(
						"span",
						{ class: "figures" },
						plan.pairs.map((/** @type {number[]} */ pair) => pair.join(" and ")).join("; "),
					),
					inEnglish(". The strobe on the wrong one of a pair shows the same mark."),
				)
			: null,
		plan.neighbours.map((/** @type {{text: string}} */ { text }) => h("p", { class: "boxed" }, inEnglish(text))),
		plan.notes.map((/** @type {string} */ note) => h("p", null, inEnglish(note))),
		h(
			"table",
			{ class: "ruled-table figures ring-table" },
			h("caption", null, "Ring sheet: error of each flash, early +"),
			h(
				"thead",
				null,
				h(
					"tr",
					null,
					["Flash", "No.", "Stands at", "1st", "2nd", "3rd"].map((head, i) =>
						h("th", { scope: "col", class: i > 2 ? "to-write" : null }, head),
					),
				),
			),
			h(
				"tbody",
				null,
				order.map((cylinder, i) =>
					h(
						"tr",
						null,
						h("th", { scope: "row" }, String(i + 1)),
						h("td", null, String(cylinder)),
						h("td", null, `${num((i * 360) / order.length, 1)}°`),
						["1st", "2nd", "3rd"].map(() => h("td", { class: "to-write" })),
					),
				),
			),
		),
		ringFigure(order, rotation),
		button("Enter the flashes", address("car", carId, "scatter")),
		working("the cap plan", plan.working, plan.sources),
	];
}
