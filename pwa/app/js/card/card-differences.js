// Two setup cards side by side, and in words where they differ.

import { btdc, num, parse, rpm } from "../kit/format.js";
import { cardRows } from "./card-rows.js";
import { at, bookOf, pairOf } from "../record/curve-lines.js";

/** Smaller than this is no difference: nothing here is read finer. Chosen: a tenth of a degree. */
const fine = 0.1;

/**
 * sideBySide puts the lines of two lists beside each other, in the order of
 * the first with what only the second has after its group.
 * @param {CardRow[]} mine @param {CardRow[]} theirs
 * @returns {SideRow[]}
 */
export function sideBySide(mine, theirs) {
	const groups = [...new Set([...mine, ...theirs].map(({ group }) => group))];
	return groups.flatMap((group) => {
		const a = mine.filter((row) => row.group === group);
		const b = theirs.filter((row) => row.group === group);
		const keys = [...new Set([...a, ...b].map(({ key }) => key))];
		return keys.flatMap((key) => {
			const [one, other] = [a.find((row) => row.key === key), b.find((row) => row.key === key)];
			const [x, y] = [one?.text ?? "", other?.text ?? ""];
			if (!x && !y) return [];
			return [{ key, group, label: (one ?? other)?.label ?? key, mine: x, theirs: y, state: stateOf(x, y) }];
		});
	});
}

/** @param {string} mine @param {string} theirs @returns {SideRow["state"]} */
function stateOf(mine, theirs) {
	if (!theirs) return "mine only";
	if (!mine) return "theirs only";
	return sameText(mine, theirs) ? "same" : "differs";
}

/**
 * Units of one kind, as multiples of their first. The inch is 25.4 mm exactly; pressures: NIST SP 811, appendix B.8.
 * @type {{[unit: string]: [kind: string, scale: number]}}
 */
const units = {
	mm: ["length", 1],
	in: ["length", 25.4],
	thou: ["length", 0.0254],
	kpa: ["pressure", 1],
	inhg: ["pressure", 3.386389],
	mmhg: ["pressure", 0.1333224],
	ft: ["height", 0.3048],
	m: ["height", 1],
};

/**
 * The same figure written another way is the same: 0.20 and 0.2, 15 thou and 0.015 in, "A" and "a".
 * @param {string} a
 * @param {string} b
 */
export function sameText(a, b) {
	const [x, y] = [a, b].map((text) => text.toLowerCase().replace(/\s+/g, " ").trim());
	if (x === y) return true;
	const [p, q] = [x, y].map((text) => /^([−–+-]?[\d.,/ ]*\d)(.*)$/.exec(text));
	const [m, n] = [parse(p?.[1]), parse(q?.[1])];
	if (!p || !q || m === null || n === null) return false;
	const [one, other] = [p[2].trim(), q[2].trim()];
	if (one === other) return m === n;
	const [from, to] = [units[one], units[other]];
	return (
		from !== undefined && from[0] === to?.[0] && Math.abs(m * from[1] - n * to[1]) <= 1e-9 * Math.abs(m * from[1])
	);
}

/**
 * differences says in words what sets two cards apart, the weightiest first:
 * curve, timing, book, the rest counted.
 * @param {SetupCard} mine @param {SetupCard} theirs
 * @returns {string[]}
 */
export function differences(mine, theirs) {
	const rows = sideBySide(cardRows(mine), cardRows(theirs));
	const said = [...curveWords(mine, theirs), ...timingWords(mine, theirs), ...bookWords(mine, theirs)];
	const others = rows.filter(
		({ state, key }) => state === "differs" && !["set.static", "set.strobe", "set.total"].includes(key),
	);
	for (const { label, mine: one, theirs: other } of others.slice(0, 6))
		said.push(`${label}: mine ${one}, theirs ${other}.`);
	if (others.length > 6) said.push(`${others.length - 6} more lines differ; they are marked below.`);
	return said.length ? said : ["Nothing that both cards say differs."];
}

/** @param {SetupCard} mine @param {SetupCard} theirs */
function curveWords(mine, theirs) {
	const pair = pairOf(mine, theirs);
	if (!pair)
		return [
			mine.curves?.length && theirs.curves?.length
				? "The curves cannot be laid over one another: one holds the base, the other does not, and the base is not known."
				: "Only one of the two cards has a curve, or neither.",
		];
	const gaps = gapsOf(pair.mine.points, pair.theirs.points);
	if (!gaps.length) return ["The two curves have no speed in common."];
	const most = gaps.reduce((best, gap) => (Math.abs(gap.deg) > Math.abs(best.deg) ? gap : best));
	const what = pair.quantity === "advance" ? "of advance" : "of total timing";
	if (Math.abs(most.deg) < fine)
		return [
			`The curves lie on one another, from ${rpm(gaps[0].engineRPM)} to ${rpm(gaps[gaps.length - 1].engineRPM)} engine rpm.`,
		];
	const first = `Their curve is ${num(Math.abs(most.deg))} crank degrees ${what} ${most.deg > 0 ? "earlier" : "later"} than mine at ${rpm(most.engineRPM)} engine rpm, the widest gap.`;
	const ends = [gaps[0], gaps[gaps.length - 1]]
		.filter((gap) => gap !== most)
		.map((gap) => `${endWords(gap.deg)} at ${rpm(gap.engineRPM)}`);
	const taken = [
		pair.mine.taken && `mine: ${pair.mine.taken}`,
		pair.theirs.taken && `theirs: ${pair.theirs.taken}`,
	].filter(Boolean);
	return [
		first +
			(ends.length ? ` ${ends.join(", ").replace(/^./, (letter) => letter.toUpperCase())}.` : "") +
			(taken.length ? ` To compare, a base was reckoned in or out (${taken.join("; ")}).` : ""),
	];
}

