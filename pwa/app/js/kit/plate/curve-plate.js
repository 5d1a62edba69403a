// A figure plate: the advance curve of this very car, drawn as in a workshop
// manual. It is read by tapping, by keys, by a screen reader, and on paper.
import { drawing } from "./draw.js";
import { figurePlate } from "./frame.js";
import { key } from "./key.js";
import { layoutOf } from "./layout.js";
import { stopsOf } from "./stops.js";
import { pointTable } from "./table.js";

/**
 * curvePlate draws a figure. It follows the width it is given and is drawn
 * again by redraw, keeping the chosen point. With controls under it the
 * picture stays in sight while they are used: it is lower then, and sticks to
 * the top of the screen.
 * @param {PlateInput} input
 * @param {{status?: HTMLElement, controls?: HTMLElement}} [extra] a line kept with the picture, and what is used while
 *   looking at it
 * @returns {HTMLElement}
 */
export function curvePlate(input, extra) {
	return figurePlate({ layoutOf, drawing, key, stopsOf, table: pointTable }, input, extra);
}

export { redraw } from "./frame.js";
