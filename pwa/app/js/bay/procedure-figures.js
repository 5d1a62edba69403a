// The one figure of this car that a step is about, shown large.

import { allowed } from "../record/book-band.js";
import { btdc, num, parse, rpm } from "../kit/format.js";
import { bookStatic, factText, idleOf, orderOf, rotationOf, specOf } from "../record/known.js";
import { ask } from "../engine/ask.js";
import { speed, timing } from "../record/answers.js";

/** @typedef {import("../record/known.js").Given} Given */
/** @typedef {{value: string, words: string, source: string}} Figure */

/** @type {{[name: string]: (given: Given) => Figure | null | Promise<Figure | null>}} */
const figures = {
	static(given) {
		const book = bookStatic(given);
		return book ? angle(book.crankDeg, "crank degrees, the static figure", book.source) : null;
	},
	trueZero({ answers }) {
		const [first, second] = [timing(answers, "first"), timing(answers, "second")];
		return first === null || second === null
			? null
			: angle((first + second) / 2, "on the old marks is true TDC", "measured");
	},
	idle(given) {
		const idle = idleOf(given);
		return idle === null
			? null
			: {
					value: rpm(idle),
					words: "engine rpm, its idle",
					source: given.car.body.facts.idleSpeed?.source || "source not given",
				};
	},
	statedSpeed(given) {
		const typed = speed(given.answers, "rpm") ?? parse(factText(given, "strobeSpeed"));
		return typed
			? {
					value: rpm(typed),
					words: "engine rpm to hold",
					source: speed(given.answers, "rpm") ? "typed here" : "book",
				}
			: null;
	},
	expectedIdle: (given) => expected(given, speed(given.answers, "rpm") ?? idleOf(given)),
	expectedStated: (given) => expected(given, speed(given.answers, "rpm")),
	gap: (given) => fact(given, "gap", "points gap"),
	dwell: (given) => fact(given, "dwell", "dwell, distributor degrees"),
	rotation(given) {
		const way = rotationOf(given);
		return way
			? {
					value: way === "clockwise" ? "↻" : "↺",
					words: `${way}, seen from the cap end`,
					source: given.distributor?.body.facts.rotation?.source || "",
				}
			: null;
	},
	against(given) {
		const way = rotationOf(given);
		if (!way) return null;
		const earlier = way === "clockwise" ? "anticlockwise" : "clockwise";
		return {
			value: earlier === "clockwise" ? "↻" : "↺",
			words: `body ${earlier} is EARLIER, ${way} is later, seen from the cap end`,
			source: "against the rotor is earlier: common practice",
		};
	},
	firingOrder(given) {
		const order = orderOf(given);
		return order
			? {
					value: order.join("-"),
					words: rotationOf(given)
						? `firing order, ${rotationOf(given)} round the cap`
						: "firing order; rotation unknown",
					source: given.car.body.facts.firingOrder?.source || "source not given",
				}
			: null;
	},
	pairs(given) {
		const order = orderOf(given);
		if (!order || order.length % 2) return null;
		const half = order.length / 2;
		return {
			value: order
				.slice(0, half)
				.map((c, i) => `${c}&${order[i + half]}`)
				.join(" "),
			words: `share a mark, every ${num(720 / order.length, 0)} crank degrees`,
			source: "from the firing order",
		};
	},
	tooth(given) {
		const teeth = parse(given.answers.teeth) ?? parse(factText(given, "gearTeeth"));
		if (teeth === null || teeth < 5 || teeth > 60) return null;
		return {
			value: `${num(360 / teeth, 1)}°`,
			words: `of the rotor is one tooth, ${num(720 / teeth, 1)} crank degrees`,
			source: `360 / ${teeth} teeth`,
		};
	},
};

/**
 * figureOf gives a figure, or null where this car has it not: then the step
 * says that it is unknown.
 * @param {string} name @param {Given} given
 * @returns {Promise<Figure | null>}
 */
export async function figureOf(name, given) {
	return (await figures[name]?.(given)) ?? null;
}

/** Every figure that a step may name. */
export const figureNames = () => Object.keys(figures);

/** @param {number} crankDeg @param {string} words @param {string} source @returns {Figure} */
function angle(crankDeg, words, source) {
	const [value, ...side] = btdc(crankDeg).split(" ");
	return { value, words: `${side.join(" ")}, ${words}`, source };
}

/** @param {Given} given @param {string} key @param {string} words @returns {Figure | null} */
function fact(given, key, words) {
	const found = given.distributor?.body.facts[key];
	if (!found?.value.trim()) return null;
	return {
		value: found.value.trim(),
		words: found.unit && !words.includes(` ${found.unit}`) ? `${found.unit}, ${words}` : words,
		source: found.source || "source not given",
	};
}

/**
 * What the strobe should say at a speed, by the book.
 * @param {Given} given @param {number | null} engineRPM
 * @returns {Promise<Figure | null>}
 */
async function expected(given, engineRPM) {
	const spec = specOf(given);
	if (!spec || !engineRPM || (spec.base === "excluded" && spec.baseCrankDeg === undefined)) return null;
	const answer = /** @type {Expectation} */ (await ask("advance.expect", { spec, engineRPM: [engineRPM] }));
	const [band] = answer.bands;
	if (band.silent && band.leastCrankDeg === undefined) return null; // below the table, and the base is not known
	const { least, most } = allowed(band);
	const isOne = Math.abs(most - least) < 0.05;
	const value = isOne ? `${num(Math.abs(least))}°` : `${num(least)}–${num(most)}°`;
	const side = most <= 0 ? "after TDC" : least < 0 ? "before TDC; minus is after" : "before TDC";
	return {
		value,
		words: `${side} at ${rpm(engineRPM)}, ${band.silent ? "possible: no figure in the book there" : "by the book"}`,
		source: given.distributor?.body.sheetSource || "book",
	};
}
