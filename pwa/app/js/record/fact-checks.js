// Doubts about facts as typed. Each asks, names the limit and says what to do;
// "stop" is for the few where going on does harm. The limits are common
// practice for entry checking, not figures for any car.

import { parse, parseSpeed } from "../kit/format.js";
import { rangeIn } from "../kit/units.js";
import { firingOrderIn } from "./firing-order.js";
import { compressionBounds, compressions } from "./compressions.js";

/** @typedef {import("../kit/doubt.js").Doubt} Doubt */

/**
 * within makes a check that asks when a number lies outside a range.
 * @param {number} low
 * @param {number} high
 * @param {string} unit
 * @param {string} what
 * @param {(value: string) => number | null} [read]
 * @returns {(value: string) => Doubt | null}
 */
function within(low, high, unit, what, read = parse) {
	return (value) => {
		const x = read(value);
		if (x === null) return cannotRead(value);
		if (x >= low && x <= high) return null;
		return ask(
			`${x} ${unit} is unusual for ${what}`,
			`${low} to ${high} ${unit}`,
			"Look again, at the unit too. If it is right, leave it.",
		);
	};
}

/**
 * listOf reads a list of figures as typed, spaces or semicolons between them; those that are none are left out.
 * @param {string | undefined} text @param {number} low @param {number} high
 */
export const listOf = (text, low, high) =>
	partsOf(text ?? "").flatMap((one) => {
		const x = parse(one);
		return x !== null && x >= low && x <= high ? [x] : [];
	});

/** A comma with a space behind it parts; one within a figure is its point. @param {string} text */
const partsOf = (text) => text.split(/[\s;]+|,(?=\s)/).filter(Boolean);

const mostParts = 20; // as many as the calculation takes

/** @param {string} value @param {number} low @param {number} high @param {string} unit @returns {Doubt | null} */
function listDoubt(value, low, high, unit) {
	const [all, read] = [partsOf(value).length, listOf(value, low, high).length];
	if (all === read && all <= mostParts) return null;
	return ask(
		all > mostParts ? `${all} are too many` : `${all - read} of ${all} cannot be read`,
		`${low} to ${high} ${unit}, at most ${mostParts}`,
		"Type figures with spaces between, such as 9 11 13.",
	);
}

/**
 * inUnits makes the same check for a figure that may be typed in several units.
 * @param {{[unit: string]: [low: number, high: number]}} ranges
 * @param {string} what
 * @returns {(value: string, unit: string) => Doubt | null}
 */
function inUnits(ranges, what) {
	return (value, unit) => {
		if (parse(value) === null) return cannotRead(value);
		const range = ranges[unit];
		return range ? within(...range, unit, what)(value) : noUnit(what, Object.keys(ranges));
	};
}

/** @param {string} problem @param {string} limit @param {string} action @returns {Doubt} */
const ask = (problem, limit, action) => ({ level: "ask", problem, limit, do: action });

/** @param {string} what @param {string[]} units */
const noUnit = (what, units) =>
	ask(
		`the unit is not chosen for ${what}`,
		units.join(" or "),
		"Choose what it is printed or measured in; until then it counts as unknown.",
	);

/** @param {string} value @param {string} [form] @returns {Doubt | null} */
function cannotRead(value, form = "digits, one point or comma, or a fraction") {
	return value.trim() === ""
		? null
		: ask(
				`“${value.trim().slice(0, 24)}” cannot be read as a number`,
				form,
				"Type it as a number; words belong in the note. It is kept as typed, and counts as unknown until then.",
			);
}

const rangeForm = "a number, or a range such as 14-16 or 60 ±3";

/** Lengths in millimetres. @type {{[unit: string]: number}} */
const toMm = { mm: 1, in: 25.4, thou: 0.0254 };

/** numbersIn finds the numbers in "0.014-0.016" or "60 ±3". @param {string} text */
const numbersIn = (text) => (text.replace(/,/g, ".").match(/\d*\.?\d+/g) ?? []).map(Number);

