// One moment of a turn: what stands at an angle of the crank, picked from the
// answer of time.turn and put into words. Nothing is worked out here.

import { num } from "../kit/format.js";

/**
 * @typedef {object} TurnEvent
 * @property {number} crankDeg @property {string} name @property {number} place @property {number | null} cylinder
 *
 * @typedef {object} Turn the answer of time.turn
 * @property {number} revMs @property {number} degPerMs
 * @property {{crankDeg: number[], pistonMm: number[], shaftDistDeg: number[], rotorDistDeg: number[],
 *   closed: boolean[], primaryA: number[], secondaryKV: number[], burnt: number[], pressureKPa: number[]}} series
 * @property {TurnEvent[]} events
 * @property {{sparkCrankDeg: number, plateDistDeg: number | null, centrifugalCrankDeg: number | null,
 *   vacuumCrankDeg: number | null} | null} timing
 * @property {{currentA: number, realLowKV: number, realHighKV: number, requiredKV: number} | null} coil
 * @property {{pMaxKPa: number, pMaxCrankDeg: number} | null} gas
 * @property {{what: string, field: string, because: string, limit: string, do: string}[]} leftOut
 * @property {string[]} assumed @property {string[]} working @property {string[]} sources
 */

/** The crank as the page turns it: compression and power, then exhaust and inlet. */
export const firstDeg = -180;
export const lastDeg = 540;

/** inSeries gives the angle under which the answer has it. @param {number} deg */
export const inSeries = (deg) => (deg > 360 ? deg - 720 : deg);

/** onPage is the other way round. @param {number} deg */
export const onPage = (deg) => (deg < firstDeg ? deg + 720 : deg);

const snap = 1e-9; // angles nearer than this are one, as time.turn has it

/** The last angle of the answer that is not past this one. @param {number[]} angles @param {number} deg */
export function indexAt(angles, deg) {
	let [low, high] = [0, angles.length - 1];
	while (low < high) {
		const middle = Math.ceil((low + high) / 2);
		if (angles[middle] <= deg + snap) low = middle;
		else high = middle - 1;
	}
	return low;
}

/**
 * valueAt reads a list at an angle of the page, straight between two angles; null where the list is left out.
 * @param {number[]} angles @param {number[]} list @param {number} deg
 */
export function valueAt(angles, list, deg) {
	if (list.length !== angles.length) return null;
	const at = inSeries(deg);
	const i = indexAt(angles, at);
	if (i === angles.length - 1) return list[i];
	const part = Math.max(0, at - angles[i]) / (angles[i + 1] - angles[i]);
	return list[i] + part * (list[i + 1] - list[i]);
}

/** isClosed says whether the points are closed; null where they are left out. @param {Turn} turn @param {number} deg */
export const isClosed = ({ series }, deg) =>
	series.closed.length ? series.closed[indexAt(series.crankDeg, inSeries(deg))] : null;

/** eventOf gives the angle of an event of No. 1 on the page. @param {Turn} turn @param {string} name */
export function eventOf({ events }, name) {
	const found = events.find((one) => one.name === name && one.place === 1);
	return found ? onPage(found.crankDeg) : null;
}

const justNow = 1; // degree: one step of the crank
const marked = 3; // degrees for which a spark is drawn, a still mark

/**
 * sparkAt gives the spark that has just jumped, for one step or for as long as it is drawn.
 * @param {Turn} turn @param {number} deg @param {number} [within] degrees
 */
export function sparkAt({ events }, deg, within = marked) {
	return (
		events.find((one) => {
			const since = (deg - one.crankDeg + 1440 + 0.05) % 720;
			return one.name.endsWith("spark") && since < within;
		}) ?? null
	);
}

const strokes = ["compression", "power", "exhaust", "inlet"];

/** @param {number} deg */
export const strokeAt = (deg) => strokes[Math.min(3, Math.floor((deg - firstDeg) / 180))];

/** Degrees as they are read: whole ones without a decimal. @param {number} deg */
const degrees = (deg) => {
	const text = num(Math.abs(deg), Math.abs(deg - Math.round(deg)) < 0.05 ? 0 : 1);
	return `${text} ${text === "1" ? "degree" : "degrees"}`;
};

/** angleWords says where the crank stands. @param {number} deg */
export function angleWords(deg) {
	const from = deg > 180 ? deg - 360 : deg;
	if (Math.abs(from) < 0.05) return deg > 180 ? "TDC, valve overlap" : "TDC";
	if (Math.abs(Math.abs(from) - 180) < 0.05) return "BDC";
	return `${degrees(from)} ${from < 0 ? "before" : "after"} TDC`;
}

/** Time from TDC, by the turning rate of the answer. @param {Turn} turn @param {number} deg */
function msWords({ degPerMs }, deg) {
	const from = Math.abs(deg > 180 ? deg - 360 : deg);
	return from < 0.05 ? "" : `, ${num(from / degPerMs)} ms`;
}

/** momentWords tells all that stands at an angle. @param {Turn} turn @param {number} deg */
export function momentWords(turn, deg) {
	const about = [pointsWords(turn, deg), fireWords(turn, deg)].filter(Boolean).join(" ");
	return `${angleWords(deg)}${msWords(turn, deg)}, ${strokeAt(deg)} stroke${about ? `: ${about}` : "."}`;
}

/** @param {Turn} turn @param {number} deg */
function pointsWords(turn, deg) {
	const { series, coil } = turn;
	const spark = sparkAt(turn, deg, justNow);
	const amps = valueAt(series.crankDeg, series.primaryA, deg);
	if (spark) {
		const whose =
			spark.name !== "spark" ? "wasted spark" : spark.cylinder ? `spark in No. ${spark.cylinder}` : "spark";
		const gone = coil
			? ` ${num(coil.currentA)} A gone, ${num(coil.realLowKV, 0)} to ${num(coil.realHighKV, 0)} kV to be had.`
			: "";
		return series.closed.length ? `points just open, ${whose}.${gone}` : `${whose}.`;
	}
	const closed = isClosed(turn, deg);
	if (closed === null) return "";
	if (!closed) return "points open.";
	return amps === null ? "points closed." : `points closed, ${num(amps)} A and growing.`;
}

/** @param {Turn} turn @param {number} deg */
function fireWords(turn, deg) {
	const { series, timing, gas } = turn;
	const pressure = valueAt(series.crankDeg, series.pressureKPa, deg);
	if (!gas || !timing || pressure === null) return "";
	const top = Math.abs(deg - gas.pMaxCrankDeg) < justNow / 2 ? ", the top" : "";
	const said = `Pressure ${num(pressure, 0)} kPa${top}.`;
	const burnt = Math.round(100 * Number(valueAt(series.crankDeg, series.burnt, deg)));
	if (deg > 180 || deg < -timing.sparkCrankDeg) return said;
	return `${burnt ? `${burnt} % burnt` : "Nothing burnt yet"}. ${said}`;
}
