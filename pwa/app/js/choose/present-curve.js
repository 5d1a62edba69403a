// The curve as it was read last, base included, vacuum off: what the strobe
// showed, or the bench with the base that is known.

import { inputs } from "../../made/shapes.js";
import { garage } from "../kept/garage.js";
import { convert, figureIn } from "../kit/units.js";
import { lineOf } from "../record/curve-lines.js";
import { isIn } from "../record/figure-limits.js";
import { readingsForVerdict } from "../record/judged-sets.js";
import { specOf } from "../record/known.js";

/** What the calculation takes of a curve, by the path of its field. */
const limitsOfCurve = Object.fromEntries(
	Object.entries(inputs["combustion.weigh"])
		.filter(([path]) => path.startsWith("curves."))
		.map(([path, limit]) => [path.slice("curves.".length), limit]),
);

/**
 * presentCurve gives the curve as combustion.weigh takes it and where it was read; null where none is whole.
 * @param {import("../record/known.js").Given} given
 */
export function presentCurve(given) {
	const spec = specOf(given);
	const card = /** @type {SetupCard} */ (/** @type {any} */ (spec ? { spec } : {}));
	const sets = readingsForVerdict(garage.visits({ carId: given.car.id }));
	const inOrder = [...sets].sort((a, b) => Number(b.place === "car") - Number(a.place === "car"));
	for (const set of inOrder) {
		const line = lineOf(card, set, "total");
		const points = line?.points.filter(
			({ engineRPM, crankDeg }) =>
				isIn(engineRPM, limitsOfCurve["points.engineRPM"]) && isIn(crankDeg, limitsOfCurve["points.crankDeg"]),
		);
		if (!line || !points || points.length < 2) continue;
		return {
			name: set.place === "bench" ? `on the bench, with the ${line.taken}` : "on the car",
			curve: { points, ...capsuleOf(given) },
		};
	}
	return null;
}

/**
 * capsuleOf gives the capsule as a curve takes it: the typed figures, else the code's where somebody said what its
 * numbers mean; nothing where it is not known, is not connected, or retards.
 * @param {import("../record/known.js").Given} given
 */
function capsuleOf({ distributor }) {
	const facts = distributor?.body.facts ?? {};
	if (facts.vacuumPort?.value === "nowhere" || facts.capsuleKind?.value === "retard") return {};
	const isSaid = facts.capsuleMeaning?.value === "start-full-most";
	const [start, full, most] = isSaid ? (facts.capsuleCode?.value.match(/\d+(?:[.,]\d+)?/g) ?? []) : [];
	const figure = (/** @type {string} */ key, /** @type {string | undefined} */ stamped, /** @type {string} */ unit) =>
		figureIn({ value: facts[key]?.value || (stamped ?? ""), unit: facts[key]?.unit || unit }, unit);
	const inKPa = (/** @type {number | null} */ inHg) => (inHg === null ? null : convert(inHg, "inHg", "kPa"));
	const [startKPa, fullKPa] = [
		inKPa(figure("capsuleStart", start, "inHg")),
		inKPa(figure("capsuleFull", full, "inHg")),
	];
	const mostDeg = figure("capsuleMost", most, "distributor degrees");
	const { capsuleMostDistDeg, capsuleStartKPa, capsuleFullKPa } = limitsOfCurve;
	if (mostDeg === null || mostDeg <= 0 || !isIn(mostDeg, capsuleMostDistDeg)) return {};
	const hasSpan =
		startKPa !== null && fullKPa !== null && isIn(startKPa, capsuleStartKPa) && isIn(fullKPa, capsuleFullKPa);
	return {
		capsuleMostDistDeg: mostDeg,
		...(hasSpan ? { capsuleStartKPa: startKPa, capsuleFullKPa: fullKPa } : {}),
		...(facts.vacuumPort?.value === "manifold" ? { pipeAtIdle: true } : {}),
	};
}

/**
 * capsuleAsked says whether there is a code of which nobody has said what it means.
 * @param {Facts | undefined} facts
 */
export const capsuleAsked = (facts) =>
	Boolean(facts?.capsuleCode?.value.trim()) && !facts?.capsuleMeaning?.value && !facts?.capsuleMost?.value.trim();
