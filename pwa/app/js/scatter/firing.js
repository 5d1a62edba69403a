// How an engine is made to fire and which points fire it, as it was said on
// the pages: facts of the car and of its distributor.

import { parse } from "../kit/format.js";

/** Crank degrees: as near to 720 or 360 as intervals have to add up. As scatter.analyse takes it. */
const sumWithin = 0.5;

/**
 * intervalsIn reads intervals as typed: "90 150" or "90-150-90-150". A few that
 * come again and again need be typed once. Null where they do not fit.
 * @param {string} typed @param {number} cylinders @returns {number[] | null}
 */
export function intervalsIn(typed, cylinders) {
	const once = (typed.match(/\d+(?:[.,]\d+)?/g) ?? []).map((one) => Number(parse(one)));
	if (once.length === 0 || cylinders % once.length !== 0 || once.some((one) => !(one > 0))) return null;
	const all = Array.from({ length: cylinders }, (_, i) => once[i % once.length]);
	const sum = all.reduce((total, one) => total + one, 0);
	return [360, 720].some((cycle) => Math.abs(sum - cycle) <= sumWithin) ? all : null;
}

/**
 * intervalsDoubt says what is wrong with intervals as typed, or null.
 * @param {string} typed @param {number} cylinders
 */
export function intervalsDoubt(typed, cylinders) {
	if (typed.trim() === "" || intervalsIn(typed, cylinders)) return null;
	return {
		problem: `“${typed.trim().slice(0, 40)}” does not make one round of ${cylinders} firings`,
		limit: "adding up to 720 crank degrees, or 360 for a two-stroke",
		do: "Type the crank degrees from each firing to the next, such as 90 150. What comes again and again need be typed once.",
	};
}

/**
 * firingOf gives what the calculations take as firing; nothing while it was
 * not said, or cannot be read.
 * @param {Facts} car @param {number} cylinders @returns {{firing?: {intervalsCrankDeg: number[]}}}
 */
export function firingOf(car, cylinders) {
	const how = car.firing?.value ?? "";
	if (how === "uneven") {
		const intervals = intervalsIn(car.firingIntervals?.value ?? "", cylinders);
		return intervals ? { firing: { intervalsCrankDeg: intervals } } : {};
	}
	const cycle = how === "even" ? 720 : how === "even-two-stroke" ? 360 : 0;
	return cycle ? { firing: { intervalsCrankDeg: Array.from({ length: cylinders }, () => cycle / cylinders) } } : {};
}

/**
 * setsOf gives the points as scatter.analyse takes them: twin only where each
 * set fires every other cylinder. "Twin" among the facts does not say that.
 * @param {Facts} distributor @returns {{points?: "single" | "twin"}}
 */
export function setsOf(distributor) {
	const said = distributor.pointsSets?.value || (distributor.pointsKind?.value === "single" ? "single" : "");
	if (said === "twin") return { points: "twin" };
	return said === "single" || said === "pair" ? { points: "single" } : {};
}
