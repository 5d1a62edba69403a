// The way from the battery to the points and back, drawn for this very car.
// Each place has its number and its field on the wire; between two places
// stands what lies there, what it loses, and the verdict in word and shape.

import { partNames, parts } from "./supply.js";
import { fill, h, svg } from "../kit/dom.js";
import { num, short } from "../kit/format.js";
import { inEnglish, t } from "../kit/words.js";
import { verdictMark } from "../kit/mark.js";
import { measuredField } from "../kit/measured-field.js";

/**
 * @typedef {object} CircuitInput
 * @property {import("./supply.js").Place[]} places
 * @property {{nominalV: number, earth: string, ballasted: boolean}} electrics
 * @property {(place: string) => Fact | undefined} factOf
 * @property {(place: string, value: string) => import("../kit/doubt.js").Doubt | null} check looks at all that is
 *   typed, so every field is looked at anew after a key
 * @property {(place: string, change: {value: string, unit: string}) => void} onChange
 */

/** The parts as they lie on the wire, in a box of 48 by 56. */
const symbols = {
	lead: "",
	switch: "M24 0V14M24 42V56M24 42L36 18M24 14m-3 0a3 3 0 1 0 6 0a3 3 0 1 0-6 0M24 42m-3 0a3 3 0 1 0 6 0a3 3 0 1 0-6 0",
	ballast: "M24 0V8L34 12 14 19 34 26 14 33 34 40 24 45V56",
	coil: "M24 0V6C40 6 40 20 24 20C40 20 40 34 24 34C40 34 40 48 24 48V56M12 8V48M8 8V48",
	points: "M24 0V20M14 20H34M14 30H34M24 30V56M24 8H42V22M36 22H48M36 28H48M42 28V46H24",
	clamp: "M24 0V56M14 22H34V34H14Z",
	strap: "M24 0V8Q32 13 24 18Q16 23 24 28Q32 33 24 38Q16 43 24 48V56",
};

/**
 * circuit makes the drawing with its fields; show puts in what was judged.
 * @param {CircuitInput} input
 */
export function circuit({ places, electrics, factOf, check, onChange }) {
	/** @type {Map<string, HTMLElement>} */
	const rooms = new Map();
	/** @type {Map<string, HTMLElement>} */
	const rows = new Map();
	const fields = places.map((place, index) =>
		measuredField({
			label: `${index + 1}. ${place.name}`,
			name: place.id,
			units: ["V"],
			fact: factOf(place.id),
			also: () => "",
			check: (value) => check(place.id, value),
			note: place.note,
			onChange: (change) => {
				onChange(place.id, change);
				fields.forEach((field, at) => at !== index && field.recheck());
			},
			onEnter: () => fields[index + 1]?.input.focus(),
		}),
	);
	const list = places.flatMap((place, index) => {
		const part = parts[/** @type {keyof typeof parts} */ (place.id)];
		const room = h("div", { class: "stretch-words" });
		const row = h("li", { class: `stretch is-${part}` }, wire(symbols[part]), room);
		rooms.set(place.id, room);
		rows.set(place.id, row);
		const isLast = index === places.length - 1;
		return [
			h(
				"li",
				{ class: "place-row" },
				h(
					"div",
					{ class: "wire", "aria-hidden": "true" },
					h("span", { class: "node figures" }, String(index + 1)),
				),
				fields[index].element,
			),
			isLast && place.id === "coilFeed" ? null : row,
		];
	});
	const isWhole = places.at(-1)?.id === "engine";
	const element = h(
		"ol",
		{
			class: `circuit ${isWhole ? "is-whole" : ""}`,
			role: "list",
			"aria-label": "From the battery to the points and back",
		},
		battery(electrics),
		list,
		isWhole ? earthRow(electrics.earth) : null,
	);
	return {
		element,
		show: (/** @type {SupplyJudgement | null} */ judged) => showStretches(places, rooms, rows, judged),
	};
}

/** @param {string} d */
function wire(d) {
	return h(
		"div",
		{ class: "wire", "aria-hidden": "true" },
		d ? svg("svg", { viewBox: "0 0 48 56", focusable: "false" }, svg("path", { d })) : null,
	);
}

