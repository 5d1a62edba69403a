// The condition checks of one car as the calculation takes them: what was
// read, seen or skipped, and the car's own limits.

import { parse } from "../kit/format.js";
import { compressionBounds, compressions } from "../record/compressions.js";
import { text } from "../record/visit-facts.js";
import { figureIn, unitsLike } from "../kit/units.js";

/** @typedef {import("../record/car-electrics.js").Electrics} Electrics */

/** Checks that leave the ignition on with the engine still. */
export const ignitionOn = new Set(["B11", "B12", "B16", "B24"]);

/** The three questions of the work, in the order that wastes least time. */
export const phases = /** @type {const} */ ([
	"Is the engine fit to tune?",
	"Is the distributor fit to set?",
	"The electrics",
]);

/**
 * phaseOf says which question a check belongs to: the battery is looked at
 * with the engine, because nothing can be judged without it.
 * @param {ConditionCheck} check
 */
export function phaseOf({ id, group }) {
	if (group === "engine" || id === "B22") return phases[0];
	return group === "distributor" ? phases[1] : phases[2];
}

/**
 * shownOrder gives the checks as the page shows them: question by question.
 * @param {ConditionCheck[]} checks in the order of condition.list
 */
export const shownOrder = (checks) => phases.flatMap((phase) => checks.filter((check) => phaseOf(check) === phase));

/** carIn is the car as condition.list takes it. @param {Electrics} electrics */
export function carIn({ nominalV, ballasted, altitudeM }) {
	return {
		...(nominalV === null ? {} : { nominalV }),
		...(ballasted === null ? {} : { ballasted }),
		...(altitudeM === null ? {} : { altitudeM: Math.round(altitudeM) }),
	};
}

/** unitsOf lists the units a measure may be typed in, the usual first. @param {Measure} measure */
export function unitsOf({ id, unit = "" }) {
	return id === "B27" ? ["psi", "bar", "%"] : unitsLike(unit);
}

/**
 * figureOf reads what was typed for a measure, in the measure's own unit.
 * Compressions typed cylinder by cylinder become their spread in percent.
 * @param {Measure} measure @param {Fact | undefined} fact @returns {number | null}
 */
export function figureOf({ id, unit = "" }, fact) {
	if (!fact) return null;
	if (id !== "B27" || fact.unit === "%") return figureIn(fact, unit);
	const each = compressions(fact.value);
	if (each.length < 2 || Math.max(...each) <= 0 || isNoCompression(each, fact.unit)) return null;
	return ((Math.max(...each) - Math.min(...each)) / Math.max(...each)) * 100;
}

/** @param {number[]} each @param {string} unit */
const isNoCompression = (each, unit) => unit in compressionBounds && Math.max(...each) > compressionBounds[unit][1];

/**
 * ownLimit gives the car's own limit of a measure as it was typed; null where
 * there is none.
 * @param {Facts} facts of the car or of its distributor
 * @param {Measure} measure
 * @returns {{limit: {passMin?: number, passMax?: number, source: string} | null, problem: FieldProblem | null}}
 */
export function ownLimit(facts, { id, unit = "", possible }) {
	const ends = /** @type {const} */ (["least", "most"]).map((end) => facts[limitKey(id, end)]);
	const [passMin, passMax] = ends.map((fact) => (fact ? figureIn(fact, unit) : null));
	const unread = ends.find((fact) => fact && fact.value.trim() !== "" && parse(fact.value) === null);
	if (unread)
		return {
			limit: null,
			problem: {
				field: id,
				problem: `“${unread.value.slice(0, 24)}” cannot be read as a limit`,
				limit: "a number",
				do: "Correct it; until then the general limit stands.",
			},
		};
	const absurd = possible
		? [passMin, passMax].find((x) => x !== null && (x < possible.low || x > possible.high))
		: undefined;
	if (possible && typeof absurd === "number")
		return {
			limit: null,
			problem: {
				field: id,
				problem: `${Number(absurd.toPrecision(4))} ${unit} can be no limit here`,
				limit: `${possible.low} to ${possible.high} ${unit}`,
				do: "Look at the unit and correct it; until then the general limit stands.",
			},
		};
	if (passMin === null && passMax === null) return { limit: null, problem: null };
	if (passMin !== null && passMax !== null && passMin > passMax)
		return {
			limit: null,
			problem: {
				field: id,
				problem: "the least is more than the most",
				limit: "least at most as much as most",
				do: "Swap or correct them; until then the general limit stands.",
			},
		};
	const said = ends.find((fact) => fact?.value.trim());
	const source = [said?.source || "source not said", said?.note].filter(Boolean).join(", ");
	return {
		limit: {
			...(passMin === null ? {} : { passMin }),
			...(passMax === null ? {} : { passMax }),
			source: `this car’s own figure: ${source}`,
		},
		problem: null,
	};
}

/**
 * limitKey names the fact in which one end of an own limit is kept.
 * @param {string} measure
 * @param {"least" | "most"} end
 */
export const limitKey = (measure, end) => `limit.${measure}.${end}`;

/**
 * resultsOf gives what condition.judge takes: one result for each measure that
 * was read, seen or skipped. What cannot be read yet is left out.
 * @param {ConditionCheck[]} checks
 * @param {Facts} facts of the visit
 * @param {{car: Facts, distributor: Facts}} of where own limits are kept
 */
export function resultsOf(checks, facts, of) {
	return checks.flatMap((check) =>
		check.measures.flatMap(
			/** @returns {ConditionResult[]} */ (measure) => {
				const { limit: own } = ownLimit(check.group === "distributor" ? of.distributor : of.car, measure);
				const rest = own && measure.kind === "figure" ? { own } : {};
				const seen = text(facts, measure.id);
				if (measure.kind === "look" && ["good", "doubtful", "bad"].includes(seen))
					return [{ measure: measure.id, seen }];
				const value = measure.kind === "figure" ? figureOf(measure, facts[measure.id]) : null;
				if (value !== null) return [{ measure: measure.id, value, ...rest }];
				const skipped = text(facts, `${check.id}.skipped`);
				return skipped ? [{ measure: measure.id, skipped: skipped.slice(0, 400) }] : [];
			},
		),
	);
}

/**
 * standing says how a check stands: its worst verdict, "skipped", "begun" or
 * "due".
 * @param {ConditionCheck} check @param {JudgedMeasure[]} judged @param {Facts} facts
 * @returns {"pass" | "watch" | "fail" | "unknown" | "skipped" | "begun" | "due"}
 */
export function standing(check, judged, facts) {
	const own = judged.filter((one) => one.check === check.id);
	const verdicts = own.map(({ verdict }) => verdict);
	for (const verdict of /** @type {const} */ (["fail", "watch"])) if (verdicts.includes(verdict)) return verdict;
	if (own.length && verdicts.every((verdict) => verdict === "unknown"))
		return text(facts, `${check.id}.skipped`) ? "skipped" : "unknown";
	if (own.length < check.measures.length) return own.length ? "begun" : "due";
	// a figure that could not be judged
	if (own.some(({ measure, verdict }) => verdict === "unknown" && text(facts, measure) !== "")) return "unknown";
	return verdicts.includes("unknown") && !verdicts.includes("pass") ? "unknown" : "pass";
}
