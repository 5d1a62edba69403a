// Compressions as they are typed, among the facts and in the condition checks.

import { parse } from "../kit/format.js";

/**
 * What a compression can be; beyond it a unit is wrong or a point is lost. Chosen.
 * @type {{[unit: string]: [low: number, high: number]}}
 */
export const compressionBounds = { psi: [0, 400], bar: [0, 28] };

/**
 * compressions reads figures cylinder by cylinder: all of them, or none, so
 * that a cylinder which cannot be read is not left out of the spread.
 * @param {string} value @returns {number[]}
 */
export function compressions(value) {
	const parts = value
		.replace(/\b(psi|bar|lb)\b/gi, " ")
		.replace(/,(?=\s|$)/g, " ")
		.split(/[\s;/–—-]+/)
		.filter(Boolean);
	const each = parts.flatMap((part) => (/,\d{3}|,.*,/.test(part) ? part.split(",") : [part])).map(parse);
	return each.some((one) => one === null || one < 0) ? [] : /** @type {number[]} */ (each);
}
