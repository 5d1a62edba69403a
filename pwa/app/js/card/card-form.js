// What is written on the setup card by hand. Every key is saved.

import { inputs } from "../../made/shapes.js";
import { inWords, isIn } from "../record/figure-limits.js";
import { leftKey, lists, longestLine, mostLines, said, saidKey } from "./card-facts.js";
import { garage } from "../kept/garage.js";
import { h } from "../kit/dom.js";
import { parse } from "../kit/format.js";
import { t } from "../kit/words.js";
import { choice, textField } from "../kit/field.js";

/**
 * @typedef {{key: string, label: string, unit?: string, units?: string[], note?: string, limit?: FigureLimit, most?:
 *   number}} FormField
 */

/** @returns {FormField[]} */
const who = () => [
	{ key: saidKey("setBy"), label: "Set by", most: most("setBy") },
	{ key: saidKey("checkedBy"), label: "Checked by", note: "Somebody else than who set it.", most: most("checkedBy") },
	{
		key: saidKey("date"),
		label: "Date it was set",
		note: "As 2024-05-18. Left empty, the day of the newest readings stands.",
		most: most("date"),
	},
	{
		key: saidKey("odometer"),
		label: "Distance on the clock",
		note: "With its unit: 41 250 miles.",
		most: most("odometer"),
	},
	{
		key: saidKey("fuel"),
		label: "Set for this fuel",
		note: "98 RON, from the station down the road.",
		most: most("fuel"),
	},
];

/** What a card takes of a figure as it was set. @param {string} name */
const asSet = (name) => inputs["card.link"][`card.asSet.${name}`];

/** @returns {FormField[]} */
const figures = () => [
	{ key: leftKey("gap"), label: "Points gap as set", units: ["in", "thou", "mm"], most: 40 },
	{ key: leftKey("dwellDistDeg"), label: "Dwell as set", unit: "distributor degrees", limit: asSet("dwellDistDeg") },
	{ key: leftKey("vernier"), label: `Where the ${t("vernier")} stands`, most: 80 },
	{
		key: leftKey("cruiseCrankDeg"),
		label: "Total at light throttle, vacuum on",
		unit: "crank degrees before TDC",
		limit: asSet("cruiseCrankDeg"),
	},
	{
		key: leftKey("knockCrankDeg"),
		label: `Total at which it began to ${t("pinking").replace(/ing$/, "")}`,
		unit: "crank degrees before TDC",
		limit: asSet("knockCrankDeg"),
	},
	{
		key: leftKey("marginCrankDeg"),
		label: "Margin kept to that",
		unit: "crank degrees",
		limit: asSet("marginCrankDeg"),
	},
];

/** @param {string} field */
const most = (field) => said.find((one) => one.field === field)?.most;

/**
 * cardForm makes the fields of a car's card.
 * @param {Doc<Car>} car @param {() => void} onChange after every key
 */
export function cardForm(car, onChange) {
	const facts = car.body.facts;
	/** @param {string} key @param {Partial<Fact>} part */
	const keep = (key, part) => {
		const saving = garage.update("car", car.id, (/** @type {Car} */ body) => {
			const empty = {
				value: "",
				unit: "",
				source: /** @type {Source} */ (key.startsWith("left") ? "measured" : ""),
				note: "",
			};
			const next = Object.assign(empty, body.facts[key], part);
			if (next.value.trim() === "") delete body.facts[key];
			else body.facts[key] = next;
		});
		onChange(); // the garage has it in memory already, kept or not
		return saving.then(
			() => null,
			() => ({
				field: key,
				problem: "the phone has no room to keep this",
				limit: "some free storage",
				do: "Free some room and change it once more. It stays here as long as the app is open.",
			}),
		);
	};
	return h(
		"section",
		{ class: "card-form", "aria-labelledby": "card-form-title" },
		h("h2", { id: "card-form-title" }, "Write on the card"),
		h(
			"p",
			{ class: "note" },
			"Facts, book and readings are on it already. Add what only you know. What you leave empty is shown as unknown.",
		),
		who().map((field) => oneLine(field, facts[field.key], keep)),
		manyLines(
			"warnings",
			"What the next person must know",
			"A line each. “Never on 95 RON without 3 degrees less.”",
			facts,
			keep,
		),
		manyLines("leftUndone", "Still to do", "A line each. “Oil felt not renewed.”", facts, keep),
		oneLine(
			{
				key: saidKey("nextCheck"),
				label: "Next check: when, and what",
				note: "“Points gap after 500 miles, new heel.”",
				most: most("nextCheck"),
			},
			facts[saidKey("nextCheck")],
			keep,
		),
		h("h3", null, "Figures as they were left"),
		figures().map((field) => oneLine(field, facts[field.key], keep)),
	);
}

