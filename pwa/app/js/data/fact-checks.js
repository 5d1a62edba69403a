// Doubts about facts as typed. Each asks, names the limit and says what to do;
// "stop" is for the few where going on does harm. The limits are common
// practice for entry checking, not figures for any car.

import { parse } from "../lib/format.js";

/** @typedef {import("./facts.js").Doubt} Doubt */

/**
 * within makes a check that asks when a number lies outside a range.
 * @param {number} low
 * @param {number} high
 * @param {string} unit
 * @param {string} what
 * @returns {(value: string) => Doubt | null}
 */
function within(low, high, unit, what) {
	return (value) => {
		const x = parse(value);
		if (x === null) return cannotRead(value);
		if (x >= low && x <= high) return null;
		return ask(`${x} ${unit} is unusual for ${what}`, `${low} to ${high} ${unit}`, "Look again. If it is so, leave it.");
	};
}

/** @param {string} problem @param {string} limit @param {string} action @returns {Doubt} */
const ask = (problem, limit, action) => ({ level: "ask", problem, limit, do: action });

/** @param {string} value @returns {Doubt | null} */
function cannotRead(value) {
	return value.trim() === "" ? null : ask(`“${value.slice(0, 24)}” cannot be read as a number`, "digits, one point or comma, or a fraction", "Correct it, or leave it as a note to yourself. It is kept as typed.");
}

/** Lengths in millimetres. @type {{[unit: string]: number}} */
const toMm = { mm: 1, in: 25.4, thou: 0.0254 };

/** numbersIn finds the numbers in "0.014-0.016" or "60 ±3". @param {string} text */
const numbersIn = (text) => (text.replace(/,/g, ".").match(/\d*\.?\d+/g) ?? []).map(Number);

