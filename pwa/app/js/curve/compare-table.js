// As found beside as changed, at the book's own speeds. As found is the curve
// fitted to all readings; the readings themselves stand beside it.

import { rpm } from "../kit/format.js";
import { h } from "../kit/dom.js";
import { mark } from "../kit/mark.js";
import { readingsInBand, standingOf } from "./in-band.js";
import { bandWords, degWords, standing } from "../kit/plate/stops.js";
import { lineAt } from "../kit/plate/trace.js";

/**
 * @typedef {{engineRPM: number, crankDeg: number, direction: string}} ReadAt one reading, in the quantity the table
 *   shows
 * @typedef {object} Taken what was read
 * @property {number} error crank degrees
 * @property {readonly ReadAt[]} readings
 * @property {InBandCounts} [counts]
 */

/** @type {Taken} */
const nothingTaken = { error: 0, readings: [] };

/**
 * compare gives both lines at the band's speeds, with what was read there.
 * @param {PlateInput} input @param {Taken} [taken]
 */
export function compare({ bands, curves }, { error, readings } = nothingTaken) {
	const at = (/** @type {string} */ kind, /** @type {number} */ speed) => {
		const curve = curves.find((one) => one.kind === kind);
		return curve ? lineAt(curve.points, speed) : null;
	};
	return bands.map((band) => {
		const [found, changed] = [at("found", band.engineRPM), at("what-if", band.engineRPM)];
		return {
			...band,
			found,
			changed,
			readings: readings.filter((one) => Math.abs(one.engineRPM - band.engineRPM) < 1),
			foundStands: found === null ? null : standingOf(found, band, error),
			changedStands: changed === null ? null : standingOf(changed, band, error),
		};
	});
}

/**
 * countIn counts the speeds in the band, and those of them within the reading error of it.
 * @param {ReturnType<typeof compare>} rows @param {"found" | "changed"} which
 */
export function countIn(rows, which) {
	const stands = rows.map((row) => row[/** @type {"foundStands" | "changedStands"} */ (`${which}Stands`)]);
	const byError = stands.filter((one) => one === "watch").length;
	return { count: byError + stands.filter((one) => one === "pass").length, byError };
}

/**
 * "5 of 7 speeds in band. As found: 2."
 * @param {PlateInput} input
 * @param {Taken} taken
 * @returns {Node[]}
 */
export function countLine(input, taken) {
	const rows = compare(input, taken);
	const now = countIn(rows, "changed");
	const isAll = now.count === rows.length;
	const near = now.byError ? ` (${now.byError} only within the reading error)` : "";
	return [
		mark(isAll && !now.byError ? "pass" : now.count > 0 ? "watch" : "fail"),
		h(
			"span",
			null,
			h("strong", { class: "figures" }, `${now.count} of ${rows.length}`),
			` speeds in band${near}. As found: ${countIn(rows, "found").count}.`,
		),
	];
}

const howFound =
	"Found is the one curve that fits all readings best. What was read at a speed stands under it and may differ.";

/** @param {PlateInput} input @param {Taken} taken */
export function compareTable(input, taken) {
	const title = "As found and as changed, crank degrees";
	return h(
		"div",
		null,
		h("p", { class: "note" }, howFound, taken.counts ? ` Readings in band: ${readingsInBand(taken.counts)}.` : ""),
		h(
			"div",
			{ class: "table-room", tabindex: "0", role: "region", "aria-label": title },
			h(
				"table",
				{ class: "ruled compared" },
				h("caption", null, `${title}${input.axis.quantity === "total" ? " before TDC" : " of advance"}`),
				h(
					"thead",
					null,
					h(
						"tr",
						null,
						["engine rpm", "found, fitted", "changed", "book", "stands"].map((text) =>
							h("th", { scope: "col" }, text),
						),
					),
				),
				h(
					"tbody",
					null,
					compare(input, taken).map((row) =>
						h(
							"tr",
							null,
							h("th", { scope: "row", class: "figure" }, rpm(row.engineRPM)),
							h(
								"td",
								{ class: "figure" },
								figure(row.found, input),
								row.readings.length
									? [
											h("br"),
											h(
												"span",
												{ class: "note read-here" },
												"read",
												readHere(row.readings, input),
											),
										]
									: null,
							),
							h("td", { class: "figure" }, h("strong", null, figure(row.changed, input))),
							h("td", { class: "figure" }, bandWords(row.minCrankDeg, row.maxCrankDeg)),
							h(
								"td",
								{ class: "verdict-cell" },
								row.changed === null || !row.changedStands
									? ""
									: [mark(row.changedStands), " ", short(row.changed, row)],
							),
						),
					),
				),
			),
		),
	);
}

/**
 * A degree in a column headed "before TDC" or "of advance"; "after" is said where it applies.
 * @param {number | null} value
 * @param {PlateInput} input
 */
function figure(value, input) {
	return value === null ? "–" : degWords(value, input.axis.quantity).replace(/ (before TDC|of advance|TDC)$/, "");
}

/** @param {readonly ReadAt[]} readings @param {PlateInput} input */
function readHere(readings, input) {
	return readings.map((one) => [
		h("span", { "aria-hidden": "true" }, one.direction === "rising" ? " △ " : " ▽ "),
		h("span", { class: "vh" }, ` ${one.direction} `),
		figure(one.crankDeg, input),
	]);
}

/** @param {number} value @param {{minCrankDeg: number | null, maxCrankDeg: number | null}} band */
function short(value, band) {
	return standing(value, band).replace("above the band", "over").replace("below the band", "under");
}
