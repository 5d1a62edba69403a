// The vacuum capsule: what its figures say, whether it holds, what it does.

import { onReady } from "../engine/client.js";
import { capsuleInput, capsuleRows, capsuleVisit } from "./capsule.js";
import { keepFactOf } from "../record/car-electrics.js";
import { garage } from "../kept/garage.js";
import { answersTo } from "../record/choices.js";
import { factText } from "../record/known.js";
import { firstAnswer, patient } from "../kit/first-answer.js";
import { convert } from "../kit/units.js";
import { caution } from "../kit/caution.js";
import { button, choice, nextButton, problemLine, textField } from "../kit/field.js";
import { judged } from "../kit/finding/judged.js";
import { measuredField } from "../kit/measured-field.js";
import { xyPlate } from "../kit/plate/xy-plate.js";
import { fill, h } from "../kit/dom.js";
import { fold } from "../kit/fold.js";
import { num, parse } from "../kit/format.js";
import { address } from "../kit/address.js";
import { cautions } from "../safety/cautions.js";
import { ask } from "../engine/ask.js";
import { capsuleMostDoubt, capsuleVacuumDoubt, movementDoubt } from "./capsule-doubts.js";
import { changedFact, keepVisitFacts } from "../record/visit-facts.js";

const vacuumUnits = ["inHg", "mmHg", "kPa"];
const inHg = 3.386389; // kPa, conventional mercury at 0 °C

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	const car = /** @type {Doc<Car>} */ (ctx.car);
	const [word, picture] = [h("div"), h("div")];
	const said = (/** @type {HTMLElement} */ what, /** @type {HTMLElement | null} */ figure = null) => {
		fill(word, what);
		fill(picture, figure);
	};
	const given = () => {
		const now = /** @type {Doc<Car>} */ (garage.get("car", car.id));
		return { car: now, distributor: garage.get("distributor", now.body.distributorId), answers: {} };
	};
	const facts = () => capsuleVisit(car.id)?.body.facts ?? {};
	const draw = async () => {
		const input = capsuleInput(given(), facts());
		if (!input) return said(h("p", { class: "lead" }, "Enter the leak test, or two readings, for a first word."));
		try {
			const answer = await ask("vacuum.judge", input);
			if (!ctx.signal.aborted) said(judged("the capsule", answer), answer.points.length ? plate(answer) : null);
		} catch (problem) {
			said(problemLine(/** @type {Problem} */ (problem)));
		}
	};
	const keepUnit = (/** @type {string} */ key, /** @type {Partial<Fact>} */ change) =>
		keepFactOf("distributor", car.body.distributorId, key, change).then(draw);
	const keep = (/** @type {string} */ key, /** @type {Partial<Fact>} */ change) =>
		keepVisitFacts(car, { [key]: changedFact(facts()[key], change) }).then(draw, () => {});
	fill(
		root,
		word,
		nextButton("Test the capsule, step by step", address("car", car.id, "do", "capsule")),
		picture,
		caution("before the pump goes on", [cautions().pipe, cautions().fan, cautions().strobe, cautions().fuel]),
		spec(given(), keepUnit),
		hold(facts(), keep),
		readings(facts(), keep),
		button("The facts of this car", address("car", car.id, "facts")),
	);
	ctx.signal.addEventListener("abort", onReady(draw));
	await firstAnswer(draw(), patient);
}

