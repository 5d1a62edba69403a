// One condition check: a ruled line with its verdict that opens to the caution,
// how, the limit with its source, what is typed or seen, what a fail means,
// and the way past it with a reason.

import { figureOf, ignitionOn, limitKey, ownLimit, unitsOf } from "./condition.js";
import { checkDoubt } from "./check-doubts.js";
import { alsoIn } from "../kit/units.js";
import { text } from "../record/visit-facts.js";
import { fill, h } from "../kit/dom.js";
import { num, short } from "../kit/format.js";
import { firstCapital, inEnglish } from "../kit/words.js";
import { caution } from "../kit/caution.js";
import { choice, problemLine, textField } from "../kit/field.js";
import { mark, verdictMark, verdictWord } from "../kit/mark.js";
import { measuredField } from "../kit/measured-field.js";
import { compressions } from "../record/compressions.js";

/**
 * @typedef {object} CheckKeeping where a check reads and keeps
 * @property {() => Facts} facts of the visit, as they now stand
 * @property {(group: string) => Facts} limits own limits: of the car, or of its distributor
 * @property {(key: string, change: Partial<Fact>) => void} keep
 * @property {(group: string, key: string, change: Partial<Fact>) => void} keepLimit
 * @property {(check: ConditionCheck) => Node | null} watch what starts the coil watch
 * @property {(check: ConditionCheck) => Node | null} more the page that goes deeper
 */

const reasons = [
	"distributor stays in the car",
	"distributor is on the bench",
	"no instrument for it",
	"this car has none",
	"done not long ago",
];
const places = { bench: "On the bench", car: "On the car", either: "Bench or car" };

/**
 * checkLine makes the line. judge shows a verdict; foot takes the way on.
 * @param {ConditionCheck} check
 * @param {number} number as the rows are shown
 * @param {CheckKeeping} keeping
 * @param {(isOpen: boolean) => void} onToggle
 */
export function checkLine(check, number, keeping, onToggle) {
	const stands = h("span", { class: "check-stands" });
	const body = h("div", { class: "check-body" });
	const foot = h("div");
	/** @type {Map<string, HTMLElement>} */
	const verdicts = new Map(
		check.measures.map((measure) => [measure.id, h("p", { class: "measure-verdict", "aria-live": "polite" })]),
	);
	const element = h(
		"details",
		{
			class: "check",
			id: `check-${check.id}`,
			on: {
				toggle: () => {
					if (element.open) open();
					onToggle(element.open);
				},
			},
		},
		h(
			"summary",
			null,
			h("span", { class: "check-id figures" }, String(number)),
			h("span", { class: "check-title" }, inEnglish(check.title)),
			stands,
		),
		body,
	);
	const open = () => {
		if (!body.hasChildNodes()) fill(body, bodyOf(check, keeping, verdicts), foot);
	};
	return {
		check,
		element,
		foot,
		open,
		/** @param {JudgedMeasure[]} judged @param {string} standing */
		judge(judged, standing) {
			element.dataset.stands = standing;
			fill(stands, standingMark(standing));
			for (const [id, room] of verdicts) fill(room, verdictLine(judged.find(({ measure }) => measure === id)));
		},
	};
}

/** @param {string} standing */
function standingMark(standing) {
	if (standing in standingWords)
		return [
			mark(standing === "skipped" ? "partly" : "empty"),
			" ",
			standingWords[/** @type {keyof typeof standingWords} */ (standing)],
		];
	return [h("strong", null, verdictMark(standing))];
}
const standingWords = { due: "due", begun: "begun", skipped: "skipped" };

/** @param {JudgedMeasure | undefined} judged */
function verdictLine(judged) {
	if (!judged) return null;
	return [h("strong", null, verdictMark(judged.verdict)), " ", inEnglish(judged.text)];
}

/** @param {ConditionCheck} check @param {CheckKeeping} keeping @param {Map<string, HTMLElement>} verdicts */
function bodyOf(check, keeping, verdicts) {
	return [
		check.caution ? caution("before this check", [check.caution]) : null,
		h("p", { class: "check-how" }, h("em", null, `${places[check.place]}. `), inEnglish(check.how)),
		ignitionOn.has(check.id) ? keeping.watch(check) : null,
		check.measures.map((measure) =>
			h(
				"section",
				{ class: "measure" },
				measure.kind === "look" ? look(measure, keeping) : figure(check, measure, keeping),
				verdicts.get(measure.id),
			),
		),
		h("p", { class: "fail-means" }, h("strong", null, "If it fails: "), inEnglish(check.failText)),
		keeping.more(check),
		skip(check, keeping),
	];
}

/** @param {Measure} measure @param {CheckKeeping} keeping */
function look(measure, keeping) {
	return choice({
		label: `${firstCapital(measure.title)}: by eye`,
		name: measure.id,
		value: text(keeping.facts(), measure.id),
		isRow: true,
		note: `Right is: ${measure.accept}.`,
		options: [
			{ value: "good", label: "pass", note: "good" },
			{ value: "doubtful", label: "watch", note: "doubtful" },
			{ value: "bad", label: "fail", note: "bad" },
			{ value: "", label: "not looked at" },
		],
		onChange: (value) => keeping.keep(measure.id, { value, unit: "" }),
	}).element;
}

