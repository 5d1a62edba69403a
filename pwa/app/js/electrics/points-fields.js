// The fields of the points page: as found, as left, over speed, under vacuum,
// twin sets, and the pairs to learn from.

import { dwellOf, pairSlots, runs } from "./points.js";
import { unitsLike } from "../kit/units.js";
import { text } from "../record/visit-facts.js";
import { h } from "../kit/dom.js";
import { fold } from "../kit/fold.js";
import { num, short } from "../kit/format.js";
import { caution } from "../kit/caution.js";
import { choice, textField } from "../kit/field.js";
import { lengthUnits, measuredField } from "../kit/measured-field.js";
import { inEnglish } from "../kit/words.js";
import { dwellDoubt, gapDoubt, speedDoubt } from "./doubts.js";
import { vacuumDoubt } from "../kit/doubt.js";

/**
 * @typedef {object} PointsKeeping
 * @property {() => Facts} facts of the points, as they now stand
 * @property {(key: string, change: Partial<Fact>) => void} keep
 * @property {number | null} cylinders
 * @property {Facts} distributor for the units the book is printed in
 */

const dwellUnits = ["distributor degrees", "%"];

/**
 * gapField asks for a gap, in the unit of the gap as found; a short one offers no other.
 * @param {PointsKeeping} keeping
 * @param {string} key
 * @param {string} label
 * @param {string | null} [note]
 * @param {boolean} [isShort]
 */
export function gapField(keeping, key, label, note = null, isShort = false) {
	const facts = keeping.facts();
	const units = lengthUnits(keeping.distributor.gap?.unit);
	return measuredField({
		label,
		name: key,
		fact: facts[key],
		units: isShort ? [facts[key]?.unit || facts.gap?.unit || units[0]] : units,
		unit: facts.gap?.unit,
		note,
		check: gapDoubt,
		onChange: (change) => keeping.keep(key, change),
	}).element;
}

/**
 * dwellField asks for a dwell, in the unit of the dwell as found; a short one offers no other.
 * @param {PointsKeeping} keeping
 * @param {string} key
 * @param {string} label
 * @param {string | null} [note]
 * @param {boolean} [isShort]
 */
export function dwellField(keeping, key, label, note = null, isShort = false) {
	const { cylinders } = keeping;
	const facts = keeping.facts();
	return measuredField({
		label,
		name: key,
		fact: facts[key],
		units: isShort ? [facts[key]?.unit || facts.dwell?.unit || dwellUnits[0]] : dwellUnits,
		unit: facts.dwell?.unit,
		note,
		also: (fact) => dwellWords(fact, cylinders).replace(isShort ? /( of the way.*|, open .*)/ : /$^/, ""),
		check: (value, unit) => dwellDoubt(value, unit, cylinders),
		onChange: (change) => keeping.keep(key, change),
	}).element;
}

/** A dwell in the other measure, and the open angle. @param {Fact} fact @param {number | null} cylinders */
export function dwellWords(fact, cylinders) {
	const deg = cylinders === null ? null : dwellOf(fact, cylinders);
	if (deg === null || cylinders === null) return "";
	const pitch = 360 / cylinders;
	const open = `open ${short(pitch - deg)} of ${short(pitch)}`;
	return fact.unit === "%"
		? `${num(deg)} distributor degrees, ${open}`
		: `${num((100 * deg) / pitch)} % of the way from one spark to the next, ${open}`;
}

/** @param {PointsKeeping} keeping */
export function stateChoice(keeping) {
	return choice({
		label: "These points are",
		name: "points-state",
		value: text(keeping.facts(), "state"),
		isRow: true,
		onChange: (value) => keeping.keep("state", { value }),
		options: [
			{ value: "new", label: "new", note: "flat faces" },
			{ value: "used", label: "used", note: "may be pitted" },
		],
	}).element;
}

