// The map as a table that reads by tapping, by keyboard, by ear and on paper.
// What is past knock has a sign of its own, not a colour alone.

import { fill, h } from "../kit/dom.js";
import { num, rpm, signed } from "../kit/format.js";
import { convert } from "../kit/units.js";
import { inEnglish } from "../kit/words.js";

/** @param {number} kPa */
const inches = (kPa) => Number(convert(kPa, "kPa", "inHg"));

/** What the engine does at some of the squares: speed, inHg (common practice). */
const places = [
	{ name: "idle", rpm: 800, inHg: 16 },
	{ name: "hill", rpm: 1500, inHg: 0 },
	{ name: "tip-in", rpm: 2000, inHg: 12 },
	{ name: "cruise", rpm: 2500, inHg: 16 },
	{ name: "full throttle", rpm: 4000, inHg: 0 },
];

/** @typedef {{large: string, small: string, letter: string, isPast: boolean, words: string}} Square */

/** @param {any} map of combustion.map */
export function mapFigure(map) {
	const said = h("p", { class: "map-said", role: "status" }, "Tap a square.");
	/** @type {Square[][]} */
	const squares = map.rows.map((/** @type {any} */ row) =>
		map.engineRPM.map((/** @type {number} */ _, /** @type {number} */ i) => squareOf(map, row, i)),
	);
	const body = h(
		"tbody",
		null,
		squares.map((line, r) =>
			h(
				"tr",
				null,
				h("th", { scope: "row" }, num(inches(map.rows[r].vacuumKPa), 0)),
				line.map((square, c) => cell(square, r + c === 0, () => fill(said, inEnglish(square.words)))),
			),
		),
	);
	body.addEventListener("keydown", (event) => move(/** @type {KeyboardEvent} */ (event), body));
	return h(
		"figure",
		{ class: "plate engine-map" },
		key(map),
		said,
		h(
			"table",
			{ role: "grid" },
			h("caption", { class: "vh" }, "Timing over engine speed, across, and manifold vacuum, down"),
			h(
				"thead",
				null,
				h(
					"tr",
					null,
					h("th", { scope: "col" }, "inHg"),
					map.engineRPM.map((/** @type {number} */ speed) => h("th", { scope: "col" }, rpm(speed))),
				),
			),
			body,
		),
	);
}

/** What stands in a square, before the squares. @param {any} map */
const key = (map) =>
	h(
		"figcaption",
		{ class: "plate-caption" },
		h("strong", null, "Fig. 1. "),
		"Engine rpm across, manifold vacuum down. ",
		map.rows[0].timingCrankDeg
			? "Large: degrees it has. Small: degrees left to knock. Double frame: past it. "
			: "Degrees advised. ",
		places.map(({ name }) => `${name[0].toUpperCase()} ${name}`).join(", "),
		".",
	);

/** @param {any} map @param {any} row @param {number} i @returns {Square} */
function squareOf(map, row, i) {
	const speed = map.engineRPM[i];
	const [best, knock, advice] = [row.mbtCrankDeg[i], row.knockLimitLowCrankDeg[i], row.adviceCrankDeg[i]];
	const vacuum = Math.round(inches(row.vacuumKPa));
	const place = places.find((one) => one.rpm === speed && one.inHg === vacuum);
	const letter = place ? place.name[0].toUpperCase() : "";
	const where = `${rpm(speed)} rpm, ${vacuum === 0 ? "full throttle" : `${vacuum} inHg`}${place ? ` (${place.name})` : ""}`;
	const most = `At most ${num(advice, 0)} degrees advised.`;
	if (!row.timingCrankDeg)
		return {
			large: num(advice, 0),
			small: "",
			letter,
			isPast: false,
			words: `${where}. ${most} Best ${num(best, 0)}; knock may begin at ${num(knock, 0)}.`,
		};
	const [has, margin, cost] = [row.timingCrankDeg[i], row.marginCrankDeg[i], Math.round(row.costPercent[i])];
	const off = Math.round(has - best);
	const late = off === 0 ? "At best timing" : `${Math.abs(off)} ${off < 0 ? "late" : "early"} of best`;
	const costs = cost >= 1 && letter !== "I" ? `, which costs about ${cost} % of torque` : "";
	return {
		large: num(has, 0),
		small: signed(margin, 0),
		letter,
		isPast: margin < 0,
		words: `${where}: has ${num(has, 0)} degrees, ${num(Math.abs(margin), 0)} ${margin < 0 ? "past" : "short of"} where knock may begin. ${late}${costs}. ${most}`,
	};
}

/** @param {Square} square @param {boolean} isFirst @param {() => void} say */
const cell = ({ large, small, letter, isPast, words }, isFirst, say) =>
	h(
		"td",
		{
			class: isPast ? "is-past" : null,
			tabindex: isFirst ? "0" : "-1",
			on: { click: say, focus: say },
		},
		h("b", null, large, letter ? h("i", null, letter) : null),
		h("small", null, small),
		h("span", { class: "vh" }, ` ${inEnglish(words)}`),
	);

const steps = /** @type {{[key: string]: [number, number]}} */ ({
	ArrowUp: [-1, 0],
	ArrowDown: [1, 0],
	ArrowLeft: [0, -1],
	ArrowRight: [0, 1],
});

/** Arrow keys go from square to square. @param {KeyboardEvent} event @param {HTMLElement} body */
function move(event, body) {
	const step = steps[event.key];
	const td = /** @type {HTMLTableCellElement | null} */ (/** @type {HTMLElement} */ (event.target).closest("td"));
	const tr = /** @type {HTMLTableRowElement | null} */ (td?.parentElement);
	if (!step || !td || !tr) return;
	event.preventDefault();
	const { rows } = /** @type {HTMLTableSectionElement} */ (body);
	const next = rows[tr.sectionRowIndex + step[0]]?.cells[td.cellIndex + step[1]];
	if (next?.tagName !== "TD") return;
	td.tabIndex = -1;
	next.tabIndex = 0;
	next.focus();
}
