// A timing and a speed as they were typed, each under its key.

import { parse, parseSpeed } from "../kit/format.js";

/**
 * timing reads an answer of the kind "timing": a size and its side. Before
 * TDC is positive.
 * @param {{[key: string]: string}} answers @param {string} key
 * @returns {number | null}
 */
export function timing(answers, key) {
	const size = parse(answers[key]);
	const side = answers[`${key}.side`];
	if (size === null || (size !== 0 && !side)) return null;
	return side === "after" ? -size : size;
}

/** @param {{[key: string]: string}} answers @param {string} key */
export const speed = (answers, key) => {
	const rpm = parseSpeed(answers[key]);
	return rpm !== null && rpm > 0 ? rpm : null;
};
