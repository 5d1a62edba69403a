// Three traces over one turn of the crank: pressure with what is burnt, current,
// kilovolts; and a line through all three at the angle that is looked at.

import { svg } from "../kit/dom.js";
import { num } from "../kit/format.js";
import { inEnglish } from "../kit/words.js";
import { inSeries, onPage, valueAt } from "./moment.js";

/** @typedef {import("./moment.js").Turn} Turn */

const [left, right] = [10, 350];
const top = 222;
const each = 60; // from trace to trace
const tall = 38;
const foot = top + 2 * each + 18 + tall;

/**
 * Where an angle stands on the axis; it has one turn: compression and power, or exhaust and inlet.
 * @param {number} deg
 */
export const xOf = (deg) => left + (((deg > 180 ? deg - 360 : deg) + 180) / 360) * (right - left);

/** @param {number} deg @returns {0 | 1} */
export const turnOf = (deg) => (deg > 180 ? 1 : 0);

/** tracesView draws all of it. @param {Turn} turn */
export function tracesView(turn) {
	const cursor = svg("path", { class: "why-cursor" });
	const both = [0, 1].map((which) => svg("g", null, ...tracesOf(turn, /** @type {0 | 1} */ (which))));
	const names = [0, 1].map((which) => svg("g", null, ...axisWords(which)));
	const element = svg("g", null, both, names, msBar(turn), cursor);
	/** @param {number} deg */
	function move(deg) {
		const which = turnOf(deg);
		for (const i of [0, 1]) for (const one of [both[i], names[i]]) one.toggleAttribute("hidden", i !== which);
		const x = xOf(deg).toFixed(2);
		cursor.setAttribute("d", [0, 1, 2].map((row) => `M${x} ${top + row * each + 16}v${tall + 4}`).join(""));
	}
	return { element, move };
}

/** @param {Turn} turn @param {0 | 1} which */
function tracesOf(turn, which) {
	const { pressureKPa, burnt } = turn.series;
	const [primaryA, secondaryKV] = [turn.series.primaryA, turn.series.secondaryKV].map((list) =>
		firstSwing(turn, list),
	);
	const kV = secondaryKV.length ? Math.max(...secondaryKV) : 0;
	return [
		pressureKPa.length
			? [
					which === 0 ? areaOf(turn, burnt) : null,
					trace(
						turn,
						which,
						0,
						pressureKPa,
						`Pressure, top ${num(turn.gas?.pMaxKPa, 0)} kPa; hatched: burnt`,
					),
				]
			: null,
		primaryA.length
			? trace(turn, which, 1, primaryA, `Primary, ${num(Math.max(...primaryA))} A as the points open`)
			: null,
		secondaryKV.length
			? [
					trace(turn, which, 2, secondaryKV, `Secondary, at best ${num(kV, 0)} kV`, "is-spike"),
					needLine(turn, secondaryKV),
				]
			: null,
	];
}

/**
 * firstSwing leaves out what follows the first swing after each opening: a plug that fires ends it there.
 * @param {Turn} turn @param {number[]} list
 */
export function firstSwing({ series: { closed } }, list) {
	const out = [...list];
	const from = Math.max(0, closed.indexOf(true));
	let [isOver, hasRisen] = [false, false];
	for (let n = 0; n < list.length; n++) {
		const i = (from + n) % list.length;
		if (closed[i]) [isOver, hasRisen] = [false, false];
		else if (list[i] > 0) hasRisen = true;
		else if (hasRisen) isOver = true;
		if (isOver || out[i] < 0) out[i] = 0;
	}
	return out;
}

/** The angles of one turn, as the axis has them. @param {Turn} turn @param {0 | 1} which */
export function anglesOf({ series }, which) {
	const [from, to] = which ? [180, 540] : [-180, 180];
	const inside = series.crankDeg.map(onPage).filter((deg) => deg > from && deg < to);
	return [from + (which ? 1e-6 : 0), ...inside.sort((a, b) => a - b), to - (which ? 0 : 1e-6)];
}

