// Where the parts of the picture stand: cam and heel, piston, rod and crank.
// The cam is drawn so that it opens the points where the answer says.

import { eventOf, isClosed, valueAt } from "./moment.js";

/** @typedef {import("./moment.js").Turn} Turn */
/**
 * @typedef {object} Cam distributor degrees
 * @property {number} lobes
 * @property {number} pitch from lobe to lobe
 * @property {number} open for how much of it the points are open
 * @property {number} plate by how much the capsule has turned the heel against the rotation
 */

/** camOf reads the cam from the answer; null where the points are left out. @param {Turn} turn @returns {Cam | null} */
export function camOf(turn) {
	const { series, events, timing } = turn;
	const [opens, closes] = [eventOf(turn, "points open"), eventOf(turn, "points close")];
	if (!series.closed.length || opens === null || closes === null || !timing) return null;
	const ratio = ratioOf(turn);
	const sparks = events.filter(({ name }) => name.endsWith("spark")).length;
	const pitch = 720 / sparks / ratio;
	const dwell = ((opens - closes + 1440) % 720) / ratio;
	return { lobes: Math.round(360 / pitch), pitch, open: pitch - dwell, plate: timing.plateDistDeg ?? 0 };
}

/** Crank turns for one of the distributor. @param {Turn} turn */
export const ratioOf = ({ series }) => Number(series.crankDeg.at(-1)) / Number(series.shaftDistDeg.at(-1));

/** Radius at which the cam just touches the heel of closed points. */
export const touching = 25;

/** How far a lobe lifts: the more of them, the flatter, as they are made. @param {number} lobes */
const liftOf = (lobes) => Math.max(1.2, (14 - lobes) * 0.45);

const snap = 1e-9; // as time.turn

/**
 * camRadius is the cam's outline so many degrees past the corner that opens the points.
 * @param {Cam} cam @param {number} deg distributor degrees
 */
export function camRadius({ lobes, pitch, open }, deg) {
	const past = ((deg % pitch) + pitch) % pitch;
	const lift = liftOf(lobes);
	if (past < open) return touching + lift * Math.sin((Math.PI * past) / open);
	const dip = Math.min(1.4, (pitch - open) / open) * lift; // the flat goes on as steep as the lobe ends
	return touching - dip * Math.sin((Math.PI * (past - open)) / (pitch - open));
}

/** Where on the cam the heel stands. @param {Turn} turn @param {Cam} cam @param {number} deg crank, on the page */
export function heelOn({ series }, { pitch, plate }, deg) {
	const rotor = Number(valueAt(series.crankDeg, series.rotorDistDeg, deg));
	const past = (((rotor + plate) % pitch) + pitch) % pitch;
	return pitch - past < snap ? 0 : past;
}

/**
 * heelLift is how far the cam lifts the heel: nothing while the points are closed.
 * @param {Turn} turn @param {Cam} cam @param {number} deg
 */
export function heelLift(turn, cam, deg) {
	const past = heelOn(turn, cam, deg);
	return past < cam.open - snap ? Math.max(least, camRadius(cam, past) - touching) : 0;
}

/** The gap of points that have only just opened, so that it is seen. */
const least = 0.4;

/** isDrawnClosed says what the drawing shows. @param {Turn} turn @param {Cam} cam @param {number} deg */
export const isDrawnClosed = (turn, cam, deg) => heelLift(turn, cam, deg) === 0;

/** agrees says whether drawing and answer show the same. @param {Turn} turn @param {Cam} cam @param {number} deg */
export const agrees = (turn, cam, deg) => isDrawnClosed(turn, cam, deg) === isClosed(turn, deg);

/**
 * camPath draws the cam turning one way or the other, the corner of No. 1 to the right.
 * @param {Cam} cam @param {1 | -1} way
 */
export function camPath(cam, way) {
	const steps = 240;
	const points = Array.from({ length: steps }, (_, i) => {
		const deg = (360 * i) / steps;
		const [radius, turn] = [camRadius(cam, deg), (-way * deg * Math.PI) / 180];
		return `${(radius * Math.cos(turn)).toFixed(2)} ${(radius * Math.sin(turn)).toFixed(2)}`;
	});
	return `M${points.join("L")}Z`;
}

/**
 * @typedef {object} Slider the moving parts of No. 1, mm
 * @property {number} stroke @property {number} rod
 */

/**
 * sliderOf reads stroke and rod from the travel of the piston: at 90 degrees the rod closes a right-angled triangle
 * with the crank. Null where the piston is left out.
 * @param {Turn} turn @returns {Slider | null}
 */
export function sliderOf({ series }) {
	const [top, side] = [valueAt(series.crankDeg, series.pistonMm, 180), valueAt(series.crankDeg, series.pistonMm, 90)];
	if (top === null || side === null) return null;
	const throw_ = top / 2;
	const short = throw_ - side; // negative: past half its way at 90 degrees
	return { stroke: top, rod: -(throw_ * throw_ + short * short) / (2 * short) };
}

/**
 * partsAt gives crown, pin of the piston and of the crank, mm below the crown's top and to the right of the bore.
 * @param {Turn} turn @param {Slider} slider @param {number} deg @param {number} crown mm from crown to pin
 */
export function partsAt({ series }, { stroke, rod }, deg, crown) {
	const travel = Number(valueAt(series.crankDeg, series.pistonMm, deg));
	const turn = (deg * Math.PI) / 180;
	const axis = crown + rod + stroke / 2;
	return {
		crown: travel,
		pin: travel + crown,
		axis,
		crank: { x: (stroke / 2) * Math.sin(turn), y: axis - (stroke / 2) * Math.cos(turn) },
	};
}
