// The governor behind the readings, in trade words: where it starts, its
// springs, the slack, the limit, the friction, each with the range the
// readings allow, and what they cannot decide.

import { num, rpm } from "../kit/format.js";
import { h } from "../kit/dom.js";
import { working } from "../kit/finding/working.js";

/**
 * @typedef {object} Line
 * @property {string} key of the interval
 * @property {string} name @property {string} value @property {string} [range] @property {string} note
 */

/**
 * linesOf puts a fit into words. A figure the readings cannot decide is left
 * to the list of what they cannot decide.
 * @param {Fit} fit @param {number} ratio crank turns per distributor turn
 * @returns {Line[]}
 */
export function linesOf(fit, ratio) {
	const { model } = fit;
	const range = rangeOf(fit);
	const undecided = new Set((fit.undecided ?? []).map((one) => one.name));
	/** @type {Line[]} */
	const lines = [
		{
			key: "startDistRPM",
			name: "Start",
			value: `${rpm(model.startDistRPM)} distributor rpm`,
			range: range("startDistRPM", rpm, "distributor rpm"),
			note: `${rpm(model.startDistRPM * ratio)} engine rpm: below this the weights rest`,
		},
		{
			key: "primaryRate",
			name: "Primary spring",
			value: undecided.has("kneeDistDeg")
				? `rate ${two(model.primaryRate)}`
				: slope(fit.kneeDistRPM - model.startDistRPM, model.kneeDistDeg),
			range: "",
			note: `${undecided.has("kneeDistDeg") ? "over the whole curve, as the slack is not decided" : "up to the slack"}; rate ${two(model.primaryRate)} (${range("primaryRate", two) || "range not known"}) ${rateUnit}`,
		},
		{
			key: "kneeDistDeg",
			name: "Slack taken up",
			value: `at ${num(model.kneeDistDeg)}° distributor`,
			range: range("kneeDistDeg", num, "° distributor"),
			note: `${rpm(fit.kneeDistRPM)} distributor rpm: from here the secondary spring pulls too`,
		},
		{
			key: "secondaryRate",
			name: "Secondary spring",
			value: slope(fit.limitDistRPM - fit.kneeDistRPM, model.limitDistDeg - model.kneeDistDeg),
			range: "",
			note: `from there to the limit; it adds a rate of ${two(model.secondaryRate)} (${range("secondaryRate", two) || "range not known"}) ${rateUnit}`,
		},
		{
			key: "limitDistDeg",
			name: "Limit",
			value: `${num(model.limitDistDeg)}° distributor`,
			range: range("limitDistDeg", num, "° distributor"),
			note: `${num(model.limitDistDeg * ratio)}° crank, reached at ${rpm(fit.limitDistRPM)} distributor rpm`,
		},
		{
			key: "frictionDistDeg",
			name: "Friction",
			value: `${num(model.frictionDistDeg)}° distributor`,
			range: range("frictionDistDeg", num, "° distributor"),
			note: "half of how far falling readings lie above rising ones",
		},
	];
	return lines.filter((line) => !undecided.has(line.key));
}

/** Spring force over the weights' mass and radius, which a curve cannot tell apart. */
const rateUnit = "(1000 distributor rpm)² per distributor degree";

/**
 * How fast the advance comes in, as it is felt: rpm for each degree.
 * @param {number} distRPM @param {number} distDeg
 */
function slope(distRPM, distDeg) {
	if (!(distDeg > 0.05) || !(distRPM > 0)) return "not seen in these readings";
	return `1° for every ${rpm(distRPM / distDeg)} distributor rpm`;
}

/** Two figures that count: a rate may be 0.041 or 2.3. @param {number} x */
const two = (x) => num(x, x === 0 ? 0 : Math.min(4, Math.max(0, 1 - Math.floor(Math.log10(Math.abs(x))))));

/** @param {Fit} fit */
function rangeOf(fit) {
	return (/** @type {string} */ name, /** @type {(x: number) => string} */ write, unit = "") => {
		const pair = fit.intervals[name];
		if (!pair) return "";
		const space = unit.startsWith("°") || !unit ? "" : " ";
		return `${write(pair[0])} to ${write(pair[1])}${space}${unit}`;
	};
}

/**
 * @param {Fit} fit @param {number} ratio
 * @returns {HTMLElement}
 */
export function governorFigures(fit, ratio) {
	const rate = Math.round((fit.statedRate ?? 0.9) * 100);
	return h(
		"section",
		{ class: "governor", "aria-labelledby": "governor-title" },
		h("h2", { id: "governor-title" }, "The governor behind these readings"),
		h(
			"p",
			null,
			`Weights, two springs and a stop that would give your readings to within ${num(fit.rmsDistDeg, 2)} distributor degrees. Beneath each figure stands its range; the true value lies in this range ${rate} times out of 100.`,
		),
		h(
			"dl",
			{ class: "governor-lines" },
			linesOf(fit, ratio).map((line) =>
				h(
					"div",
					null,
					h("dt", null, line.name),
					h(
						"dd",
						null,
						h("strong", { class: "figures" }, line.value),
						line.range ? h("span", { class: "range figures" }, line.range) : null,
						h("span", { class: "note" }, line.note),
					),
				),
			),
		),
		fit.basis ? h("p", { class: "note" }, `Fitted to ${fit.basis}.`) : null,
		undecided(fit),
		wild(fit),
		working("the governor", fit.working, fit.sources),
	);
}

/** @param {Fit} fit */
function undecided(fit) {
	const list = fit.undecided ?? [];
	if (!list.length) return null;
	return h(
		"div",
		{ class: "undecided" },
		h("h3", null, "What these readings cannot decide"),
		h(
			"ul",
			null,
			list.map((one) =>
				h(
					"li",
					null,
					h("strong", null, nameOf(one.name)),
					`: ${one.why}. `,
					h("span", { class: "take" }, take(one.take)),
				),
			),
		),
	);
}

/** @param {string} text */
function take(text) {
	return text.startsWith("nothing") ? `N${text.slice(1)}.` : `To decide it: ${text}.`;
}

const names = /** @type {{[name: string]: string}} */ ({
	startDistRPM: "where the advance starts",
	primaryRate: "the primary spring",
	kneeDistDeg: "where the slack is taken up",
	secondaryRate: "the secondary spring",
	limitDistDeg: "the limit",
	frictionDistDeg: "the friction",
	weightGrowth: "how the weights’ pull grows as they swing out",
});

/** @param {string} name */
function nameOf(name) {
	return names[name] ?? name;
}

/** @param {Fit} fit */
function wild(fit) {
	const list = fit.wild ?? [];
	if (!list.length) return null;
	return h(
		"p",
		{ class: "note" },
		list.length === 1
			? "One reading was left out, far off the others: "
			: `${list.length} readings were left out, far off the others: `,
		list
			.map(
				(one) =>
					`${num(Math.abs(one.deviationDistDeg))} distributor degrees ${one.deviationDistDeg > 0 ? "above" : "below"} the rest at ${rpm(one.distRPM)} distributor rpm`,
			)
			.join("; "),
		". Take it again.",
	);
}
