// The curve as it was read last, base included, vacuum off: what the strobe
// showed, or the bench with the base that is known.

import { garage } from "../kept/garage.js";
import { parse } from "../kit/format.js";
import { convert } from "../kit/units.js";
import { lineOf } from "../record/curve-lines.js";
import { readingsForVerdict } from "../record/judged-sets.js";
import { specOf } from "../record/known.js";

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
			({ engineRPM, crankDeg }) => engineRPM >= 300 && engineRPM <= 8000 && crankDeg >= -20 && crankDeg <= 70,
		);
		if (!line || !points || points.length < 2) continue;
		const { most } = capsuleOf(given);
		return {
			name: set.place === "bench" ? `on the bench, with the ${line.taken}` : "on the car",
			curve: {
				points,
				...(most > 0 && most <= 16 ? { capsuleMostDistDeg: most } : {}),
				...(given.distributor?.body.facts.vacuumPort?.value === "manifold" ? { pipeAtIdle: true } : {}),
			},
		};
	}
	return null;
}

/**
 * capsuleOf gives start and full vacuum in inHg and the most it moves, distributor degrees: the typed figures, else the
 * code's three numbers where nobody said that they mean something else; 5 and 14 inHg and nothing otherwise.
 * @param {import("../record/known.js").Given} given
 */
export function capsuleOf({ distributor }) {
	const facts = distributor?.body.facts ?? {};
	const stamped = /^\D*(\d+)\D+(\d+)\D+(\d+)/.exec(facts.capsuleCode?.value ?? "");
	const isCode = stamped && facts.capsuleMeaning?.value !== "other";
	const code = isCode ? stamped.slice(1).map(Number) : [5, 14, 0]; // where neither is known: common practice
	const inches = (/** @type {string} */ key) => {
		const typed = parse(facts[key]?.value);
		return typed === null ? null : convert(typed, facts[key].unit || "inHg", "inHg");
	};
	const isOff = facts.vacuumPort?.value === "nowhere" || facts.capsuleKind?.value === "retard";
	return {
		start: inches("capsuleStart") ?? code[0],
		full: inches("capsuleFull") ?? code[1],
		most: isOff ? 0 : (parse(facts.capsuleMost?.value) ?? code[2]),
	};
}