/**
 * The battery lies across the two wires; its signs say which post is on earth.
 * @param {CircuitInput["electrics"]} electrics
 */
function battery({ nominalV, earth, ballasted }) {
	const [onEarth, live] = earth === "positive" ? ["+", "−"] : ["−", "+"];
	const picture = svg(
		"svg",
		{ viewBox: "0 0 80 56", focusable: "false" },
		svg("path", { d: "M16 56V30H32M64 56V30H48M32 16V44M37 24V36M43 16V44M48 24V36" }),
		svg("text", { x: 16, y: 22, "text-anchor": "middle" }, onEarth),
		svg("text", { x: 64, y: 22, "text-anchor": "middle" }, live),
	);
	return h(
		"li",
		{ class: "battery-row" },
		h("div", { class: "wire", "aria-hidden": "true" }, picture),
		h(
			"div",
			null,
			h("strong", null, `${nominalV} V, ${earth} ${t("earth")}, ${ballasted ? "with ballast" : "no ballast"}`),
			h(
				"p",
				{ class: "note" },
				earth === "positive"
					? `Meter: red lead on the battery’s + post, which is ${t("earth")} here, and it stays there. The black lead walks.`
					: `Meter: black lead on the battery’s − post, which is ${t("earth")} here, and it stays there. The red lead walks.`,
			),
		),
	);
}

/** @param {string} earth */
function earthRow(earth) {
	return h(
		"li",
		{ class: "earth-row" },
		h("div", { class: "wire", "aria-hidden": "true" }),
		h(
			"p",
			null,
			h("strong", null, `Battery, ${t("earth")} post (${earth === "positive" ? "+" : "−"})`),
			h("span", { class: "note" }, " 0 V: the meter’s other lead is here"),
		),
	);
}

/**
 * @param {CircuitInput["places"]} places
 * @param {Map<string, HTMLElement>} rooms
 * @param {Map<string, HTMLElement>} rows
 * @param {SupplyJudgement | null} judged
 */
function showStretches(places, rooms, rows, judged) {
	const indexOf = (/** @type {string} */ id) => {
		const at = places.findIndex((place) => place.id === id);
		return at < 0 ? places.length : at;
	};
	places.forEach((place, index) => {
		const room = /** @type {HTMLElement} */ (rooms.get(place.id));
		const part = inEnglish(partNames[parts[/** @type {keyof typeof parts} */ (place.id)]]);
		const stretch = judged?.stretches.find((one) => one.from === place.id);
		const around = judged?.stretches.find((one) => indexOf(one.from) < index && indexOf(one.to) > index);
		const row = /** @type {HTMLElement} */ (rows.get(place.id));
		row.classList.toggle("is-guilty", Boolean(stretch && judged?.guilty === place.id));
		row.dataset.verdict = stretch?.verdict ?? "";
		if (stretch)
			return fill(room, stretchWords(stretch, judged?.guilty === place.id, indexOf(stretch.to) > index + 1));
		fill(
			room,
			h("span", { class: "note" }, around ? `${part}: within the stretch above` : `${part}: not measured`),
		);
	});
}

/** @param {Stretch} stretch @param {boolean} isGuilty @param {boolean} isMerged */
function stretchWords(stretch, isGuilty, isMerged) {
	const limit = stretch.limitV === null ? "" : `at most ${short(stretch.limitV)} V`;
	const facts = [`${num(stretch.dropV, 2)} V lost`, stretch.ohm === null ? "" : `${short(stretch.ohm)} Ω`, limit]
		.filter(Boolean)
		.join(" · ");
	const isLoad = stretch.limitV === null;
	return [
		h("span", { class: "stretch-name" }, inEnglish(stretch.name), isMerged ? " (together)" : ""),
		h("span", { class: "figures" }, facts),
		isLoad && stretch.verdict === "unknown"
			? h("span", { class: "note" }, "meant to take volts: no limit of its own")
			: h(
					"strong",
					{ class: "stretch-verdict" },
					verdictMark(stretch.verdict),
					isGuilty ? ": the faulty stretch" : "",
				),
		stretch.source && !isLoad ? h("small", { class: "limit-source" }, stretch.source) : null,
	];
}
