// What the pages of points, spark and volts need to know of the car itself.
// Unknown stays unknown: nothing is filled in here.

import { garage } from "../kept/garage.js";
import { driveRatio } from "./sheet.js";
import { figureIn } from "../kit/units.js";
import { parse } from "../kit/format.js";

/**
 * @typedef {object} Electrics
 * @property {6 | 12 | null} nominalV
 * @property {"positive" | "negative" | null} earth
 * @property {boolean | null} ballasted
 * @property {boolean} electronic an electronic trigger switches the coil
 * @property {boolean} twin two sets of points
 * @property {number | null} cylinders
 * @property {number | null} altitudeM
 * @property {number} [driveRatio] engine turns for one of the distributor, where the book page says another than 2
 */

/**
 * @param {Facts} car
 * @param {Facts} distributor
 * @param {Sheet | null} [sheet] the book's table, which holds the drive ratio
 * @returns {Electrics}
 */
export function electricsOf(car, distributor, sheet) {
	const volts = parse(car.voltage?.value);
	const earth = car.earth?.value;
	const ballast = car.ballast?.value ?? "";
	const cylinders = parse(car.cylinders?.value);
	const trigger = car.trigger?.value ?? "";
	const height = figureIn(car.altitude, "m");
	return {
		nominalV: volts === 6 || volts === 12 ? volts : null,
		earth: earth === "positive" || earth === "negative" ? earth : null,
		ballasted: ballast === "" ? null : ballast !== "none",
		electronic: trigger !== "" && trigger !== "none",
		twin: distributor.pointsKind?.value === "twin",
		cylinders:
			cylinders !== null && Number.isInteger(cylinders) && cylinders >= 1 && cylinders <= 16 ? cylinders : null,
		altitudeM: height !== null && height >= -500 && height <= 6000 ? height : null, // as condition.list takes it
		...driveOf(sheet),
	};
}

/**
 * driveOf gives the drive ratio as coil.* and points.* take it; nothing where
 * it is the ordinary 2, which they take by themselves.
 * @param {Sheet | null | undefined} sheet @returns {{driveRatio?: number}}
 */
export function driveOf(sheet) {
	const ratio = sheet ? driveRatio(sheet) : 2;
	return ratio !== 2 && ratio >= 0.5 && ratio <= 4 ? { driveRatio: ratio } : {};
}

/**
 * keepFactOf keeps a fact of the car or of its distributor.
 * @param {"car" | "distributor"} kind @param {string} id @param {string} key @param {Partial<Fact>} change
 */
export function keepFactOf(kind, id, key, change) {
	return garage
		.update(kind, id, (body) => {
			body.facts = {
				...body.facts,
				[key]: { value: "", unit: "", source: "", note: "", ...body.facts?.[key], ...change },
			};
		})
		.catch(() => {});
}

/**
 * unitDocuments reads the car and its distributor as they now stand.
 * @param {string} carId
 */
export function unitDocuments(carId) {
	const car = /** @type {Doc<Car>} */ (garage.get("car", carId));
	const distributor = /** @type {Doc<Distributor> | null} */ (garage.get("distributor", car.body.distributorId));
	const visits = garage.visits({ carId });
	return {
		car,
		distributor,
		visits,
		facts: { car: car.body.facts ?? {}, distributor: distributor?.body.facts ?? {} },
	};
}
