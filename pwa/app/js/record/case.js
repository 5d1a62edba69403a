// The case that is judged: one car's book figures and the readings chosen.

import { garage } from "../kept/garage.js";
import { curvesRead, judgedSets, readingsForVerdict } from "./judged-sets.js";
import { emptySheet, isBlank, sheetInUse, toReadings, toReadingSet, toSpec } from "./sheet.js";

/**
 * @typedef {object} Case
 * @property {Sheet} sheet
 * @property {Spec | null} spec
 * @property {FieldProblem | null} problem why the book's figures cannot be read yet
 * @property {boolean} isBookBlank nothing of the book's table has been typed
 * @property {Doc<Visit>[]} visits those with readings, newest first
 * @property {string} chosen what was chosen to be judged: a visit, or "visit/set"; "" = the newest bench and the newest
 *   car readings
 * @property {{visit: Doc<Visit>, set: VisitSet}[]} earlier curves of which a visit has a newer one of the same place
 * @property {ReadingSet[]} sets the readings, as the calculation takes them
 */

/**
 * caseOf gathers what the concluding screens need of one car.
 * @param {string} carId
 * @param {string} [wish] judge this visit, or this set of it, alone
 * @returns {Case}
 */
export function caseOf(carId, wish = "") {
	const car = garage.get("car", carId);
	const distributor = car ? garage.get("distributor", car.body.distributorId) : null;
	const sheet = sheetInUse({ car, distributor }) ?? emptySheet();
	const { spec, problem } = toSpec(sheet);
	const visits = garage.visits({ carId }).filter((visit) => setsOf(visit.body).length > 0);
	const earlier = visits.flatMap(earlierCurves);
	const [visit, set] = [visits.find(({ id }) => id === wish), earlier.find((one) => earlierKey(one) === wish)];
	return {
		sheet,
		spec,
		problem,
		visits,
		earlier,
		isBookBlank: sheet.rows.every(isBlank),
		chosen: visit || set ? wish : "",
		sets: set ? [toReadingSet(set.set)] : readingsForVerdict(visit ? [visit] : visits),
	};
}

/** earlierKey names one curve of several that a visit has. @param {{visit: Doc<Visit>, set: VisitSet}} curve */
export const earlierKey = ({ visit, set }) => `${visit.id}/${set.id}`;

/**
 * The curves of a visit that are not judged with it, as they were read before something was changed.
 * @param {Doc<Visit>} visit
 */
function earlierCurves(visit) {
	return /** @type {const} */ (["bench", "car"]).flatMap((place) => {
		const judged = new Set(judgedSets([visit], place)?.sets);
		return curvesRead([visit], place)
			.filter(({ set }) => !judged.has(set))
			.map(({ set }) => ({ visit, set }));
	});
}

/** @param {Visit} visit */
function setsOf(visit) {
	return toReadings({ sets: (visit.sets ?? []).filter((set) => !set.removed) });
}
