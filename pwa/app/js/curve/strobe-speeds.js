// The speeds a person wants the strobe table for: their own idle first, then
// what they choose.

import { parseSpeed } from "../kit/format.js";

export const slowest = 200;
export const fastest = 9000;
export const most = 24;

/**
 * everyFiveHundred lists every 500 engine rpm from above idle to the end of
 * the book's table.
 * @param {number | null} idle engine rpm @param {number} last the table's last speed, engine rpm
 */
export function everyFiveHundred(idle, last) {
	const from = Math.floor((idle ?? 500) / 500) * 500 + 500;
	const to = Math.max(from, Math.min(fastest, Math.ceil(last / 500) * 500));
	return Array.from({ length: (to - from) / 500 + 1 }, (_, i) => from + 500 * i).slice(0, most);
}

/**
 * withSpeed adds a typed speed to the list, or says why not.
 * @param {readonly number[]} speeds @param {string} text
 * @returns {{speeds: number[], problem: string}}
 */
export function withSpeed(speeds, text) {
	const speed = parseSpeed(text);
	const same = [...speeds];
	if (speed === null)
		return {
			speeds: same,
			problem: text.trim()
				? `“${text.trim().slice(0, 24)}” is not a speed. Type engine rpm in digits, such as 1800.`
				: "Type a speed in engine rpm, such as 1800.",
		};
	if (speed < slowest || speed > fastest)
		return {
			speeds: same,
			problem: `${speed} is outside ${slowest} to ${fastest} engine rpm. Type a speed between them.`,
		};
	if (speeds.includes(speed)) return { speeds: same, problem: `${speed} is in the table already.` };
	if (speeds.length >= most) return { speeds: same, problem: `The table holds ${most} speeds. Remove one first.` };
	return { speeds: [...speeds, speed].sort((a, b) => a - b), problem: "" };
}

/**
 * shownSpeeds is the table's order: idle first even where it is not in the list.
 * @param {number | null} idle @param {readonly number[]} speeds
 */
export function shownSpeeds(idle, speeds) {
	return [...new Set([...(idle === null ? [] : [idle]), ...speeds])].sort((a, b) => a - b);
}