export const checks = {
	cylinders: within(2, 12, "cylinders", "an engine"),

	/** @param {string} value @param {string} unit */
	capacity(value, unit) {
		return unit === "cu in" ? within(12, 610, "cu in", "a car engine")(value) : within(200, 10_000, "cc", "a car engine")(value);
	},

	compressionRatio: within(4, 14, ": 1", "a carburettor engine"),
	ballastOhm: within(0, 5, "ohm", "a ballast"),
	condenser: within(0.05, 1, "µF", "a condenser"),
	limitPlate: within(3, 25, "distributor degrees", "a limit plate"),
	runningVolts: within(5, 16, "V", "a battery on charge"),
	idleSpeed: within(300, 1800, "engine rpm", "idling"),

	/** @param {string} value @param {string} _unit @param {Facts} facts @returns {Doubt | null} */
	firingOrder(value, _unit, facts) {
		const order = numbersIn(value);
		const cylinders = parse(facts.cylinders?.value);
		if (order.length < 2) return ask("the firing order needs the cylinders in turn", "numbers with dashes, such as 1-2-3", "Type all of them.");
		const isComplete = [...order].sort((a, b) => a - b).every((n, index) => n === index + 1);
		if (!isComplete) return ask("a cylinder is missing or named twice", `each of 1 to ${order.length} once`, "Check it against the book.");
		if (cylinders !== null && cylinders !== order.length) return ask(`${order.length} cylinders here, ${cylinders} above`, "the same count", "Correct the one that is wrong.");
		return null;
	},

	/** @param {string} value @param {string} _unit @param {Facts} facts @returns {Doubt | null} */
	coilOhm(value, _unit, facts) {
		const coil = parse(value);
		if (coil === null) return cannotRead(value);
		const total = coil + (parse(facts.ballastOhm?.value) ?? 0);
		const hasPoints = !facts.trigger?.value || facts.trigger.value === "none";
		if (hasPoints && total < 1.2) return { level: "stop", problem: `${total} ohm in the whole circuit burns points`, limit: "1.2 ohm at the least with points", do: "Do not switch on for long. Measure again with the meter’s own leads taken off, and find the ballast." };
		if (hasPoints && facts.voltage?.value === "12" && total < 2.4 && facts.ballast?.value !== "resistance wire") return ask(`${total} ohm is little for points on 12 V`, "2.4 ohm or more, coil and ballast together", "Is there a ballast that is not entered? Is it a 6 V coil?");
		return within(0.2, 6, "ohm", "a coil’s primary")(value);
	},

	/** @param {string} value @param {string} unit @returns {Doubt | null} */
	gap(value, unit) {
		const numbers = numbersIn(value);
		if (numbers.length === 0) return cannotRead(value);
		if (!unit) return ask("the unit of the gap is not chosen", "in, thou or mm", "Choose what the book prints.");
		if (numbers.every((n) => n * toMm[unit] >= 0.2 && n * toMm[unit] <= 0.8)) return null;
		return ask(`${value} ${unit} is unusual for points`, "0.2 to 0.8 mm (0.008 to 0.031 in)", "Is the unit right?");
	},

	/** @param {string} value @param {string} unit @returns {Doubt | null} */
	plugGap(value, unit) {
		const gap = parse(value);
		if (gap === null) return cannotRead(value);
		if (!unit) return ask("the unit of the gap is not chosen", "in, thou or mm", "Choose what the book prints.");
		return gap * toMm[unit] >= 0.3 && gap * toMm[unit] <= 1.5 ? null : ask(`${value} ${unit} is unusual for a plug`, "0.3 to 1.5 mm", "Is the unit right?");
	},

	/** @param {string} value @param {string} unit @param {Facts} facts @returns {Doubt | null} */
	dwell(value, unit, facts) {
		const [dwell] = numbersIn(value);
		const cylinders = parse(facts.cylinders?.value);
		if (dwell === undefined) return cannotRead(value);
		if (!unit) return ask("the unit of dwell is not chosen", "distributor degrees or %", "Choose what the book prints.");
		const share = unit === "%" ? dwell : cylinders ? (dwell * cylinders) / 3.6 : null; // % of the angle from one spark to the next
		if (share === null || (share >= 25 && share <= 75)) return null;
		return ask(`that is ${Math.round(share)} % of the way from one spark to the next`, "25 to 75 %", "Is it the scale for another number of cylinders, or the open angle?");
	},

	/** @param {string} value @param {string} unit @returns {Doubt | null} */
	staticTiming(value, unit) {
		const size = parse(value);
		if (size === null) return cannotRead(value);
		const early = unit === "after TDC" ? -size : size;
		if (!unit) return ask("the side is not chosen", "before TDC or after TDC", "Choose which the book prints. A tab marked A means after, not advance.");
		if (early >= 0 && early <= 16) return null;
		const isFar = early < -10 || early > 20;
		return ask(`static timing ${size}° ${unit} is ${isFar ? "most unusual" : "unusual"}`, "0 to 16° before TDC, at the ends −10 to 20", "Is it the strobe figure at a speed instead? Before or after TDC?");
	},

	/** @param {string} value @param {string} unit @returns {Doubt | null} */
	idleVacuum(value, unit) {
		const top = { inHg: 29, mmHg: 740, kPa: 98 }[unit] ?? 29;
		return within(0, top, unit || "inHg", "manifold vacuum")(value);
	},

	/** @param {string} value @param {string} unit @returns {Doubt | null} */
	compression(value, unit) {
		const each = numbersIn(value);
		if (each.length < 2) return null;
		const [low, high] = [Math.min(...each), Math.max(...each)];
		if (high > 0 && (high - low) / high > 0.25) return { level: "stop", problem: `the lowest is ${Math.round(((high - low) / high) * 100)} % under the highest`, limit: "25 %", do: "Stop tuning: find the cause of the low compression first." };
		if (unit === "psi" && (low < 20 || high > 300)) return ask("that is unusual for compressions", "20 to 300 psi", "Is the unit right?");
		return null;
	},

	/** @param {string} value @returns {Doubt | null} */
	capsuleCode(value) {
		const [start, end, degrees] = numbersIn(value);
		if (degrees === undefined) return null;
		if (start > 29 || end > 29 || end < start) return ask("the first two numbers are vacuum", "0 to 29 inHg, start before end", "Order: start, end, degrees.");
		if (degrees > 16) return ask(`${degrees} distributor degrees is much for a capsule`, "0 to 16", "Is it in crank degrees?");
		return null;
	},
};