/** @param {ConditionCheck} check @param {Measure} measure @param {CheckKeeping} keeping */
function figure(check, measure, keeping) {
	const units = unitsOf(measure);
	return [
		measuredField({
			label: measure.id === "B27" ? "Compressions, cylinder by cylinder" : firstCapital(measure.title),
			name: measure.id,
			units,
			fact: keeping.facts()[measure.id],
			note:
				measure.id === "B27"
					? "Type each cylinder with a dash between, 158-162-155-160; or the spread in %."
					: null,
			also: (fact) => alsoWords(measure, fact),
			check: (value, unit) =>
				checkDoubt(measure, { value, unit }, figureOf(measure, { value, unit, source: "", note: "" })),
			onChange: (change) => keeping.keep(measure.id, change),
		}).element,
		limitLine(measure),
		ownEditor(check, measure, keeping),
	];
}

/** @param {Measure} measure @param {Fact} fact */
function alsoWords(measure, fact) {
	if (measure.id !== "B27") return alsoIn(fact.value, fact.unit);
	const spread = figureOf(measure, fact);
	if (spread === null || fact.unit === "%") return "";
	const each = compressions(fact.value);
	return `lowest ${num(spread)} % under the highest: (${short(Math.max(...each))} − ${short(Math.min(...each))}) / ${short(Math.max(...each))}`;
}

/** The general limit, and where it comes from. @param {Measure} measure */
function limitLine(measure) {
	const { limit } = measure;
	return h(
		"p",
		{ class: "limit-line" },
		h("strong", null, limit ? "Rule of thumb: " : "Limit: "),
		inEnglish(`${measure.accept}.`),
		limit?.source ? h("small", { class: "limit-source" }, `Source: ${limit.source}`) : null,
	);
}

/** @type {{value: Source, label: string}[]} */
const sources = [
	{ value: "book", label: "book" },
	{ value: "measured", label: "measured" },
	{ value: "common practice", label: "common practice" },
	{ value: "guess", label: "guess" },
];

/**
 * The car's own limit, which beats the rule of thumb.
 * @param {ConditionCheck} check
 * @param {Measure} measure
 * @param {CheckKeeping} keeping
 */
function ownEditor(check, measure, keeping) {
	const facts = keeping.limits(check.group);
	const unit = measure.unit ?? "";
	const ends = endsOf(measure.limit);
	const problem = h("div", { class: "field-problem", "aria-live": "polite" });
	const keep = (/** @type {"least" | "most"} */ end, /** @type {Partial<Fact>} */ change) => {
		keeping.keepLimit(check.group, limitKey(measure.id, end), change);
		const bad = ownLimit(keeping.limits(check.group), measure).problem;
		fill(problem, bad ? problemLine(bad) : null);
	};
	const known = ends.map((end) => facts[limitKey(measure.id, end)]).find((fact) => fact?.value.trim());
	return h(
		"details",
		{ class: "own-limit", open: Boolean(known) },
		h("summary", null, "This car’s own limit"),
		ends.map(
			(end) =>
				measuredField({
					label: end === "most" ? "Passes up to" : "Passes from",
					name: limitKey(measure.id, end),
					units: unitsOf(measure).filter((one) => one !== "psi" && one !== "bar"),
					unit,
					fact: facts[limitKey(measure.id, end)],
					onChange: (change) => keep(end, change),
				}).element,
		),
		problem,
		choice({
			label: "Comes from",
			name: `${measure.id}-source`,
			value: known?.source ?? "",
			isRow: true,
			options: sources,
			onChange: (source) => ends.forEach((end) => keep(end, { source })),
		}).element,
	);
}

/**
 * The ends an own limit can have: those of the general one, both where there is none.
 * @param {MeasureLimit | undefined} limit
 * @returns {("least" | "most")[]}
 */
function endsOf(limit) {
	if (limit && limit.passMin === undefined) return ["most"];
	return limit && limit.passMax === undefined ? ["least"] : ["least", "most"];
}

/** @param {ConditionCheck} check @param {CheckKeeping} keeping */
function skip(check, keeping) {
	const key = `${check.id}.skipped`;
	const field = textField({
		label: "Why",
		name: key,
		value: text(keeping.facts(), key),
		maxLength: 400,
		onInput: (value) => keeping.keep(key, { value }),
	});
	const say = (/** @type {string} */ reason) => {
		field.input.value = reason;
		keeping.keep(key, { value: reason });
	};
	return h(
		"details",
		{ class: "skip-check", open: text(keeping.facts(), key) !== "" },
		h("summary", null, "Skip it, with a reason"),
		h(
			"div",
			{ class: "skip-reasons" },
			reasons.map((reason) =>
				h("button", { type: "button", class: "button", on: { click: () => say(reason) } }, reason),
			),
		),
		field.element,
		h("button", { type: "button", class: "button", on: { click: () => say("") } }, "Do not skip it after all"),
	);
}

/** standingWord says a standing for those who hear the page. @param {string} standing */
export const standingWord = (standing) =>
	standingWords[/** @type {keyof typeof standingWords} */ (standing)] ?? verdictWord(standing);