/** @param {import("../record/known.js").Given} given @param {(key: string, change: Partial<Fact>) => void} keep */
function spec(given, keep) {
	const unit = given.distributor?.body.facts ?? {};
	const field = (/** @type {string} */ key, /** @type {string} */ label) =>
		measuredField({
			label,
			name: key,
			fact: unit[key],
			units: vacuumUnits,
			check: capsuleVacuumDoubt,
			onChange: (change) => keep(key, { ...change, source: "book" }),
		}).element;
	return fold(
		"vacuum/should",
		{ title: "What it should do" },
		textField({
			label: "Code on the capsule",
			name: "capsuleCode",
			value: factText(given, "capsuleCode"),
			note: "As stamped, such as 4-12-7. Some makers put a letter behind it for retard.",
			onInput: (value) => keep("capsuleCode", { value }),
		}).element,
		choice({
			label: "Its numbers mean",
			name: "capsuleMeaning",
			value: factText(given, "capsuleMeaning"),
			note: "Makers differ: it has to be said.",
			options: answersTo("capsuleMeaning"),
			onChange: (value) => keep("capsuleMeaning", { value, source: "book" }),
		}).element,
		choice({
			label: "It",
			name: "capsuleKind",
			value: factText(given, "capsuleKind"),
			isRow: true,
			options: answersTo("capsuleKind"),
			onChange: (value) => keep("capsuleKind", { value, source: "measured" }),
		}).element,
		choice({
			label: "This half belongs to",
			name: "capsuleTwin",
			value: factText(given, "capsuleTwin"),
			isRow: true,
			options: answersTo("capsuleTwin"),
			onChange: (value) => keep("capsuleTwin", { value, source: "measured" }),
		}).element,
		choice({
			label: "Its pipe goes to",
			name: "vacuumPort",
			value: factText(given, "vacuumPort"),
			isRow: true,
			options: ["ported", "manifold", "venturi", "nowhere"].map((value) => ({ value, label: value })),
			note: "Ported: above the closed throttle, none at idle. Manifold: full at idle.",
			onChange: (value) => keep("vacuumPort", { value, source: "measured" }),
		}).element,
		h(
			"details",
			null,
			h("summary", null, "The book’s figures, instead of the code"),
			field("capsuleStart", "Starts at"),
			field("capsuleFull", "Full at"),
			figure("capsuleMost", "Most", "distributor degrees", unit, (change) =>
				keep("capsuleMost", { ...change, source: "book" }),
			),
		),
	);
}

/** @param {Facts} facts @param {(key: string, change: Partial<Fact>) => void} keep */
function hold(facts, keep) {
	const field = (/** @type {string} */ key, /** @type {string} */ label) =>
		measuredField({
			label,
			name: key,
			fact: facts[key],
			units: vacuumUnits,
			check: capsuleVacuumDoubt,
			onChange: (change) => keep(key, change),
		}).element;
	return h(
		"section",
		null,
		h("h2", null, "Does it hold?"),
		h("p", { class: "note" }, "Pump, seal, wait 10 to 30 seconds, read again."),
		field("capsule.hold.start", "Pumped to"),
		field("capsule.hold.end", "Afterwards"),
		figure("capsule.hold.seconds", "Waited", "seconds", facts, (change) => keep("capsule.hold.seconds", change)),
	);
}

/**
 * @param {keyof typeof import("./capsule-doubts.js").capsuleMost} key
 * @param {string} label
 * @param {string} unit
 * @param {Facts} facts
 * @param {(change: {value: string, unit: string}) => void} keep
 */
function figure(key, label, unit, facts, keep) {
	const field = textField({
		label,
		name: key,
		value: facts[key]?.value ?? "",
		unit,
		isNumber: true,
		onInput: (value) => {
			field.setProblem(capsuleMostDoubt(key, value, unit));
			keep({ value, unit });
		},
	});
	field.setProblem(capsuleMostDoubt(key, facts[key]?.value ?? "", unit));
	return field.element;
}