/** How a list is laid between the foot and the top of its trace. @param {number} row @param {number[]} list */
function scaleOf(row, list) {
	const [low, high] = [Math.min(0, ...list), Math.max(...list)];
	const base = top + row * each + 18 + tall;
	return (/** @type {number} */ value) => base - (tall * (value - low)) / (high - low || 1);
}

/**
 * @param {Turn} turn @param {0 | 1} which @param {number} row @param {number[]} list @param {string} name
 * @param {string} [kind]
 */
function trace(turn, which, row, list, name, kind = "") {
	const y = scaleOf(row, list);
	const line = anglesOf(turn, which).map((deg) => {
		const value = Number(valueAt(turn.series.crankDeg, list, deg));
		return `${xOf(deg).toFixed(2)} ${y(value).toFixed(2)}`;
	});
	return [
		svg("path", { d: `M${left} ${y(0).toFixed(2)}H${right}`, class: "why-fine" }),
		svg("path", { d: `M${line.join("L")}`, class: `why-trace ${kind}`.trim() }),
		svg("text", { x: left, y: top + row * each + 12 }, inEnglish(name)),
	];
}

/** The part that is burnt, hatched under its own line. @param {Turn} turn @param {number[]} burnt */
function areaOf(turn, burnt) {
	const y = scaleOf(0, [0, 1]);
	const line = anglesOf(turn, 0).map(
		(deg) => `${xOf(deg).toFixed(2)} ${y(Number(valueAt(turn.series.crankDeg, burnt, inSeries(deg)))).toFixed(2)}`,
	);
	return svg("path", { d: `M${left} ${y(0)}L${line.join("L")}L${right} ${y(0)}Z`, class: "why-burnt" });
}

/** What the plug may ask for at most, across the kilovolts. @param {Turn} turn @param {number[]} list */
function needLine({ coil }, list) {
	if (!coil) return null;
	const y = scaleOf(2, list)(coil.requiredKV).toFixed(2);
	return svg("path", { d: `M${left} ${y}H${right}`, class: "why-fine is-dashed" });
}

const ticks = ["BDC", "90", "TDC", "90", "BDC"];
const turns = [
	["compression", "power"],
	["exhaust", "inlet"],
];

/** @param {number} which */
function axisWords(which) {
	return [
		svg("path", { d: `M${left} ${foot}H${right}`, class: "why-line" }),
		ticks.map((word, i) => {
			const x = left + ((right - left) * i) / 4;
			return [
				svg("path", { d: `M${x} ${foot}v5`, class: "why-line" }),
				svg("text", { x, y: foot + 18, "text-anchor": i === 0 ? "start" : i === 4 ? "end" : "middle" }, word),
			];
		}),
		turns[which].map((word, i) =>
			svg(
				"text",
				{
					x: left + ((right - left) * (1 + 2 * i)) / 4,
					y: foot + 33,
					"text-anchor": "middle",
					class: "why-italic",
				},
				inEnglish(word),
			),
		),
	];
}

/** A measure of time that is some way across the axis. @param {Turn} turn */
function msBar({ degPerMs }) {
	const most = 90; // degrees it may be long
	const ms = [100, 50, 20, 10, 5, 2, 1].find((one) => one * degPerMs <= most) ?? 1;
	const long = ((ms * degPerMs) / 360) * (right - left);
	const y = foot + 46;
	return [
		svg("path", {
			d: `M${left} ${y - 4}v8M${left} ${y}H${(left + long).toFixed(2)}M${(left + long).toFixed(2)} ${y - 4}v8`,
			class: "why-line",
		}),
		svg("text", { x: left + long + 8, y: y + 5 }, `${ms} ms`),
		svg("text", { x: right, y: y + 5, "text-anchor": "end" }, "crank degrees"),
	];
}

/** How high the plate is on its own measure. */
export const plateHeight = foot + 56;
