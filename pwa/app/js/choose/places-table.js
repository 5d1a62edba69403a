// What a curve comes to, place by place, in words and figures.

import { h } from "../kit/dom.js";
import { num, rpm, signed } from "../kit/format.js";
import { mark, verdictWord } from "../kit/mark.js";
import { figureRows } from "../kit/plate/rows.js";
import { inEnglish } from "../kit/words.js";

/** @param {any[]} places of combustion.weigh @param {string} name what it is of, for those who hear the page */
export const placesTable = (places, name) =>
	h(
		"div",
		{ class: "table-room", tabindex: "0", role: "region", "aria-label": name },
		figureRows({
			caption: "Timing, margin to knock and cost at each place",
			heads: ["Where, rpm", "Has", "Best", "To knock", "Costs, %"],
			rows: places.map(row),
		}),
	);

/** @param {any} place */
const row = ({ name, engineRPM, crankDeg, offBestCrankDeg, marginCrankDeg, hasKnockLimit, verdict, ...cost }) => [
	h(
		"span",
		null,
		verdict === "pass" ? null : [mark(verdict), h("span", { class: "vh" }, `${verdictWord(verdict)}: `)],
		`${rpm(engineRPM)} ${inEnglish(name)}`,
	),
	num(crankDeg),
	num(crankDeg - offBestCrankDeg),
	hasKnockLimit ? signed(marginCrankDeg) : "none",
	name === "idle" ? "–" : `${Math.floor(cost.costLowPercent)} to ${Math.ceil(cost.costHighPercent)}`,
];