/** Dwell over speed: the cheapest test of the whole distributor. @param {PointsKeeping} keeping */
export function overSpeed(keeping) {
	return fold(
		"points/speed",
		{ title: "Dwell over speed" },
		h(
			"p",
			null,
			"An easy test of the whole distributor: idle, about 1500, idle again, vacuum pipe off. A sound one stays within 2 degrees (owners’ forum). More than 3 is wear (common practice).",
		),
		caution("before the engine runs", [
			"Doors open: exhaust gas kills. Handbrake on, out of gear. Hands, leads and sleeves clear of fan and belts; an electric fan may start by itself.",
			"High speed 20 seconds at most, standing aside of the fan’s plane. On a bench: guard on, no gloves; type twice the distributor’s speed.",
		]),
		runs.map((run) =>
			h(
				"fieldset",
				{ class: "run" },
				h("legend", null, run.label),
				h(
					"div",
					{ class: "run-pair" },
					measuredField({
						label: "Speed",
						name: `${run.key}-rpm`,
						units: ["engine rpm"],
						fact: keeping.facts()[`${run.key}.rpm`],
						also: () => "",
						note: run.suggested,
						check: (value) => speedDoubt(value),
						onChange: (change) => keeping.keep(`${run.key}.rpm`, change),
					}).element,
					dwellField(keeping, `${run.key}.dwell`, "Dwell", null, true),
				),
			),
		),
	);
}

/** @param {PointsKeeping} keeping */
export function underVacuum(keeping) {
	return h(
		"details",
		{ class: "more-test" },
		h("summary", null, "Dwell under vacuum: does the plate hold?"),
		h(
			"p",
			null,
			inEnglish(
				"One steady speed. Dwell with nothing on the capsule, then with the hand pump drawn. On a plate that turns about the shaft at most 2 degrees (US Army TM 9-4910-622-14&P); one with its pivot at the side changes by design.",
			),
		),
		dwellField(keeping, "still.dwell", "Dwell, no vacuum", null, true),
		measuredField({
			label: "Vacuum drawn",
			name: "drawn-vacuum",
			units: unitsLike("inHg"),
			fact: keeping.facts()["drawn.vacuum"],
			check: vacuumDoubt,
			onChange: (change) => keeping.keep("drawn.vacuum", change),
		}).element,
		dwellField(keeping, "drawn.dwell", "Dwell, drawn", null, true),
		choice({
			label: "The moving plate turns",
			name: "pivot",
			value: text(keeping.facts(), "pivot"),
			isRow: true,
			onChange: (value) => keeping.keep("pivot", { value }),
			options: [
				{ value: "centre", label: "about the shaft" },
				{ value: "side", label: "about a pin at its side" },
				{ value: "", label: "not known" },
			],
		}).element,
	);
}

/** @param {PointsKeeping} keeping @param {Node[]} book editors of the book’s figures for twin sets */
export function twinSets(keeping, book) {
	return fold(
		"points/twin",
		{ title: "Twin points" },
		h(
			"p",
			null,
			"One set at a time: block the other open with a clean card, read, and read both together at the end (US Army TM 9-4910-622-14&P). The pair gives more dwell than either alone.",
		),
		dwellField(keeping, "twinFirst", "First set alone", null, true),
		dwellField(keeping, "twinSecond", "Second set alone", null, true),
		dwellField(keeping, "twinPair", "Both together", null, true),
		book,
	);
}

/** Pairs of gap and dwell, from which this distributor’s own slope is learned. @param {PointsKeeping} keeping */
export function pairFields(keeping) {
	const facts = keeping.facts();
	const used = pairSlots.filter((n) => text(facts, `pair${n}.gap`) || text(facts, `pair${n}.dwell`)).length;
	return h(
		"details",
		{ class: "more-test", open: used > 0 },
		h("summary", null, "Write down pairs to learn from"),
		h(
			"p",
			null,
			"Set the gap, read the dwell. Set it 4 thou (0.1 mm) wider or narrower, read again. Two pairs give this distributor’s own slope. Only with flat faces: on pitted ones the feeler reads wrong.",
		),
		pairSlots.map((n) =>
			h(
				"fieldset",
				{ class: "run" },
				h("legend", null, `Pair ${n}`),
				h(
					"div",
					{ class: "run-pair" },
					gapField(keeping, `pair${n}.gap`, "Gap", null, true),
					dwellField(keeping, `pair${n}.dwell`, "Dwell", null, true),
				),
			),
		),
	);
}

/** @param {PointsKeeping} keeping */
export function perDegreeField(keeping) {
	return h(
		"details",
		{ class: "more-test" },
		h("summary", null, "If this distributor was measured not to go 1 for 1"),
		textField({
			label: "Crank degrees for a degree of dwell",
			name: "perDegree",
			value: text(keeping.facts(), "perDegree"),
			isNumber: true,
			unit: "0 to 2",
			note: "A lobe steeper on one side gives anything from 0 to 2. Left empty, 1 for 1 is expected.",
			onInput: (value) => keeping.keep("perDegree", { value }),
		}).element,
	);
}