/** @typedef {(key: string, part: Partial<Fact>) => Promise<FieldProblem | null>} Keep */

/** @param {FormField} field @param {Fact | undefined} fact @param {Keep} keep */
function oneLine(field, fact, keep) {
	const line = textField({
		label: field.label,
		name: field.key,
		value: fact?.value ?? "",
		unit: field.unit,
		note: field.note,
		isNumber: Boolean(field.limit),
		onInput: async (text) => {
			const wrong = troubleIn(field, text);
			line.setProblem(wrong);
			line.setProblem(
				(await keep(field.key, { value: text, ...(field.unit ? { unit: field.unit } : {}) })) ?? wrong,
			);
		},
	});
	line.setProblem(troubleIn(field, fact?.value ?? ""));
	if (!field.units) return line.element;
	const unit = choice({
		label: "Its unit",
		name: `${field.key}-unit`,
		value: fact?.unit ?? "",
		isRow: true,
		options: field.units.map((value) => ({ value, label: value })),
		onChange: (value) => {
			keep(field.key, { value: line.input.value, unit: value });
		},
	});
	return [line.element, unit.element];
}

/**
 * troubleIn says why a text cannot stand on the card; it is kept all the same.
 * @param {FormField} field @param {string} text
 * @returns {FieldProblem | null}
 */
export function troubleIn({ key, label, limit, most: longest }, text) {
	const typed = text.trim();
	if (typed === "") return null;
	if (longest && [...typed].length > longest)
		return {
			field: key,
			problem: `${label.toLowerCase()} has ${[...typed].length} characters`,
			limit: `${longest} on the card`,
			do: "Shorten it; the card would cut it off.",
		};
	if (key === saidKey("date") && !/^\d{4}-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])$/.test(typed))
		return {
			field: key,
			problem: `“${typed}” is not a date the card can take`,
			limit: "year-month-day",
			do: "Write it as 2024-05-18.",
		};
	if (!limit) return null;
	const value = parse(typed);
	if (value === null)
		return {
			field: key,
			problem: `“${typed.slice(0, 24)}” cannot be read as a number`,
			limit: "digits, one point or comma",
			do: "Correct it. What you typed is kept; the card leaves it out.",
		};
	if (!isIn(value, limit))
		return {
			field: key,
			problem: `${typed} cannot be right here`,
			limit: inWords(limit),
			do: "Look again at the figure and its unit.",
		};
	return null;
}

/**
 * @param {typeof lists[number]} field
 * @param {string} label
 * @param {string} note
 * @param {Facts} facts
 * @param {Keep} keep
 */
function manyLines(field, label, note, facts, keep) {
	const key = saidKey(field);
	const problem = h("p", { class: "note", role: "status" });
	const area = h("textarea", {
		id: key,
		rows: 3,
		"aria-describedby": `${key}-note`,
		value: facts[key]?.value ?? "",
		on: {
			input: async () => {
				say();
				const wrong = await keep(key, { value: area.value });
				if (wrong) problem.textContent = `${wrong.problem}. ${wrong.do}`;
			},
		},
	});
	const say = () => {
		const lines = area.value.split("\n").filter((line) => line.trim());
		problem.textContent =
			lines.length > mostLines
				? `The card takes ${mostLines} lines; ${lines.length - mostLines} would be left out. Join some.`
				: lines.some((line) => [...line].length > longestLine)
					? `A line longer than ${longestLine} characters is cut off on the card. Make two of it.`
					: "";
	};
	say();
	return h(
		"div",
		{ class: "field" },
		h("label", { for: key }, label),
		area,
		h("div", { class: "note", id: `${key}-note` }, note),
		problem,
	);
}
