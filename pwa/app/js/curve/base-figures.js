// The base: what it is, what the book asks, and how far apart they are.
// Large, because this is what an idle reading hides.

import { btdc, num } from "../kit/format.js";
import { h } from "../kit/dom.js";

/**
 * @param {Judgement} judgement @param {Spec} spec
 * @returns {HTMLElement}
 */
export function baseFigures(judgement, spec) {
	const { baseCrankDeg: base, baseOffsetCrankDeg: offset } = judgement;
	const book = spec.baseCrankDeg ?? null;
	return h(
		"section",
		{ class: "base-figures", "aria-labelledby": "base-title" },
		h("h2", { id: "base-title" }, "The base"),
		h(
			"div",
			{ class: "pair" },
			hero(
				"As it stands",
				base,
				spread(judgement) ||
					(base === null ? "These readings do not tell. Prove it with the test lamp, engine stopped." : ""),
			),
			hero("By the book", book, book === null ? "Not entered on the book page." : tolerance(spec)),
		),
		base !== null && offset !== null ? h("p", { class: "base-gap" }, gap(offset)) : null,
		judgement.basis ? h("p", { class: "note" }, `Found from: ${judgement.basis}.`) : null,
	);
}

/**
 * One great number with its side of TDC spelled out.
 * @param {string} name @param {number | null} value crank degrees @param {string} note
 */
function hero(name, value, note) {
	const text = btdc(value);
	const [figure, ...side] = text.split(" ");
	return h(
		"div",
		{ class: "hero-figure" },
		h("p", { class: "hero-name" }, name),
		value === null
			? h("p", { class: "hero-unknown" }, "Unknown")
			: h("p", { class: "hero-number figures" }, figure),
		value === null
			? null
			: h("p", { class: "hero-side" }, side.join(" "), h("span", { class: "hero-unit" }, " crank degrees")),
		note ? h("p", { class: "note" }, note) : null,
	);
}

/** @param {Judgement} judgement */
function spread({ baseLowCrankDeg: low, baseHighCrankDeg: high, baseCrankDeg }) {
	if (baseCrankDeg === null || low == null || high == null || high - low < 0.05) return "";
	const sameSide = low > 0 === high > 0;
	return `Between ${sameSide ? num(Math.abs(low)) + "°" : btdc(low)} and ${btdc(high)}.`;
}

/** @param {Spec} spec */
function tolerance(spec) {
	return spec.baseToleranceCrankDeg ? `Allowed ${num(spec.baseToleranceCrankDeg)}° either way.` : "";
}

/** @param {number} offset crank degrees */
function gap(offset) {
	if (Math.abs(offset) < 0.05) return "The two agree.";
	return `The base stands ${num(Math.abs(offset))}° ${offset < 0 ? "later" : "earlier"} than the book.`;
}
