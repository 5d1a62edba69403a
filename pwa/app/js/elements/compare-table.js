// As found beside as changed, at the book's own speeds.

import { rpm } from "../lib/format.js";
import { h } from "../lib/dom.js";
import { mark } from "./marks.js";
import { bandWords, degWords, standing } from "./plate/stops.js";
import { lineAt } from "./plate/trace.js";
import { outside } from "./plate/band.js";

/** @typedef {import("./curve-plate.js").PlateInput} PlateInput */

/**
 * compare gives both lines at the band's speeds.
 * @param {PlateInput} input
 */
export function compare({ bands, curves }) {
	const at = (/** @type {string} */ kind, /** @type {number} */ speed) => {
		const curve = curves.find((one) => one.kind === kind);
		return curve ? lineAt(curve.points, speed) : null;
	};
	return bands.map((band) => ({ ...band, found: at("found", band.engineRPM), changed: at("what-if", band.engineRPM) }));
}

/** @param {number | null} value @param {{minCrankDeg: number, maxCrankDeg: number}} band */
const isIn = (value, band) => value !== null && Math.abs(outside(band, value)) < 0.05;

/** "5 of 7 book speeds in band; as found 2." @param {PlateInput} input @returns {Node[]} */
export function countLine(input) {
	const rows = compare(input);
	const now = rows.filter((row) => isIn(row.changed, row)).length;
	const found = rows.filter((row) => isIn(row.found, row)).length;
	return [mark(now === rows.length ? "pass" : now > 0 ? "watch" : "fail"),
		h("span", null, h("strong", { class: "figures" }, `${now} of ${rows.length}`), ` book speeds in band. As found: ${found}.`)];
}

/** @param {PlateInput} input */
export function compareTable(input) {
	const title = "As found and as changed, crank degrees";
	return h("div", { class: "table-room", tabindex: "0", role: "region", "aria-label": title },
		h("table", { class: "ruled compared" },
			h("caption", null, `${title}${input.axis.quantity === "total" ? " before TDC" : " of advance"}`),
			h("thead", null, h("tr", null, ["engine rpm", "found", "changed", "book", "stands"].map((text) => h("th", { scope: "col" }, text)))),
			h("tbody", null, compare(input).map((row) => h("tr", null,
				h("th", { scope: "row", class: "figure" }, rpm(row.engineRPM)),
				h("td", { class: "figure" }, figure(row.found, input)),
				h("td", { class: "figure" }, h("strong", null, figure(row.changed, input))),
				h("td", { class: "figure" }, bandWords(row.minCrankDeg, row.maxCrankDeg)),
				h("td", { class: "verdict-cell" }, row.changed === null ? "" : [mark(isIn(row.changed, row) ? "pass" : "fail"), " ", short(row.changed, row)]))))));
}

/** A degree in a column headed "before TDC" or "of advance"; "after" is said where it applies. @param {number | null} value @param {PlateInput} input */
function figure(value, input) {
	return value === null ? "–" : degWords(value, input.axis.quantity).replace(/ (before TDC|of advance|TDC)$/, "");
}

/** @param {number} value @param {{minCrankDeg: number, maxCrankDeg: number}} band */
function short(value, band) {
	return standing(value, band).replace("above the band", "over").replace("below the band", "under");
}