/**
 * timing makes a check of degrees before or after TDC.
 * @param {string} what @param {[low: number, high: number]} usual before TDC @param {[low: number, high: number]} most
 * @returns {(value: string, unit: string) => Doubt | null}
 */
function timing(what, [low, high], most) {
	return (value, unit) => {
		const size = parse(value);
		if (size === null) return cannotRead(value);
		if (!unit)
			return ask(
				"the side is not chosen",
				"before TDC or after TDC",
				"Choose which the book prints. A tab marked A means after, not advance.",
			);
		const early = unit === "after TDC" ? -size : size;
		if (early >= low && early <= high) return null;
		const isFar = early < most[0] || early > most[1];
		return ask(
			`${what} ${size}° ${unit} is ${isFar ? "most unusual" : "unusual"}`,
			`${low} to ${high}° before TDC, at the ends ${most.join(" to ").replace("-", "−")}`,
			"Is it the figure for another speed? Before or after TDC?",
		);
	};
}

/** @param {string} value @param {string} unit @param {Facts} facts @returns {Doubt | null} */
function dwell(value, unit, facts) {
	const range = rangeIn(value, (x) => x, 0, "");
	const cylinders = parse(facts.cylinders?.value);
	if (range === null) return cannotRead(value, rangeForm);
	if (!unit)
		return ask(
			"the unit of dwell is not chosen",
			"distributor degrees or %",
			"Choose what the book prints or the meter shows.",
		);
	const scale = unit === "%" ? 1 : cylinders ? cylinders / 3.6 : null; // to % of the angle from one spark to the next
	if (scale === null)
		return range.min > 0 && range.max < 360
			? null
			: ask(
					`${value.trim()} is no dwell`,
					"more than 0, less than 360 distributor degrees",
					"Look at the scale of the meter.",
				);
	const worst = [range.min, range.max].map((x) => x * scale).find((share) => share < 25 || share > 75);
	if (worst === undefined) return null;
	return ask(
		`that is ${Math.round(worst)} % of the way from one spark to the next`,
		"25 to 75 %",
		"Is it the scale for another number of cylinders, or the open angle?",
	);
}

