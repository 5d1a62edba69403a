// The spark tried on paper: another coil, ballast, dwell or plug gap, and what
// that does.

import { coils } from "./spark.js";
import { choice } from "../kit/field.js";
import { findings } from "../kit/finding/findings.js";
import { stepper } from "../kit/stepper.js";
import { working } from "../kit/finding/working.js";
import { h } from "../kit/dom.js";
import { fold } from "../kit/fold.js";
import { num, short } from "../kit/format.js";

/** @typedef {import("./spark-ground.js").Ground} Ground */
/** @typedef {import("./spark.js").SparkChange} SparkChange */

/** @param {Ground} ground @param {Sweep} tried */
export function changeWords({ found }, tried) {
	const at = found.rows.findIndex(({ engineRPM }) => engineRPM === 3000);
	const [a, b] = [found.rows[at], tried.rows[at]];
	const own = tried.findings.filter(({ code }) =>
		["current-high", "current-low", "feed-drop", "spark-short", "spark-thin"].includes(code),
	);
	return fold(
		"spark/does",
		{ title: "What this does", id: "does-title" },
		h(
			"ul",
			null,
			h(
				"li",
				null,
				`Current with the engine stopped: ${num(tried.stalledA)} A instead of ${num(found.stalledA)}; heat ${num(tried.stalledWatts, 0)} W instead of ${num(found.stalledWatts, 0)}.`,
			),
			a && b
				? h(
						"li",
						null,
						`At 3000 rpm: ${num(b.currentA)} A and ${num(b.energyMilliJ, 0)} mJ instead of ${num(a.currentA)} A and ${num(a.energyMilliJ, 0)} mJ; to spare, losses taken off, ${num(b.realMarginLowKV)} kV instead of ${num(a.realMarginLowKV)}.`,
					)
				: null,
		),
		own.length ? findings(own) : null,
		working("the change", tried.working),
	);
}

/** @param {SparkChange} change @param {() => void} changed */
export function coilChoice(change, changed) {
	return choice({
		label: "The coil",
		name: "coil",
		isRow: true,
		value: change.coil ?? "",
		note: "Usual figures, common practice; none is measured.",
		options: [
			{ value: "", label: "as it is" },
			...Object.entries(coils).map(([value, { label, note }]) => ({ value, label, note })),
		],
		onChange: (value) => {
			change.coil = /** @type {SparkChange["coil"]} */ (value);
			delete change.primaryOhm;
			changed();
		},
	}).element;
}

/** @param {Ground} ground @param {SparkChange} change @param {() => void} changed */
export function knobs({ input, pitch, taken }, change, changed) {
	const coil = change.coil ? coils[change.coil] : null;
	const foundOhm =
		coil?.primaryOhm ??
		input.coil.primaryOhm ??
		Number(/([\d.]+) Ω/.exec(taken["coil.primaryOhm"] ?? "")?.[1] ?? 3);
	const foundGap = input.plug.gapMm ?? 0.6;
	const dwell = input.points.dwellDistDeg;
	/**
	 * @type {(key: "primaryOhm" | "ballastOhm" | "dwellDistDeg" | "gapMm", knob:
	 *   Pick<import("../kit/stepper.js").StepperInput, "name" | "min" | "max" | "step" | "rest" | "less" | "more">,
	 *   unit: (x: number) => string) => HTMLElement}
	 */
	const knob = (key, how, unit) =>
		stepper({
			...how,
			value: change[key] ?? how.rest,
			words: (value) => `${unit(value)}${Math.abs(value - how.rest) < 1e-9 ? ", as it is" : ""}`,
			onChange(value) {
				if (value === how.rest) delete change[key];
				else change[key] = value;
				changed();
			},
		}).element;
	return [
		knob(
			"primaryOhm",
			{
				name: "Coil primary",
				min: Math.min(0.4, foundOhm),
				max: Math.max(5, foundOhm),
				step: 0.1,
				rest: foundOhm,
				less: "fewer ohms",
				more: "more ohms",
			},
			(x) => `${short(x)} Ω`,
		),
		knob(
			"ballastOhm",
			{
				name: "Ballast",
				min: 0,
				max: Math.max(3, input.coil.ballastOhm ?? 0),
				step: 0.1,
				rest: input.coil.ballastOhm ?? 0,
				less: "fewer ohms",
				more: "more ohms",
			},
			(x) => (x === 0 ? "None" : `${short(x)} Ω`),
		),
		knob(
			"dwellDistDeg",
			{
				name: "Dwell",
				min: Math.min(dwell, Math.ceil(pitch / 4)),
				max: Math.max(dwell, Math.floor(pitch * 0.75)),
				step: 1,
				rest: dwell,
				less: "less",
				more: "more",
			},
			(x) => `${short(x)} distributor degrees`,
		),
		knob(
			"gapMm",
			{
				name: "Plug gap",
				min: Math.min(0.3, foundGap),
				max: Math.max(1.5, foundGap),
				step: 0.05,
				rest: foundGap,
				less: "narrower",
				more: "wider",
			},
			(x) => `${short(x)} mm, ${num(x / 0.0254, 0)} thou`,
		),
	];
}
