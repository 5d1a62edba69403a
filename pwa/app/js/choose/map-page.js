// The map: timing this engine stands over speed and manifold vacuum, with the
// present curve laid over it. One tap reads a square; so do the arrow keys.

import { earliestOf, engineOf } from "./engine-input.js";
import { mapFigure } from "./map-figure.js";
import { presentCurve } from "./present-curve.js";
import { onReady } from "../engine/client.js";
import { ask } from "../engine/ask.js";
import { followGarage } from "../kept/follow.js";
import { garage } from "../kept/garage.js";
import { address } from "../kit/address.js";
import { deferral } from "../kit/caution.js";
import { fill, h } from "../kit/dom.js";
import { button, nextButton, problemLine } from "../kit/field.js";
import { working } from "../kit/finding/working.js";
import { firstAnswer, patient } from "../kit/first-answer.js";
import { convert } from "../kit/units.js";
import { driveOf } from "../record/car-electrics.js";

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
		const [engine, present] = [engineOf(given), presentCurve(given)];
		const now = JSON.stringify([engine, present]);
		if (now === drawn) return;
		drawn = now;
		if (!engine)
			return fill(
				root,
				h("p", { class: "lead" }, "The engine is not known yet: compression, chamber, fuel and size."),
				nextButton("Say what engine it is", address("car", id, "choose")),
			);
		const { earliestCrankDeg } = await earliestOf(given);
		const input = {
			...engine,
			engineRPM: speeds,
			vacuumKPa: vacuums,
			...(earliestCrankDeg ? { earliestCrankDeg } : {}),
			...driveOf(given.distributor?.body.sheet),
			...(present ? { curve: present.curve } : {}),
		};
		const put = (/** @type {any} */ map) => {
			if (!ctx.signal.aborted && now === drawn) fill(root, pageOf(map, id));
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

/** @param {any} map @param {string} id */
function pageOf(map, id) {
	return [
		mapFigure(map),
		h("p", { class: "note" }, map.coarse ? "A first picture. " : "", "An estimate. ", deferral),
		button("Choose a curve", address("car", id, "choose")),
		working("the map", map.assumed, map.sources),
	];
}