/** @param {number} deg */
const endWords = (deg) => (Math.abs(deg) < fine ? "alike" : `${num(Math.abs(deg))} ${deg > 0 ? "earlier" : "later"}`);

/**
 * gapsOf gives theirs less mine at every speed of either that both reach.
 * @param {{engineRPM: number, crankDeg: number}[]} mine @param {{engineRPM: number, crankDeg: number}[]} theirs
 */
export function gapsOf(mine, theirs) {
	const speeds = [...new Set([...mine, ...theirs].map(({ engineRPM }) => engineRPM))].sort((a, b) => a - b);
	return speeds.flatMap((engineRPM) => {
		const [a, b] = [at(mine, engineRPM), at(theirs, engineRPM)];
		return a === null || b === null ? [] : [{ engineRPM, deg: b - a }];
	});
}

/** @param {SetupCard} mine @param {SetupCard} theirs */
function timingWords(mine, theirs) {
	const said = [];
	const [a, b] = [mine.asSet?.staticCrankDeg, theirs.asSet?.staticCrankDeg];
	if (a !== undefined && b !== undefined && Math.abs(a - b) >= fine)
		said.push(
			`Static timing: theirs is ${num(Math.abs(b - a))} crank degrees ${b > a ? "earlier" : "later"} (mine ${btdc(a)}, theirs ${btdc(b)}).`,
		);
	const [x, y] = [mine.asSet?.total, theirs.asSet?.total];
	if (x && y && Math.abs(x.crankDeg - y.crankDeg) >= fine)
		said.push(
			`Total: theirs is ${num(Math.abs(y.crankDeg - x.crankDeg))} crank degrees ${y.crankDeg > x.crankDeg ? "more" : "less"} (mine ${btdc(x.crankDeg)} at ${rpm(x.engineRPM)}, theirs ${btdc(y.crankDeg)} at ${rpm(y.engineRPM)} engine rpm).`,
		);
	return said;
}

/** @param {SetupCard} mine @param {SetupCard} theirs */
function bookWords(mine, theirs) {
	if (!mine.spec || !theirs.spec)
		return mine.spec || theirs.spec ? [`Only ${mine.spec ? "my" : "their"} card has the book’s table.`] : [];
	const said = [];
	const [p, q] = [mine.spec.baseCrankDeg, theirs.spec.baseCrankDeg];
	if (p !== undefined && q !== undefined && p !== q)
		said.push(`The books differ in base: mine ${btdc(p)}, theirs ${btdc(q)}.`);
	for (const quantity of /** @type {const} */ (["advance", "total"])) {
		const [a, b] = [bookOf(mine, quantity), bookOf(theirs, quantity)];
		if (a && b) return [...said, ...tableWords(a, b)];
	}
	return [
		...said,
		"The two books’ tables cannot be laid over one another: one holds the base, the other does not, and the base is not known.",
	];
}

/** @param {NonNullable<ReturnType<typeof bookOf>>} mine @param {NonNullable<ReturnType<typeof bookOf>>} theirs */
function tableWords(mine, theirs) {
	const gaps = /** @type {const} */ (["minCrankDeg", "maxCrankDeg"]).flatMap((edge) => {
		const [a, b] = [mine, theirs].map((rows) =>
			rows.flatMap((row) => (row[edge] === null ? [] : [{ engineRPM: row.engineRPM, crankDeg: row[edge] }])),
		);
		return gapsOf(a, b).map((gap) => ({ ...gap, edge }));
	});
	if (!gaps.length) return ["The two books’ tables have no speed in common."];
	const most = gaps.reduce((best, gap) => (Math.abs(gap.deg) > Math.abs(best.deg) ? gap : best));
	const named = (/** @type {BookRow[]} */ rows) =>
		rows.map((row) => `${row.engineRPM} ${row.minCrankDeg === null} ${row.maxCrankDeg === null}`).join();
	if (Math.abs(most.deg) < fine && named(mine) !== named(theirs))
		return ["The books’ tables agree where both name a figure, and name different ones."];
	if (Math.abs(most.deg) < fine) return ["Both cards have the same book table."];
	return [
		`The books’ tables differ: at ${rpm(most.engineRPM)} engine rpm theirs allows ${num(Math.abs(most.deg))} crank degrees ${most.deg > 0 ? "more" : "less"} at the ${most.edge === "minCrankDeg" ? "least" : "most"}.`,
	];
}
