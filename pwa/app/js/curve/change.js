// A change to the governor and the base, as the what-if screen holds it, as
// an address carries it, and as the calculation takes it.

import { figures, inputs } from "../../made/shapes.js";

/**
 * @typedef {Exclude<keyof GovernorChange, "replace">} ChangeKey
 *
 * @typedef {object} Knob one thing that can be changed
 * @property {ChangeKey} key
 * @property {string} name
 * @property {number} min @property {number} max @property {number} step the range of the control
 * @property {[number, number]} limits what the calculation takes
 * @property {number | null} rest the value that changes nothing; null = as found, which differs by car
 * @property {string} less @property {string} more what the buttons do
 */

/** What must be more than 0 stays a hundredth above it. @param {FigureLimit} limit @returns {[number, number]} */
const ends = ({ min, max = Infinity, over = 0 }) => [min ?? over + 0.01, max];

/** Ranges chosen: wide enough for a sane mend; a mend beyond them widens its control. @type {Knob[]} */
export const knobs = [
	{
		key: "primarySpring",
		name: "Primary spring",
		min: 0.4,
		max: 3,
		step: 0.05,
		limits: ends(inputs["advance.whatif"]["change.primarySpring"]),
		rest: 1,
		less: "softer",
		more: "stiffer",
	},
	{
		key: "primaryPreload",
		name: "Primary post",
		min: 0.2,
		max: 4,
		step: 0.1,
		limits: ends(inputs["advance.whatif"]["change.primaryPreload"]),
		rest: 1,
		less: "less preload",
		more: "more preload",
	},
	{
		key: "slackDistDeg",
		name: "Secondary post",
		min: -10,
		max: 10,
		step: 0.5,
		limits: ends(inputs["advance.whatif"]["change.slackDistDeg"]),
		rest: 0,
		less: "less slack",
		more: "more slack",
	},
	{
		key: "secondarySpring",
		name: "Secondary spring",
		min: 0.2,
		max: 3,
		step: 0.05,
		limits: ends(inputs["advance.whatif"]["change.secondarySpring"]),
		rest: 1,
		less: "softer",
		more: "stiffer",
	},
	{
		key: "limitDistDeg",
		name: "Stop",
		min: 4,
		max: 20,
		step: 0.5,
		limits: ends(inputs["advance.whatif"]["change.limitDistDeg"]),
		rest: null,
		less: "lower",
		more: "higher",
	},
	{
		key: "weights",
		name: "Weights",
		min: 0.7,
		max: 1.4,
		step: 0.05,
		limits: ends(inputs["advance.whatif"]["change.weights"]),
		rest: 1,
		less: "lighter",
		more: "heavier",
	},
	{
		key: "baseCrankDeg",
		name: "Base",
		min: -15,
		max: 30,
		step: 0.5,
		limits: ends(figures["sheet.baseCrankDeg"]),
		rest: null,
		less: "later",
		more: "earlier",
	},
];

/**
 * A ratio as it is said: "20 % stiffer", from 1.6 on "2.1 times as stiff".
 * @param {number} ratio @param {string} more @param {string} less @param {string} same
 */
function said(ratio, more, less, same) {
	if (ratio >= 1.6) return `${Math.round(ratio * 100) / 100} times as ${same}`;
	return `${percent(ratio)} ${ratio > 1 ? more : less}`;
}

/** @param {number} ratio */
const percent = (ratio) => `${Math.round(Math.abs(ratio - 1) * 100)} %`;

/** @param {number} x to a tenth */
const plain = (x) => String(Math.round(Math.abs(x) * 10) / 10);

/**
 * words says what is being done, in plain words.
 * @param {ChangeKey} key @param {number} value @param {number | null} found as found on this car
 */
export function words(key, value, found) {
	const rest = knobs.find((knob) => knob.key === key)?.rest ?? found;
	const isRest = rest !== null && Math.abs(value - rest) < 1e-9;
	switch (key) {
		case "primarySpring":
			return isRest ? "Primary spring as it is" : `Primary spring ${said(value, "stiffer", "softer", "stiff")}`;
		case "secondarySpring":
			return isRest
				? "Secondary spring as it is"
				: `Secondary spring ${said(value, "stiffer", "softer", "stiff")}`;
		case "weights":
			return isRest ? "Weights as they are" : `Weights ${said(value, "heavier", "lighter", "heavy")}`;
		case "primaryPreload":
			return isRest
				? "Primary post as it is"
				: `Bend primary spring post ${value > 1 ? "out" : "in"}: ${value >= 1.6 ? `${Math.round(value * 100) / 100} times the` : `${percent(value)} ${value > 1 ? "more" : "less"}`} preload`;
		case "slackDistDeg":
			return isRest
				? "Secondary post as it is"
				: `Bend secondary post ${value > 0 ? "in" : "out"}: ${plain(value)} distributor degrees ${value > 0 ? "more" : "less"} slack`;
		case "limitDistDeg":
			return isRest
				? `Stop as it is: ${plain(value)} distributor degrees`
				: `Stop at ${plain(value)} distributor degrees${found === null ? "" : `, ${plain(value - found)} ${value > found ? "more" : "less"}`}`;
		default:
			return `Base ${side(value)}${isRest ? ", as it is" : ""}`;
	}
}

/** @param {number} crankDeg */
function side(crankDeg) {
	if (Math.abs(crankDeg) < 0.05) return "at TDC";
	return `${plain(crankDeg)}° ${crankDeg > 0 ? "before" : "after"} TDC`;
}

/**
 * toAddress writes a change as one part of an address: "primarySpring=1.2,slackDistDeg=-1.5".
 * @param {GovernorChange} change
 */
export function toAddress(change) {
	return knobs
		.flatMap(({ key }) => {
			const value = change[key];
			return typeof value === "number" && Number.isFinite(value) ? [`${key}=${Number(value.toFixed(4))}`] : [];
		})
		.join(",");
}

/**
 * fromAddress reads what toAddress wrote. What it does not know or cannot
 * read is left out; values are kept inside what the calculation takes.
 * @param {string | undefined} text
 * @returns {GovernorChange | null} null when there is nothing in it
 */
export function fromAddress(text) {
	/** @type {GovernorChange} */
	const change = {};
	for (const part of (text ?? "").split(",")) {
		const [key, number] = part.split("=");
		const knob = knobs.find((one) => one.key === key);
		const value = Number(number);
		if (knob && number !== "" && Number.isFinite(value))
			change[knob.key] = Math.min(knob.limits[1], Math.max(knob.limits[0], value));
	}
	return Object.keys(change).length ? change : null;
}

/**
 * forCalculation leaves out what changes nothing, and the base, which is not
 * part of the governor.
 * @param {GovernorChange} change
 * @returns {GovernorChange}
 */
export function forCalculation(change) {
	const { baseCrankDeg, ...governor } = change;
	return Object.fromEntries(
		Object.entries(governor).filter(([key, value]) => value !== knobs.find((knob) => knob.key === key)?.rest),
	);
}
