// Base, stop, speed and capsule to be moved: margin and cost follow at once.

import { placesTable } from "./places-table.js";
import { ask } from "../engine/ask.js";
import { fill, h } from "../kit/dom.js";
import { button } from "../kit/field.js";
import { findings } from "../kit/finding/findings.js";
import { fold } from "../kit/fold.js";
import { rpm, short } from "../kit/format.js";
import { latestOnly } from "../kit/latest-only.js";
import { mark, verdictWord } from "../kit/mark.js";
import { stepper } from "../kit/stepper.js";
import { inEnglish } from "../kit/words.js";

/** @typedef {{base: number, stop: number, begins: number, allIn: number, capsule: number}} Tried */

/** What can be moved: its limits are those of ordinary entry (common practice). */
const knobs = /** @type {const} */ ([
	{ key: "base", name: "Base", min: -5, max: 25, step: 1, unit: "crank degrees", less: "later", more: "earlier" },
	{
		key: "stop",
		name: "Stop",
		min: 0,
		max: 20,
		step: 0.5,
		unit: "distributor degrees",
		less: "smaller",
		more: "larger",
	},
	{ key: "begins", name: "Begins at", min: 600, max: 2500, step: 50, unit: "rpm", less: "sooner", more: "later" },
	{ key: "allIn", name: "All in at", min: 1800, max: 5000, step: 100, unit: "rpm", less: "sooner", more: "later" },
	{
		key: "capsule",
		name: "Vacuum, most",
		min: 0,
		max: 14,
		step: 0.5,
		unit: "distributor degrees",
		less: "less",
		more: "more",
	},
]);

/**
 * @param {object} of
 * @param {any[]} of.places @param {{earliestCrankDeg?: number, earliestCylinder?: number}} of.early
 * @param {any} of.target @param {Tried | null} of.tried @param {{driveRatio?: number}} of.ratio
 * @param {(tried: Tried) => void} of.onTry
 * @param {(spec: Spec, words: string) => import("../kit/dom.js").Children} of.take
 */
export function tryOut({ places, early, target, tried, ratio, onTry, take }) {
	const rest = /** @type {Tried} */ ({
		base: target.baseCrankDeg,
		stop: target.limitDistDeg,
		begins: target.straightFromEngineRPM,
		allIn: target.allInEngineRPM,
		capsule: target.capsuleMostDistDeg,
	});
	const now = { ...rest, ...(tried ?? {}) };
	const [said, table, taking] = [h("div", { role: "status" }), h("div"), h("div")];
	const weigh = latestOnly(
		async () => {
			const curve = {
				baseCrankDeg: now.base,
				limitDistDeg: now.stop,
				beginsEngineRPM: now.begins,
				allInEngineRPM: now.allIn,
				capsuleMostDistDeg: now.capsule,
			};
			const [one] = (await ask("combustion.weigh", { places, curves: [curve], ...early, ...ratio })).curves;
			fill(said, verdictLine(one), findings(one.findings));
			fill(table, placesTable(one.places, "The figures tried, place by place"));
			fill(taking, one.verdict === "fail" ? tooEarly() : take(one.spec, wordsOf(now, one.totalCrankDeg)));
		},
		(problem) => fill(said, h("p", null, inEnglish(String(problem.detail ?? problem.problem ?? problem.title)))),
	);
	const parts = knobs.map(({ key, unit, ...knob }) =>
		stepper({
			...knob,
			value: now[key],
			rest: rest[key],
			words: (value) => `${unit === "rpm" ? rpm(value) : short(value)} ${unit}`,
			onChange(value) {
				now[key] = value;
				onTry({ ...now });
				weigh();
			},
		}),
	);
	weigh();
	return fold(
		"choose/try",
		{ title: "Try other figures", isOpen: tried !== null },
		said,
		parts.map(({ element }) => element),
		taking,
		table,
		button("Back to the target", () => {
			Object.assign(now, rest);
			parts.forEach((part, i) => part.set(rest[knobs[i].key]));
			onTry({ ...now });
			weigh();
		}),
	);
}

/** @param {Tried} now @param {number} total */
const wordsOf = ({ base, stop, allIn }, total) =>
	`Base ${short(base)}, stop ${short(stop)}, total ${short(total)}, all in at ${rpm(allIn)} rpm`;

const tooEarly = () =>
	h(
		"p",
		{ class: "boxed" },
		mark("caution"),
		" Past where knock may begin: it is not offered. If the engine stands more, say what was heard on the road.",
	);

/** @param {{verdict: string, summary: string}} one */
const verdictLine = ({ verdict, summary }) =>
	h(
		"p",
		{ class: "judged-verdict" },
		mark(/** @type {any} */ (verdict)),
		h("span", null, h("strong", null, verdictWord(verdict)), ` ${inEnglish(summary)}`),
	);
