// The case that is judged: one car's book figures and the readings chosen.

import { garage } from "./garage.js";
import { readingsForVerdict } from "./job.js";
import { emptySheet, isBlank, toReadings, toSpec } from "./sheet.js";

/**
 * @typedef {object} Case
 * @property {Sheet} sheet
 * @property {Spec | null} spec
 * @property {FieldProblem | null} problem why the book's figures cannot be read yet
 * @property {boolean} isBookBlank nothing of the book's table has been typed
 * @property {Doc<Visit>[]} visits those with readings, newest first
 * @property {string} visitId the one visit that is judged; "" = the newest bench and the newest car readings
 * @property {ReadingSet[]} sets the readings, as the calculation takes them
 */

/**
 * caseOf gathers what the concluding screens need of one car.
 * @param {string} carId
 * @param {string} [visitId] judge this visit alone
 * @returns {Case}
 */
export function caseOf(carId, visitId = "") {
	const car = garage.get("car", carId);
	const distributor = car ? garage.get("distributor", car.body.distributorId) : null;
	const sheet = distributor?.body.sheet ?? emptySheet();
	const { spec, problem } = toSpec(sheet);
	const visits = garage.visits({ carId }).filter((visit) => setsOf(visit.body).length > 0);
	const chosen = visits.find(({ id }) => id === visitId);
	return {
		sheet, spec, problem, visits, isBookBlank: sheet.rows.every(isBlank),
		visitId: chosen?.id ?? "", sets: chosen ? setsOf(chosen.body) : readingsForVerdict(visits),
	};
}

/** @param {Visit} visit */
function setsOf(visit) {
	return toReadings({ sets: (visit.sets ?? []).filter((set) => !set.removed) });
}

/**
 * followGarage calls draw now and after every change of the garage, until the
 * signal aborts. Changes that come together are drawn once.
 * @template T
 * @param {AbortSignal} signal @param {() => T} draw
 * @returns {T}
 */
export function followGarage(signal, draw) {
	let isDue = false;
	const off = garage.on("change", () => {
		if (isDue) return;
		isDue = true;
		setTimeout(() => {
			isDue = false;
			if (!signal.aborted) draw();
		}, 30);
	});
	signal.addEventListener("abort", off);
	return draw();
}