/** @param {Facts} facts @param {(key: string, change: Partial<Fact>) => void} keep */
function readings(facts, keep) {
	const rows = h("div");
	const all = capsuleRows(facts);
	let shown = Math.max(
		4,
		all.reduce((most, row) => (row.vacuum || row.deg ? row.n + 1 : most), 0),
	);
	const units = { vacuum: all[0].vacuumUnit, deg: all[0].degUnit };
	const row = (/** @type {number} */ n) => {
		const each = all[n - 1];
		const cell = (/** @type {"vacuum" | "deg"} */ what, /** @type {string} */ label) => {
			const doubt = (/** @type {string} */ value) =>
				(what === "vacuum" ? capsuleVacuumDoubt : movementDoubt)(value, units[what]);
			const field = textField({
				label: h("span", null, label),
				name: `capsule.${n}.${what}`,
				value: each[what],
				unit: what === "vacuum" ? units.vacuum : "°",
				isNumber: true,
				onInput: (value) => {
					each[what] = value;
					field.setProblem(doubt(value));
					keep(`capsule.${n}.${what}`, { value, unit: units[what], note: each.direction });
				},
			});
			field.setProblem(doubt(each[what]));
			return field.element;
		};
		return h(
			"fieldset",
			{ class: "capsule-row" },
			h("legend", null, `Reading ${n}`),
			h("div", { class: "two-fields" }, cell("vacuum", "Vacuum"), cell("deg", "Movement")),
			choice({
				label: h("span", { class: "vh" }, `Reading ${n}: vacuum`),
				name: `capsule-way-${n}`,
				value: each.direction,
				isRow: true,
				options: [
					{ value: "rising", label: "rising" },
					{ value: "falling", label: "falling" },
				],
				onChange: (value) => {
					each.direction = value;
					keep(`capsule.${n}.deg`, { note: value });
				},
			}).element,
		);
	};
	const draw = () =>
		fill(
			rows,
			Array.from({ length: Math.min(shown, all.length) }, (_, i) => row(i + 1)),
		);
	draw();
	const reunit = (/** @type {"vacuum" | "deg"} */ what) => (/** @type {string} */ unit) => {
		units[what] = unit;
		for (const each of all) if (parse(each[what]) !== null) keep(`capsule.${each.n}.${what}`, { unit });
		draw();
	};
	return fold(
		"vacuum/does",
		{ title: "What it does" },
		choice({
			label: "Vacuum is read in",
			name: "capsule-vacuum-unit",
			value: units.vacuum,
			isRow: true,
			options: vacuumUnits.map((value) => ({ value, label: value })),
			onChange: reunit("vacuum"),
		}).element,
		choice({
			label: "Movement from rest, its own way, in",
			name: "capsule-unit",
			value: units.deg,
			isRow: true,
			options: [
				{ value: "crank degrees", label: "crank degrees" },
				{ value: "distributor degrees", label: "distributor degrees" },
			],
			onChange: reunit("deg"),
		}).element,
		rows,
		button("One more reading", () => {
			shown++;
			draw();
		}),
	);
}

/** The straight line between start and full, allowed either way, and what was read. @param {any} answer */
function plate(answer) {
	const { spec: should, points } = answer;
	const most = Math.max(
		8,
		...points.map((/** @type {any} */ p) => p.measuredDistDeg + 1),
		(should.maxDistDeg ?? 0) + 2,
	);
	const end = Math.max(
		16,
		...points.map((/** @type {any} */ p) => p.kPa / inHg + 1),
		(should.fullKPa ?? 0) / inHg + 3,
	);
	const known = should.startKPa !== null && should.fullKPa !== null && should.maxDistDeg !== null;
	const line = known
		? [
				{ x: 0, y: 0 },
				{ x: should.startKPa / inHg, y: 0 },
				{ x: should.fullKPa / inHg, y: should.maxDistDeg },
				{ x: end, y: should.maxDistDeg },
			]
		: [];
	const band = points
		.filter((/** @type {any} */ p) => p.minDistDeg !== null)
		.map((/** @type {any} */ p) => ({ x: p.kPa / inHg, lo: p.minDistDeg, hi: p.maxDistDeg }))
		.sort((/** @type {any} */ a, /** @type {any} */ b) => a.x - b.x);
	return xyPlate({
		number: 1,
		title: "Movement of the capsule over vacuum; the band is what its figures allow.",
		lineWords: known ? "Line: start, full and most." : "",
		x: { label: "inHg of vacuum", lo: 0, hi: end },
		y: {
			label: "distributor degrees",
			lo: Math.min(0, ...points.map((/** @type {any} */ p) => p.measuredDistDeg)),
			hi: most,
		},
		line,
		band: band.length > 1 ? band : [],
		marks: points.map((/** @type {any} */ p) => ({
			x: p.kPa / inHg,
			y: p.measuredDistDeg,
			falling: p.direction === "falling",
			words: `${num(/** @type {number} */ (convert(p.kPa, "kPa", "inHg")))} inHg ${p.direction}: ${num(p.measuredDistDeg)} distributor degrees, ${p.verdict}`,
		})),
	});
}
