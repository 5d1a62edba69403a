// Doubts about what is measured of the vacuum capsule.

import { inputs } from "../../made/shapes.js";
import { doubt, unreadable, vacuumDoubt } from "../kit/doubt.js";
import { parse } from "../kit/format.js";
import { convert, figureIn } from "../kit/units.js";

/** @typedef {import("../kit/doubt.js").Doubt} Doubt */

/** @param {string} path of vacuum.judge @returns {[number, number]} */
function ends(path) {
	const { min = 0, max = Infinity } = inputs["vacuum.judge"][path];
	return [min, max];
}

/** What vacuum.judge takes: kPa below ambient, and movement by the shaft it is read on. */
const capsuleReach = {
	kPa: ends("readings.kPa"),
	crank: ends("readings.crankDeg"),
	distributor: ends("readings.distDeg"),
};

/** What a figure beyond that is answered with. */
const leftOut =
	"Look at the decimal point and the unit, and correct it. It is kept as typed and left out; the rest is judged.";

/**
 * capsuleVacuumDoubt names, in the unit it is typed in, a vacuum that cannot
 * be, and asks about an unusual one.
 * @param {string} value @param {string} unit @returns {Doubt | null}
 */
export function capsuleVacuumDoubt(value, unit) {
	if (parse(value) === null || !isLeftOut(value, unit)) return vacuumDoubt(value, unit);
	return doubt(
		`${value.trim()} ${unit} is no vacuum that can be`,
		`0 to ${Math.floor(convert(capsuleReach.kPa[1], "kPa", unit) ?? 0)} ${unit}`,
		leftOut,
	);
}

/**
 * movementDoubt names a movement that no capsule makes.
 * @param {string} value
 * @param {string} unit
 * @returns {Doubt | null}
 */
export function movementDoubt(value, unit) {
	if (parse(value) === null || !isLeftOut(value, unit)) return unreadable(value);
	const [low, high] = capsuleReach[unit.startsWith("crank") ? "crank" : "distributor"];
	return doubt(`${value.trim()} ${unit} is no movement of a capsule`, `${low} to ${high} ${unit}`, leftOut);
}

/** What of the capsule else is judged, by the fact it is typed in: more than 0, and at most this. */
export const capsuleMost = {
	capsuleMost: ends("capsule.maxDistDeg")[1],
	"capsule.hold.seconds": ends("hold.seconds")[1],
};

/**
 * capsuleMostDoubt names a figure beyond that.
 * @param {keyof typeof capsuleMost} key
 * @param {string} value
 * @param {string} unit
 * @returns {Doubt | null}
 */
export function capsuleMostDoubt(key, value, unit) {
	const x = parse(value);
	return x === null
		? unreadable(value)
		: x > 0 && x <= capsuleMost[key]
			? null
			: doubt(
					`${value.trim()} ${unit} cannot be right here`,
					`more than 0, at most ${capsuleMost[key]} ${unit}`,
					leftOut,
				);
}

/**
 * isLeftOut tells whether a figure of the capsule is beyond what is judged.
 * @param {string} value
 * @param {string} unit
 */
export function isLeftOut(value, unit) {
	const isAngle = unit.endsWith("degrees");
	const x = isAngle ? parse(value) : figureIn({ value, unit }, "kPa");
	const [low, high] = capsuleReach[isAngle ? (unit.startsWith("crank") ? "crank" : "distributor") : "kPa"];
	return x !== null && (x < low || x > high);
}
