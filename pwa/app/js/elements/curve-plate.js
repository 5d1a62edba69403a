// A figure plate: the advance curve of this very car, drawn as in a workshop
// manual. It is read by tapping, by keys, by a screen reader, and on paper.
import { drawing } from "./plate/draw.js";
import { figurePlate } from "./plate/frame.js";
import { key } from "./plate/key.js";
import { layoutOf } from "./plate/layout.js";
import { stopsOf } from "./plate/stops.js";
import { pointTable } from "./plate/table.js";

/**
 * @typedef {object} PlatePoint one reading
 * @property {number} engineRPM 0 for a static figure
 * @property {number} crankDeg as the axis counts: total before TDC, or advance alone
 * @property {"rising" | "falling" | "static"} direction
 * @property {"bench" | "car"} [place]
 * @property {number | null} [minCrankDeg] the band the reading was judged by
 * @property {number | null} [maxCrankDeg]
 * @property {boolean} [isSilent] the book is silent at this speed: the band is only what is possible
 * @property {string} [verdict] pass, watch, fail or unknown
 * @property {boolean} [isLone] it stands alone among its neighbours
 *
 * @typedef {object} PlateCurve
 * @property {"fitted" | "found" | "what-if" | "expected"} kind decides the line's style
 * @property {string} name as the key and the text line call it
 * @property {{engineRPM: number, crankDeg: number}[]} points ascending in speed
 *
 * @typedef {object} PlateAxis
 * @property {"total" | "advance"} quantity total: degrees before TDC; advance: degrees above base
 * @property {number | null} [baseCrankDeg] where the distributor scale begins on a total axis
 * @property {number} [driveRatio] crank turns per distributor turn, 2 unless said
 * @property {number} [maxRPM] the figure reaches at least this far
 *
 * @typedef {object} PlateInput
 * @property {number} [number] of the figure
 * @property {string} title
 * @property {PlateAxis} axis
 * @property {import("./plate/band.js").BandPoint[]} bands
 * @property {PlatePoint[]} points
 * @property {PlateCurve[]} curves
 * @property {{crankDeg: number, text: string}[]} [limits]
 * @property {{number: number, engineRPM: number, crankDeg: number, text: string}[]} [callouts]
 */

/**
 * curvePlate draws a figure. It follows the width it is given and is drawn
 * again by redraw, keeping the chosen point. With controls under it the
 * picture stays in sight while they are used: it is lower then, and sticks to
 * the top of the screen.
 * @param {PlateInput} input
 * @param {{status?: HTMLElement, controls?: HTMLElement}} [extra] a line kept with the picture, and what is used while looking at it
 * @returns {HTMLElement}
 */
export function curvePlate(input, extra) {
	return figurePlate({ layoutOf, drawing, key, stopsOf, table: pointTable }, input, extra);
}

export { redraw } from "./plate/frame.js";
