// The map: timing this engine stands over speed and manifold vacuum, with the
// present curve laid over it. One tap reads a square; so do the arrow keys.

import { earliestOf, engineOf } from "./engine-input.js";
import { inches, mapFigure } from "./map-figure.js";
import { capsuleOf, presentCurve } from "./present-curve.js";
import { onReady } from "../engine/client.js";
import { ask } from "../engine/ask.js";
import { followGarage } from "../kept/follow.js";
import { garage } from "../kept/garage.js";
import { address } from "../kit/address.js";
import { deferral } from "../kit/caution.js";
import { fill, h } from "../kit/dom.js";
import { nextButton, problemLine } from "../kit/field.js";
import { working } from "../kit/finding/working.js";
import { firstAnswer, patient } from "../kit/first-answer.js";
import { convert } from "../kit/units.js";
import { at } from "../record/curve-lines.js";
import { driveOf } from "../record/car-electrics.js";
import { sheetInUse } from "../record/sheet.js";

const speeds = [800, 1500, 2000, 2500, 3000, 4000]; // idle to where a road engine is held; six fit a glove (chosen)
/** Full throttle to easy cruise (chosen). */
const vacuums = [0, 4, 8, 12, 16].map((inHg) => Number(convert(inHg, "inHg", "kPa")));

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	const id = ctx.params.car;
	let drawn = "";
	const draw = async () => {
		const car = /** @type {Doc<Car>} */ (garage.get("car", id));
		const given = { car, distributor: garage.get("distributor", car.body.distributorId), answers: {} };
		const engine = engineOf(given);
		const now = JSON.stringify([engine, car.body.chosen, presentCurve(given)]);
		if (now === drawn) return;
		drawn = now;
		if (!engine)
			return fill(
				root,
				h("p", { class: "lead" }, "The engine is not known yet: compression, chamber, fuel and size."),
				nextButton("Say what engine it is", address("car", id, "choose")),
			);
		const early = await earliestOf(given);
		const { earliestCrankDeg } = early;
		const input = {
			...engine,
			engineRPM: speeds,
			vacuumKPa: vacuums,
			...(earliestCrankDeg ? { earliestCrankDeg } : {}),
		};
		const put = (/** @type {any} */ map) => {
			if (!ctx.signal.aborted && now === drawn)
				fill(root, pageOf(map, timingOver(given), earliestCrankDeg ?? 0, id));
		};
		try {
			put(await ask("combustion.map", { ...input, coarse: true }));
			put(await ask("combustion.map", input));
		} catch (problem) {
			if (!ctx.signal.aborted) fill(root, problemLine(/** @type {Problem} */ (problem)));
		}
	};
	const again = () => {
		drawn = "";
		draw();
	};
	ctx.signal.addEventListener("abort", onReady(again));
	await firstAnswer(followGarage(ctx.signal, draw), patient);
}

/**
 * @param {any} map @param {import("./map-figure.js").Timing | null} timing @param {number} early @param {string} id
 */
function pageOf(map, timing, early, id) {
	return [
		h(
			"p",
			{ class: "lead" },
			timing
				? "Each square: what it has now, and how far that is from where knock may begin."
				: "Each square: the earliest timing advised.",
		),
		nextButton("Choose a curve", address("car", id, "choose")),
		mapFigure(map, timing, early),
		h("p", { class: "note" }, map.coarse ? "A first picture. " : "", "An estimate. ", deferral),
		working("the map", map.assumed, map.sources),
	];
}

/**
 * timingOver gives what the distributor gives at a speed and vacuum: the present curve, or the table in use in its
 * middle, and the capsule between its start and its full vacuum.
 * @param {import("../record/known.js").Given} given
 * @returns {((rpm: number, kPa: number) => number) | null}
 */
function timingOver(given) {
	const present = presentCurve(given);
	if (!present) return null;
	const { points, capsuleMostDistDeg: most = 0 } = present.curve;
	const ratio = driveOf(sheetInUse(given)).driveRatio ?? 2;
	const { start, full } = capsuleOf(given);
	const [first, last] = [points[0].engineRPM, points[points.length - 1].engineRPM];
	return (rpm, kPa) => {
		const share = Math.min(1, Math.max(0, (inches(kPa) - start) / Math.max(1, full - start)));
		return Number(at(points, Math.min(last, Math.max(first, rpm)))) + ratio * most * share;
	};
}
