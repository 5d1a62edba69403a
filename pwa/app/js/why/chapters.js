// The chapters: one idea each, in at most 60 words, and a question that is
// answered by moving something. Data alone; why-page.js shows them.

import { num } from "../kit/format.js";
import { eventOf, valueAt } from "./moment.js";

/** @typedef {import("./moment.js").Turn} Turn */
/**
 * @typedef {{deg: number, shift: number, first: Turn}} Stand shift: by how much the dwell has moved the timing, crank
 *   degrees, later negative; first: the turn as the chapter opened
 *
 * @typedef {object} Chapter
 * @property {string} title @property {string} text
 * @property {string} question
 * @property {number} rpm set when it is opened
 * @property {string} stop the event the crank is set to
 * @property {"timing" | "dwell" | "vacuum" | "speed" | "crank"} knob what the question is answered by
 * @property {keyof typeof parts} needs the part without which there is nothing to answer
 * @property {(turn: Turn, now: Stand) => string} now the figure that the question is about
 * @property {(turn: Turn, now: Stand) => boolean} isRight
 * @property {string} right said once it is answered
 */

/** What a question may need, and whether it is there. */
export const parts = {
	speed: () => true,
	timing: (/** @type {Turn} */ { timing }) => timing !== null,
	weights: (/** @type {Turn} */ { timing }) => timing !== null && timing.centrifugalCrankDeg !== null,
	capsule: (/** @type {Turn} */ { timing }) => timing !== null && timing.vacuumCrankDeg !== null,
	points: (/** @type {Turn} */ { series }) => series.closed.length > 0,
	coil: (/** @type {Turn} */ { coil }) => coil !== null,
	burning: (/** @type {Turn} */ { gas }) => gas !== null,
};

/** The rotor arm past its place at the spark of No. 1. @param {Turn} turn @param {number} deg */
const rotorAt = ({ series }, deg) => Number(valueAt(series.crankDeg, series.rotorDistDeg, deg));

/** @param {number} deg */
const tdc = (deg) => `${num(Math.abs(deg))} degrees ${deg < 0 ? "before" : "after"} TDC`;

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
		needs: "speed",
		now: ({ degPerMs }) => `Now the crank turns ${num(degPerMs)} degrees in a millisecond.`,
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
		now: () => "",
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
		now: ({ timing }) => `Now the spark comes ${tdc(-Number(timing?.sparkCrankDeg))}.`,
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
		now: ({ gas }) => `Now the top pressure stands ${tdc(Number(gas?.pMaxCrankDeg))}.`,
		isRight: ({ gas }) => gas !== null && near(gas.pMaxCrankDeg, 15, 1),
		right: "Right. Earlier or later from here, the same charge does less work.",
	},
	{
		title: "What weights and springs do",
		text: "Weights swing out as the distributor turns faster. They carry the cam ahead of its shaft, so the points open earlier. Springs hold them back: weak springs let the spark come early, stiff ones late. A stop ends it. So this part of the timing follows speed alone, and a wrong spring shows only above idle.",
		question: "Raise the speed until the weights add 5 crank degrees or more.",
		rpm: 500,
		stop: "spark",
		knob: "speed",
		needs: "weights",
		now: ({ timing }) => `Now the weights add ${num(timing?.centrifugalCrankDeg)} crank degrees.`,
		isRight: ({ timing }) => Number(timing?.centrifugalCrankDeg) >= 5,
		right: "Right. The base is as it was; what the weights add comes on top.",
	},
	{
		title: "Degrees of crank and distributor",
		text: "Nearly every distributor turns once while the crank turns twice. So 10 degrees at the distributor are 20 at the crank. Speeds go the same way: 1000 rpm of the distributor are 2000 of the engine. Books and benches use either. A figure that does not say its shaft cannot be used.",
		question: "Turn the crank until the rotor arm is 45 distributor degrees past No. 1.",
		rpm: 1500,
		stop: "spark",
		knob: "crank",
		needs: "timing",
		now: (turn, { deg }) => `Now it is ${num(rotorAt(turn, deg), 0)} distributor degrees past No. 1.`,
		isRight: (turn, { deg }) => near(rotorAt(turn, deg), 45, 0.6),
		right: "Right. The crank has turned twice as far, unless the distributor turns at crank speed.",
	},
	{
		title: "Why a weak spark shows at speed and load",
		text: "The coil gives what it had time to take. At speed the points are closed for less time, and less current grows. At full throttle the cylinder is fuller, and the plug asks for more kilovolts. A weak coil or a bad connection still fires at idle. It misfires where both come together.",
		question: "Raise the speed until a tenth of the current is lost.",
		rpm: 800,
		stop: "spark",
		knob: "speed",
		needs: "coil",
		now: ({ coil }, { first }) =>
			`Now ${num(coil?.currentA)} A; it was ${num(first.coil?.currentA)} A as this page opened. ` +
			`${num(coil?.realLowKV, 0)} to ${num(coil?.realHighKV, 0)} kV to be had, the plug may ask for ${num(coil?.requiredKV, 0)}.`,
		isRight: ({ coil }, { first }) => Number(coil?.currentA) <= 0.9 * Number(first.coil?.currentA),
		right: "Right. Less current, fewer kilovolts, and the plug asks for as much as before.",
	},
	{
		title: "What vacuum adds",
		text: "With the throttle nearly closed the charge is thin and burns slowly. Vacuum from the manifold pulls the capsule, which turns the plate against the rotation: the points open earlier still. Full throttle leaves no vacuum, and the capsule adds nothing. It is off while the base is timed, or it would be taken for base.",
		question: "Raise the vacuum until the capsule adds 4 crank degrees or more.",
		rpm: 2000,
		stop: "spark",
		knob: "vacuum",
		needs: "capsule",
		now: ({ timing }) =>
			`Now the capsule adds ${num(timing?.vacuumCrankDeg)} crank degrees; the spark comes ${tdc(-Number(timing?.sparkCrankDeg))}.`,
		isRight: ({ timing }) => Number(timing?.vacuumCrankDeg) >= 4,
		right: "Right. The plate has turned, and the points stand further against the rotation.",
	},
];
