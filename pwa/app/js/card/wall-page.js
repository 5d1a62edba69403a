// The wall sheet of a car: the order of work, its own figures, arcs along its
// pulley, conversions and cautions, to be printed on one page and hung up.

import { wallArcs, wallConversions, wallFigures } from "./wall-tables.js";
import { jobOf } from "../job/job.js";
import { ask } from "../engine/ask.js";
import { garage } from "../kept/garage.js";
import { followGarage } from "../kept/follow.js";
import { onReady } from "../engine/client.js";
import { address } from "../kit/address.js";
import { deferral } from "../kit/caution.js";
import { fill, h } from "../kit/dom.js";
import { nextButton } from "../kit/field.js";
import { firstAnswer, patient } from "../kit/first-answer.js";
import { fold } from "../kit/fold.js";
import { mark } from "../kit/mark.js";
import { figureRows } from "../kit/plate/rows.js";
import { told } from "../kit/told.js";
import { firstCapital, inEnglish } from "../kit/words.js";
import { cautions } from "../safety/cautions.js";

/** What hangs on the wall of a garage, and over a bench. */
const onWall = [
	"people",
	"brake",
	"strobe",
	"fan",
	"highTension",
	"byHand",
	"stop",
	"carbonMonoxide",
	"fuel",
	"battery",
	"ignitionOn",
	"overAdvance",
	"hot",
];
const overBench = ["people", "bench", "highTension", "ignitionOn", "solvents", "oldParts", "hot"];

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	const { id, isUnit } = /** @type {Doc<Car>} */ (ctx.car);
	const late = h("p", { class: "note" }, "The order is being worked out …");
	const [order, figures, rim] = [h("div", { class: "wall-late" }, isUnit ? null : late), h("div"), h("div")];
	const draw = async () => {
		const car = /** @type {Doc<Car> | null} */ (garage.get("car", id));
		if (!car || ctx.signal.aborted) return;
		const unit = garage.get("distributor", car.body.distributorId);
		fill(figures, lines(wallFigures(car, unit)));
		if (isUnit)
			return fill(order, steps(jobOf(car, unit, []).steps.map(({ title }) => ({ name: title, why: "" }))));
		const [chain, arcs] = await Promise.all([chainOfAny(), wallArcs(car.body.facts).catch(() => null)]);
		if (ctx.signal.aborted) return;
		if (chain) fill(order, steps(chain.steps));
		fill(rim, arcs ? arcTable(arcs) : noRim(id));
	};
	ctx.signal.addEventListener("abort", onReady(draw));
	await firstAnswer(followGarage(ctx.signal, draw), patient);
	const cylinders = garage.get("car", id)?.body.facts.cylinders?.value ?? "";
	fill(
		root,
		nextButton("Print it", () => print()),
		h(
			"article",
			{ class: "wall-sheet", "aria-label": "The wall sheet" },
			part("order", "The order of work", order, true),
			part("figures", isUnit ? "This distributor" : "This car", figures),
			isUnit ? null : part("rim", "Along the rim of the pulley", rim),
			part("units", "Conversions", wallConversions(cylinders).map(table)),
			part("cautions", "Cautions", hazards(isUnit ? overBench : onWall)),
		),
	);
}

/** @param {string} name @param {string} title @param {any} content @param {boolean} [isOpen] */
const part = (name, title, content, isOpen = false) =>
	fold(`wall/${name}`, { title, class: `wall-${name}`, isOpen }, content);

/**
 * The whole chain, as it stands before anything is done: on the wall it stays right.
 * @returns {Promise<OrderAnswer | null>}
 */
const chainOfAny = () => ask("work.order", { car: {}, visits: [], now: "2000-01-01T00:00:00Z" }).catch(() => null);

/** @param {{name: string, why: string}[]} steps */
const steps = (steps) =>
	h(
		"ol",
		{ class: "wall-steps" },
		steps.map(({ name, why }) =>
			h(
				"li",
				null,
				h("strong", null, inEnglish(firstCapital(name)) + (why ? ":" : "")),
				why ? h("span", { class: "note" }, ` ${inEnglish(firstCapital(why))}.`) : null,
			),
		),
	);

/** @param {{label: string, text: string}[]} rows */
const lines = (rows) =>
	h(
		"dl",
		{ class: "card-lines" },
		rows.map(({ label, text }) =>
			h(
				"div",
				null,
				h("dt", null, inEnglish(label)),
				h("dd", null, text ? told(text) : h("span", { class: "card-unknown" }, "unknown")),
			),
		),
	);

/** @param {string} id */
const noRim = (id) =>
	h(
		"p",
		{ class: "note" },
		"The diameter where the marks are is not known. ",
		h("a", { href: address("car", id, "tape") }, "Enter it with the tape"),
		".",
	);

/** @param {import("./wall-tables.js").Arcs} arcs */
const arcTable = ({ diameter, rows }) =>
	table({
		caption: `Rim of ${diameter}: along it with a strip of paper, straight with a rule`,
		heads: ["crank degrees", "strip, mm", "rule, mm"],
		rows,
	});

/** @param {import("./wall-tables.js").Table} one */
const table = ({ caption, heads, rows }) =>
	figureRows({ caption: inEnglish(caption), heads, rows, class: "ruled wall-table" });

/** @param {string[]} names */
function hazards(names) {
	const all = cautions();
	return [
		h(
			"ul",
			{ class: "wall-hazards" },
			names.map((name) => h("li", null, all[name])),
		),
		h("p", { class: "defers" }, mark("caution"), ` ${deferral}`),
	];
}
