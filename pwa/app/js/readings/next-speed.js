// Which speed to read next: the book's own speeds, rising through them and
// then falling through the same ones; on the car from its idle up.

import { driveRatio, isBlank } from "../record/sheet.js";
import { parseSpeed } from "../kit/format.js";

/** Steps on the car where no book is at hand (common practice), engine rpm. */
const commonStep = 500;

/**
 * bookSpeeds gives the book's speeds, rising, in the unit the readings use.
 * @param {Sheet | undefined} sheet
 * @param {VisitSet["speedUnit"]} speedUnit
 * @returns {number[]}
 */
export function bookSpeeds(sheet, speedUnit) {
	if (!sheet?.speedUnit || !speedUnit) return [];
	const ratio = driveRatio(sheet);
	const factor = sheet.speedUnit === speedUnit ? 1 : speedUnit === "engine" ? ratio : 1 / ratio;
	const speeds = sheet.rows
		.filter((row) => !isBlank(row))
		.flatMap((row) => {
			const speed = parseSpeed(row.rpm);
			return speed !== null && speed > 0 ? [Math.round(speed * factor)] : [];
		});
	return [...new Set(speeds)].sort((a, b) => a - b);
}

/**
 * A book speed no further above the idle than this is read at the idle, engine rpm: half of what a tachometer at the
 * flash is good for (±100, common practice).
 */
const nearIdle = 50;

/**
 * speedsToRead gives the speeds to read, rising. An engine does not hold a
 * speed below its idle: on the car the idle stands first, for all below it.
 * @param {Sheet | undefined} sheet @param {Pick<VisitSet, "place" | "speedUnit">} set
 * @param {number | null} idle engine rpm; null where none was entered
 */
export function speedsToRead(sheet, set, idle) {
	const speeds = bookSpeeds(sheet, set.speedUnit);
	const slowest = idleIn(sheet, set, idle);
	if (slowest === null || speeds.length === 0) return speeds;
	const near = (nearIdle * slowest) / /** @type {number} */ (idle);
	return [slowest, ...speeds.filter((speed) => speed > slowest + near)];
}

/**
 * idleIn gives the idle in the unit of the readings, or null where it says
 * nothing: on the bench, or when none was entered.
 * @param {Sheet | undefined} sheet
 * @param {Pick<VisitSet, "place" | "speedUnit">} set
 * @param {number | null} idle engine rpm
 */
export function idleIn(sheet, { place, speedUnit }, idle) {
	if (place === "bench" || idle === null) return null;
	return Math.round(speedUnit === "engine" || !sheet ? idle : idle / driveRatio(sheet));
}

/**
 * nextSpeed suggests the next reading, or null where all are taken or nothing
 * can be said.
 * @param {number[]} speeds the book's, rising
 * @param {{rpm: number, direction: "rising" | "falling"}[]} taken in the order they were taken
 * @param {"rising" | "falling"} direction the way the speed is going now
 * @param {VisitSet["speedUnit"]} speedUnit
 * @param {number | null} [idle] of a car, in that unit
 * @returns {{rpm: number, direction: "rising" | "falling", why: string} | null}
 */
export function nextSpeed(speeds, taken, direction, speedUnit, idle = null) {
	if (speeds.length === 0) return withoutBook(taken, direction, speedUnit, idle);
	/** @param {"rising" | "falling"} way */
	const open = (way) =>
		speeds.filter(
			(speed) => !taken.some((reading) => reading.direction === way && Math.abs(reading.rpm - speed) < 1),
		);
	const last = taken.filter((reading) => reading.direction === direction).at(-1)?.rpm;
	if (direction === "rising") {
		const rising = open("rising").find((speed) => last === undefined || speed > last);
		if (rising !== undefined) return { rpm: rising, direction, why: rising === idle ? atIdle : "the next speed" };
		const top = open("falling").at(-1);
		return top === undefined ? null : { rpm: top, direction: "falling", why: "now down again" };
	}
	const falling = open("falling")
		.filter((speed) => last === undefined || speed < last)
		.at(-1);
	return falling === undefined
		? null
		: { rpm: falling, direction, why: falling === idle ? "back at its idle" : "the next speed, falling" };
}

const atIdle = "its idle. Slower cannot be held on the car";

/**
 * @param {{rpm: number, direction: "rising" | "falling"}[]} taken
 * @param {"rising" | "falling"} direction
 * @param {VisitSet["speedUnit"]} speedUnit
 * @param {number | null} idle
 */
function withoutBook(taken, direction, speedUnit, idle) {
	const last = taken.at(-1);
	if (!last) return idle === null ? null : { rpm: idle, direction, why: atIdle };
	const step = speedUnit === "engine" ? commonStep : commonStep / 2;
	const rpm = last.rpm + (direction === "falling" ? -step : step);
	return rpm > 0 && rpm >= (idle ?? 0) ? { rpm, direction, why: `steps of ${step}, common practice` } : null;
}

/**
 * looksCopied says whether the falling readings are the rising ones again: a
 * real distributor hardly ever gives three or more alike and none different.
 * @param {{rpm: number, deg: number, direction: "rising" | "falling"}[]} taken
 */
export function looksCopied(taken) {
	const pairs = taken
		.filter(({ direction }) => direction === "falling")
		.flatMap((falling) => {
			const rising = taken.find((reading) => reading.direction === "rising" && reading.rpm === falling.rpm);
			return rising ? [[rising.deg, falling.deg]] : [];
		});
	return pairs.length >= 3 && pairs.every(([rising, falling]) => rising === falling);
}
