// The chapters: one idea each, in at most 60 words, and a question that is
// answered by moving something. Data alone; why-page.js shows them.

import { eventOf } from "./moment.js";

/** @typedef {import("./moment.js").Turn} Turn */
/**
 * @typedef {{rpm: number, deg: number, shift: number}} Stand shift: by how much the dwell has moved the timing, crank
 *   degrees, later negative
 *
 * @typedef {object} Chapter
 * @property {string} title @property {string} text
 * @property {string} question
 * @property {number} rpm set when it is opened
 * @property {string} stop the event the crank is set to
 * @property {"timing" | "dwell" | "speed" | "crank"} knob what the question is answered by
 * @property {"" | "points" | "burning"} needs the part without which there is nothing to answer
 * @property {(turn: Turn, now: Stand) => boolean} isRight
 * @property {string} right said once it is answered
 */

const near = (/** @type {number} */ a, /** @type {number | null} */ b, /** @type {number} */ by) =>
	b !== null && Math.abs(a - b) <= by;

/** @type {Chapter[]} */
export const chapters = [
	{
		title: "Why earlier with speed",
		text: "A charge burns in about the same time at any speed: 2 to 3 ms, common practice. The crank does not wait. In that time it turns 9 to 13.5 degrees at 750 rpm, 18 to 27 at 1500, 36 to 54 at 3000. The top pressure belongs shortly after TDC. So the spark must come earlier as speed rises.",
		question: "Set the speed at which 2.5 ms are 36 degrees.",
		rpm: 700,
		stop: "spark",
		knob: "speed",
		needs: "",
		isRight: ({ degPerMs }) => near(2.5 * degPerMs, 36, 0.7),
		right: "Right. At 2400 rpm the crank turns 14.4 degrees in a millisecond.",
	},
	{
		title: "Between two sparks",
		text: "While the points are closed, current grows in the coil. It takes some thousandths of a second. The points open, the current is cut off, and the coil gives it back as high tension: the spark. The faster the engine turns, the shorter the points stay closed. Then less current has grown when they open.",
		question: "Turn the crank to where the current begins to grow.",
		rpm: 1500,
		stop: "spark",
		knob: "crank",
		needs: "points",
		isRight: (turn, { deg }) =>
			turn.events
				.filter(({ name }) => name.endsWith("spark"))
				.some(({ crankDeg: opens }) => {
					const [closes, opened] = [eventOf(turn, "points close"), eventOf(turn, "points open")];
					const at = Number(closes) + opens - Number(opened);
					return near((((deg - at) % 720) + 1080) % 720, 360, 1.5);
				}),
		right: "Right. The points have just closed.",
	},
	{
		title: "Dwell, gap and timing are one",
		text: "The cam lifts the heel, and the points open. That moment ends the dwell and makes the spark. A heel that wears lets the gap close. Then the cam lifts it later: more dwell, a later spark. One degree of dwell is about one crank degree of timing, common practice. So the gap is set before the timing.",
		question: "Let the heel wear until the spark comes 3 crank degrees later.",
		rpm: 1000,
		stop: "spark",
		knob: "dwell",
		needs: "points",
		isRight: (_, { shift }) => near(shift, -3, 0.51),
		right: "Right. More dwell, less gap, a later spark: one change, seen three ways.",
	},
	{
		title: "Too early, too late",
		text: "Too early, and the charge burns while the piston still rises. The pressure pushes against it, and knock is near. Too late, and it burns while the piston runs away. The pressure stays low, and the heat goes out with the exhaust. Best is a top pressure about 15 degrees after TDC, common practice.",
		question: "Move the timing until the top pressure stands 14 to 16 degrees after TDC.",
		rpm: 2500,
		stop: "peak pressure",
		knob: "timing",
		needs: "burning",
		isRight: ({ gas }) => gas !== null && near(gas.pMaxCrankDeg, 15, 1),
		right: "Right. Earlier or later from here, the same charge does less work.",
	},
];
