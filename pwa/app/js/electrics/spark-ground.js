// What the picture of the spark stands on: the car as it is, its volts, its
// polarity, the book’s timing, and the sweep worked out from them.

import { inputs } from "../../made/shapes.js";
import { isIn } from "../record/figure-limits.js";
import { corners, totalBands } from "../record/book-band.js";
import { caseOf } from "../record/case.js";
import { electricsOf, unitDocuments } from "../record/car-electrics.js";
import { dwellNow } from "./points.js";
import { speedsFor, sweepIn, takenWords } from "./spark.js";
import { crankingFigures, measuredFigures, supplyIn } from "./supply.js";
import { factsOf, workedOn } from "../record/visit-facts.js";
import { dayName } from "../record/visits.js";
import { ask } from "../engine/ask.js";

/**
 * @typedef {object} Ground what the picture stands on
 * @property {any} input of coil.sweep
 * @property {Sweep} found
 * @property {number[]} table speeds read one by one
 * @property {{[path: string]: string}} taken
 * @property {{dwell: number, from: string}} dwell
 * @property {number} pitch distributor degrees
 * @property {PolarityAnswer | null} polarity
 * @property {PlugNeed | null} need
 * @property {boolean} ballasted
 * @property {ReturnType<typeof measuredFigures>} volts
 */

/** @param {string} carId @returns {Promise<Ground>} */
export async function groundOf(carId) {
	const { facts, visits, distributor } = unitDocuments(carId);
	const electrics = /** @type {any} */ (electricsOf(facts.car, facts.distributor, distributor?.body.sheet));
	const dwell = /** @type {{dwell: number, from: string}} */ (
		dwellNow(factsOf(visits, "points"), facts.distributor, electrics.cylinders)
	);
	const { spec } = caseOf(carId);
	const bands = spec ? await totalBands(spec).catch(() => []) : [];
	const { min = -Infinity, max = Infinity } = inputs["coil.sweep"]["engine.timing.crankDeg"];
	const timing = bands
		.filter(({ engineRPM }) => isIn(engineRPM, inputs["coil.sweep"]["engine.timing.engineRPM"]))
		.slice(0, 64)
		.map((band) => ({
			engineRPM: band.engineRPM,
			crankDeg: Math.min(max, Math.max(min, (band.minCrankDeg + band.maxCrankDeg) / 2)),
		}));
	const polarity = await polarityOf(facts.car, electrics.earth);
	const top = Math.min(7000, Math.max(4000, Math.ceil((spec ? (corners(spec).at(-1) ?? 0) : 5000) / 500) * 500));
	const speeds = speedsFor(top);
	const volts = await voltsOf(electrics, visits, facts.car);
	const { input, taken } = sweepIn(
		electrics,
		facts.car,
		dwell,
		speeds.drawn,
		timing,
		polarity?.polarity ?? "unknown",
		volts.figures,
	);
	const found = /** @type {Sweep} */ (await ask("coil.sweep", input));
	const words = { ...takenWords(found.assumed), ...taken };
	if (timing.length) words["engine.sparkCrankDeg"] = "the middle of the book’s curve is taken at each speed";
	const {
		engine: { timing: _timing, ...engine },
		plug,
	} = /** @type {any} */ (input);
	const need = /** @type {PlugNeed | null} */ (
		await ask("spark.required", { gapMm: plug.gapMm ?? 0.6, engine, polarity: plug.polarity }).catch(() => null)
	);
	return {
		input,
		found,
		need,
		table: speeds.table,
		taken: words,
		dwell,
		pitch: 360 / electrics.cylinders,
		polarity,
		ballasted: (input.coil.ballastOhm ?? 0) > 0,
		volts,
	};
}

/**
 * voltsOf gives what the walk along the feed measured.
 * @param {import("../record/car-electrics.js").Electrics} electrics
 * @param {Doc<Visit>[]} visits
 * @param {Facts} car
 * @returns {Promise<ReturnType<typeof measuredFigures>>}
 */
export async function voltsOf(electrics, visits, car) {
	const input = supplyIn(electrics, "closed", factsOf(visits, "volts"), car);
	const judged = input
		? /** @type {SupplyJudgement | null} */ (await ask("supply.judge", input).catch(() => null))
		: null;
	const day = dayName(workedOn(visits, "volts")?.body.date ?? "");
	const still = judged ? measuredFigures(judged, electrics.ballasted === true, day) : { figures: {}, hints: {} };
	return { ...still, figures: { ...still.figures, ...crankingFigures(factsOf(visits, "volts"), day) } };
}

/** Is a figure of this very coil known, or is a usual one taken? @param {Ground["input"]} input */
export const isOwnCoil = ({ coil }) => ["primaryOhm", "inductanceMilliH", "turnsRatio"].some((key) => key in coil);

/**
 * polarityOf tells which way round the spark jumps; null where the earth is not known.
 * @param {Facts} car @param {string | null} earth @returns {Promise<PolarityAnswer | null>}
 */
export async function polarityOf(car, earth) {
	if (!earth) return null;
	const marks = car.coilMarks?.value ?? "";
	const terminal = car.coilTerminal?.value ?? "";
	const fits =
		marks === "plus-minus" ? ["+", "-"].includes(terminal) : marks === "sw-cb" && ["SW", "CB"].includes(terminal);
	return ask("coil.polarity", {
		earth,
		...(marks ? { marks } : {}),
		...(fits ? { distributorTerminal: terminal } : {}),
		...(car.coilMadeFor?.value ? { madeForEarth: car.coilMadeFor.value } : {}),
		...(car.sparkFlare?.value ? { flare: car.sparkFlare.value } : {}),
	});
}