export const checks = {
	/** @param {string} value @returns {Doubt | null} */
	year(value) {
		const years = (value.match(/\d+/g) ?? []).map(Number);
		// the first car to some years from now: chosen
		if (value.trim() === "" || years.some((year) => year >= 1885 && year <= 2035)) return null;
		return ask(
			`no year is found in “${value.trim().slice(0, 24)}”`,
			"four digits, 1885 to 2035",
			"Type it so: 1961, or about 1961. It is kept as typed.",
		);
	},

	cylinders: within(2, 12, "cylinders", "an engine"),
	capacity: inUnits({ cc: [200, 10_000], "cu in": [12, 610] }, "a car engine"),
	stroke: inUnits({ mm: [40, 180], in: [1.6, 7] }, "a car engine"), // as time.turn takes it
	pulleyDiameter: inUnits({ mm: [40, 600], in: [1.5, 24] }, "a pulley or a flywheel"), // chosen
	fuel: inUnits({ RON: [60, 115], AKI: [55, 110] }, "petrol"), // chosen: below the worst of old, above racing petrol
	// chosen: lowest shore to highest towns
	altitude: inUnits({ m: [-430, 5000], ft: [-1400, 16_500] }, "a place where cars are used"),
	compressionRatio: within(4, 14, ": 1", "a carburettor engine"),
	ballastOhm: within(0, 5, "ohm", "a ballast"),
	condenser: within(0.05, 1, "µF", "a condenser"),
	limitPlate: within(3, 25, "distributor degrees", "the number on the plate"),
	runningVolts: within(5, 16, "V", "a battery on charge"),
	idleSpeed: within(300, 1800, "engine rpm", "idling", parseSpeed),
	// chosen, as in calc/condition
	sidePlay: inUnits({ in: [0, 0.1], thou: [0, 100], mm: [0, 2.54] }, "the play of a shaft"),
	staticTiming: timing("static timing", [0, 16], [-10, 20]),
	// chosen: static and what the weights may add at idle
	strobeTiming: timing("a strobe figure at idle of", [-5, 25], [-10, 30]),
	dwell,

	/** @param {string} value @param {string} _unit @param {Facts} facts @returns {Doubt | null} */
	feedVoltage(value, _unit, facts) {
		const most = facts.voltage?.value === "6" ? 8 : 15.5; // as on the volts page
		return within(0, most, "V", `the feed of a ${most === 8 ? "6 V" : "12 V"} coil`)(value);
	},

	/**
	 * Two sets together may stay closed longer than one.
	 * @param {string} value
	 * @param {string} unit
	 * @param {Facts} facts
	 * @returns {Doubt | null}
	 */
	dwellOfTwins(value, unit, facts) {
		const range = rangeIn(value, (x) => x, 0, "");
		if (range === null) return cannotRead(value, rangeForm);
		if (!unit)
			return ask("the unit of dwell is not chosen", "distributor degrees or %", "Choose what the book prints.");
		const pitch = unit === "%" ? 100 : 360 / (parse(facts.cylinders?.value) || 1);
		return range.min > 0 && range.max < pitch
			? null
			: ask(
					`with a dwell of ${value.trim()} the points would never open, or never close`,
					`more than 0, less than ${Number(pitch.toFixed(1))} ${unit}`,
					"Look at the cylinders and the scale; until then it counts as unknown.",
				);
	},

	/**
	 * Beyond a quarter of the way to the next spark it is another cylinder.
	 * @param {string} value
	 * @param {string} _unit
	 * @param {Facts} facts
	 * @returns {Doubt | null}
	 */
	scatter(value, _unit, facts) {
		return within(
			0,
			Number((90 / (parse(facts.cylinders?.value) || 4)).toFixed(2)),
			"distributor degrees",
			"scatter",
		)(value);
	},

	/** @param {string} value @param {string} _unit @param {Facts} facts @returns {Doubt | null} */
	firingOrder(value, _unit, facts) {
		const order = firingOrderIn(value);
		const cylinders = parse(facts.cylinders?.value);
		if (value.trim() === "") return null;
		if (order.length < 2)
			return ask(
				"the firing order needs the cylinders in turn",
				"1342 or 1-3-4-2; dashes from ten cylinders on",
				"Type all of them.",
			);
		const isComplete = [...order].sort((a, b) => a - b).every((n, index) => n === index + 1);
		if (!isComplete)
			return ask(
				"a cylinder is missing or named twice",
				`each of 1 to ${order.length} once`,
				"Check it against the book.",
			);
		if (cylinders !== null && cylinders !== order.length)
			return ask(
				`${order.length} cylinders here, ${cylinders} above`,
				"the same count",
				"Correct the one that is wrong.",
			);
		return null;
	},

	/** @param {string} value @param {string} _unit @param {Facts} facts @returns {Doubt | null} */
	coilOhm(value, _unit, facts) {
		const coil = parse(value);
		if (coil === null) return cannotRead(value);
		const hasPoints = !facts.trigger?.value || facts.trigger.value === "none";
		const ballast = parse(facts.ballastOhm?.value);
		const isBallasted = !["", "none", undefined].includes(facts.ballast?.value);
		if (
			hasPoints &&
			isBallasted &&
			ballast === null &&
			(coil < 1.2 || (coil < 2.4 && facts.ballast.value !== "resistance wire"))
		) {
			return ask(
				`${coil} ohm is the coil alone; the ballast’s ohms are not known`,
				"coil and ballast together 1.2 ohm at the least with points, 2.4 or more on 12 V",
				"Measure the ballast too, cold and disconnected, and enter the ballast’s ohms. Until then the whole circuit is not judged.",
			);
		}
		const total = Number((coil + (ballast ?? 0)).toFixed(3));
		if (hasPoints && total < 1.2)
			return {
				level: "stop",
				problem: `${total} ohm in the whole circuit burns points`,
				limit: "1.2 ohm at the least with points",
				do: "Do not switch on for long. Measure again with the meter’s own leads taken off, and find the ballast.",
			};
		if (hasPoints && facts.voltage?.value === "12" && total < 2.4 && facts.ballast?.value !== "resistance wire")
			return ask(
				`${total} ohm is little for points on 12 V`,
				"2.4 ohm or more, coil and ballast together",
				"Is there a ballast that is not entered? Is it a 6 V coil?",
			);
		return within(0.2, 6, "ohm", "a coil’s primary")(value);
	},

	/** @param {string} value @param {string} unit @returns {Doubt | null} */
	gap(value, unit) {
		const range = rangeIn(value, (x) => x, 0, "");
		if (range === null) return cannotRead(value, rangeForm);
		if (!unit) return ask("the unit of the gap is not chosen", "in, thou or mm", "Choose what the book prints.");
		if (range.min * toMm[unit] >= 0.2 && range.max * toMm[unit] <= 0.8) return null;
		return ask(`${value} ${unit} is unusual for points`, "0.2 to 0.8 mm (0.008 to 0.031 in)", "Is the unit right?");
	},

	/** @param {string} value @param {string} unit @returns {Doubt | null} */
	plugGap(value, unit) {
		const gap = parse(value);
		if (gap === null) return cannotRead(value);
		if (!unit) return ask("the unit of the gap is not chosen", "in, thou or mm", "Choose what the book prints.");
		return gap * toMm[unit] >= 0.3 && gap * toMm[unit] <= 1.5
			? null
			: ask(`${value} ${unit} is unusual for a plug`, "0.3 to 1.5 mm", "Is the unit right?");
	},

	idleVacuum: inUnits({ inHg: [0, 29], mmHg: [0, 740], kPa: [0, 98] }, "manifold vacuum"),

	/** @param {string} value @param {string} unit @param {Facts} facts @returns {Doubt | null} */
	compression(value, unit, facts) {
		if (value.trim() === "") return null;
		const each = compressions(value);
		const cylinders = parse(facts?.cylinders?.value);
		if (each.length < 2)
			return ask(
				"the compressions cannot be read",
				"a figure for each cylinder, with a dash or a space between",
				"Type them cylinder by cylinder: 158-162-155-160. It is kept as typed, and not judged.",
			);
		if (!(unit in compressionBounds)) return noUnit("the compressions", Object.keys(compressionBounds));
		const [low, high] = [Math.min(...each), Math.max(...each)];
		const [, most] = compressionBounds[unit];
		if (high > most)
			return ask(
				`${high} ${unit} is no compression`,
				`0 to ${most} ${unit}`,
				"Is the unit right? It is kept as typed, and not judged.",
			);
		if (cylinders !== null && cylinders !== each.length)
			return ask(
				`${each.length} compressions here, ${cylinders} cylinders above`,
				"one for each cylinder",
				"Type them all, or correct the cylinders.",
			);
		if (high > 0 && (high - low) / high > 0.25)
			return {
				level: "stop",
				problem: `the lowest is ${Math.round(((high - low) / high) * 100)} % under the highest`,
				limit: "25 %",
				do: "Stop tuning: find the cause of the low compression first.",
			};
		const usual = unit === "bar" ? [1.4, 21] : [20, 300];
		return low < usual[0] || high > usual[1]
			? ask("that is unusual for compressions", `${usual.join(" to ")} ${unit}`, "Is the unit right?")
			: null;
	},

	/** Springs at hand, each against the one that is in it. */
	springs: (/** @type {string} */ value) => listDoubt(value, 0.1, 10, "times the one in it"),
	/** Stops at hand, as stamped. */
	stops: (/** @type {string} */ value) => listDoubt(value, 0, 25, "distributor degrees"),

	/** @param {string} value @returns {Doubt | null} */
	capsuleCode(value) {
		const [start, end, degrees] = numbersIn(value);
		if (degrees === undefined) return null;
		if (start > 29 || end > 29 || end < start)
			return ask(
				"the first two numbers are vacuum",
				"0 to 29 inHg, start before end",
				"Order: start, end, degrees.",
			);
		if (degrees > 16)
			return ask(`${degrees} distributor degrees is much for a capsule`, "0 to 16", "Is it in crank degrees?");
		return null;
	},
};
