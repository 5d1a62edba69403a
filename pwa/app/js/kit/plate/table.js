// The figure as a table: the same points in words, for those who read rather
// than look, and for paper.
import { h } from "../dom.js";
import { bandWords, degWords, possibleWords } from "./stops.js";
import { inEnglish } from "../words.js";

/**
 * @typedef {import("./stops.js").Stop} Stop
 */

/**
 * @param {PlateInput} input @param {readonly Stop[]} stops @param {boolean} open
 * @returns {HTMLElement}
 */
export function pointTable(input, stops, open) {
	const name = input.number ? `Fig. ${input.number} as a table` : "The figure as a table";
	return h(
		"details",
		{ class: "plate-words-table", open },
		h("summary", {}, name),
		h(
			"div",
			{ class: "table-room", tabindex: "0", role: "region", "aria-label": name },
			h(
				"table",
				{ class: "ruled" },
				h("caption", { class: "vh" }, inEnglish(`${name}: ${input.title}`)),
				h("thead", {}, h("tr", {}, ...heads(input).map((text) => h("th", { scope: "col" }, text)))),
				h("tbody", {}, ...stops.map((stop) => row(stop, input))),
			),
		),
	);
}

/** @param {PlateInput} input */
function heads(input) {
	return [
		"engine rpm",
		"what",
		input.axis.quantity === "total" ? "crank degrees" : "crank degrees of advance",
		input.points.length ? "allowed" : "book",
		"stands",
	];
}

/** @param {Stop} stop @param {PlateInput} input */
function row(stop, input) {
	const value = stop.key.startsWith("book")
		? ""
		: degWords(stop.crankDeg, input.axis.quantity).replace(" of advance", "");
	return h(
		"tr",
		{},
		h(
			"th",
			{ scope: "row", class: "figure" },
			stop.what.startsWith("static") ? "–" : String(Math.round(stop.engineRPM)),
		),
		h("td", {}, inEnglish(stop.what)),
		h("td", { class: "figure" }, value),
		h(
			"td",
			{ class: "figure" },
			stop.isSilent ? possibleWords(stop) : bandWords(stop.minCrankDeg, stop.maxCrankDeg),
		),
		h("td", {}, stop.standing),
	);
}
