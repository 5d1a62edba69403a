// The condenser as the calculation takes it. What is measured of it is kept
// among the condition checks (B15), so that it is typed once and stands in both
// places.

import { parse } from "../kit/format.js";
import { limitKey, ownLimit } from "../condition/condition.js";
import { sparkFigures } from "./spark.js";
import { text } from "../record/visit-facts.js";

/**
 * What is read off a meter: the measure of the condition check, and the input it goes to; most: what the check takes
 * too (calc/condition).
 */
export const condenserFigures = /** @type {const} */ ([
	{
		id: "B15.capacity",
		unit: "µF",
		input: "condenserMicroF",
		label: "Capacity",
		note: "By a meter, its lead off the distributor. Short it to its case first.",
		most: 5,
	},
	{
		id: "B15.insulation",
		unit: "MΩ",
		input: "insulationMegaOhm",
		label: "Leakage: insulation, warm",
		note: "Lead to case, at the highest volts the instrument has. Type 500 where it shows no end.",
		most: 100_000,
	},
	{
		id: "B15.series",
		unit: "Ω",
		input: "seriesOhm",
		label: "Resistance in series",
		note: "Its lead and its fixing: lead to terminal, case to plate.",
		most: 1000,
	},
]);

/** What the hand and the eye say; keys of the same check. */
export const condenserLooks = /** @type {const} */ ([
	{
		key: "B15.hot",
		input: "hot",
		label: "Warmed by a hair dryer, or the engine hot",
		options: [
			["same", "all the same"],
			["worse", "worse"],
			["", "not tried"],
		],
	},
	{
		key: "B15.arc",
		input: "arc",
		label: "The spark at the opening points",
		options: [
			["small", "small and blue"],
			["heavy", "heavy and yellow"],
			["", "not seen"],
		],
	},
	{
		key: "B15.pit",
		input: "pit",
		label: "Metal is lost from",
		options: [
			["fixed", "the fixed contact", "on the plate"],
			["arm", "the arm’s contact"],
			["even", "both alike", "grey"],
			["", "not looked at"],
		],
	},
]);

/**
 * condenserIn gives what condenser.judge takes; null while the system voltage
 * is not known.
 * @param {import("../record/car-electrics.js").Electrics} electrics
 * @param {Facts} car
 * @param {Facts} checks facts of the condition checks
 */
export function condenserIn({ nominalV, earth, ballasted }, car, checks) {
	if (nominalV === null) return null;
	const { values } = sparkFigures(car);
	const coil = Object.fromEntries(
		Object.entries(values)
			.filter(([path]) => path.startsWith("coil.") && path !== "coil.condenserMicroF")
			.map(([path, x]) => [path.slice(5), x]),
	);
	if (ballasted === false) coil.ballastOhm = 0;
	// common practice, as on the spark page
	else if (ballasted && coil.ballastOhm === undefined && nominalV === 12) coil.ballastOhm = 1.5;
	const figures = condenserFigures.flatMap(({ id, input, most }) => {
		const x = parse(text(checks, id));
		return x === null || x < 0 || x > most || (x === 0 && input === "condenserMicroF") ? [] : [[input, x]];
	});
	const looks = condenserLooks.flatMap(({ key, input }) => (text(checks, key) ? [[input, text(checks, key)]] : []));
	const { limit } = ownLimit(car, {
		id: "B15.capacity",
		title: "",
		kind: "figure",
		unit: "µF",
		accept: "",
		possible: { low: 0, high: condenserFigures[0].most },
	});
	return {
		supplyV: values.supplyV ?? (nominalV === 6 ? 6.9 : 13.8),
		earth: earth ?? "unknown",
		coil,
		...Object.fromEntries([...figures, ...looks]),
		...(limit?.passMin === undefined ? {} : { ownMinMicroF: limit.passMin }),
		...(limit?.passMax === undefined ? {} : { ownMaxMicroF: limit.passMax }),
	};
}

/** Where the car's own range of size is kept: it counts in the condition check too. */
export const ownSizeKeys = /** @type {const} */ (["least", "most"]).map((end) => ({
	end,
	key: limitKey("B15.capacity", end),
}));
