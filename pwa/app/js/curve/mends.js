// The repair: what to change, in which order, and what the readings should be
// afterwards. The smallest change stands first.

import { rpm } from "../kit/format.js";
import { knobs, words } from "./change.js";
import { h } from "../kit/dom.js";
import { caution } from "../kit/caution.js";
import { curvePlate } from "../kit/plate/curve-plate.js";
import { mark, verdictMark } from "../kit/mark.js";
import { deg } from "../kit/plate/stops.js";
import { inHundred, shareBar } from "../kit/finding/share.js";
import { working } from "../kit/finding/working.js";
import { inEnglish } from "../kit/words.js";

/** @typedef {(option: MendOption) => PlateInput} PlateOf */

const places = ["First choice", "Second choice", "Third choice", "Fourth choice"];

/**
 * @param {Prescription} answer
 * @param {boolean} isTotal the book's base is known, so expected readings are totals
 * @param {(option: MendOption) => void} tryIt opens what-if with this change
 * @param {PlateOf} [plateOf] the curve to be expected, as a figure
 * @returns {HTMLElement}
 */
export function mends(answer, isTotal, tryIt, plateOf) {
	return h(
		"section",
		{ class: "mends", "aria-labelledby": "mend-title" },
		h("h2", { id: "mend-title" }, "The repair"),
		answer.options.length
			? openingCaution(
					answer.cautions ?? [],
					answer.options.every(({ bodyOnly }) => bodyOnly),
				)
			: null,
		h(
			"ol",
			{ class: "mends-list", role: "list" },
			answer.options.map((option, i) => optionOf(option, i, isTotal, tryIt, plateOf)),
		),
		working("the repair", answer.working, answer.sources),
	);
}

/**
 * While two accounts fit, or the figures themselves are in doubt, no mend is
 * offered: it would be for a fault that may not be there.
 * @param {boolean} isTwoAccounts
 */
export function noMendYet(isTwoAccounts) {
	return h(
		"section",
		{ class: "mends", "aria-labelledby": "mend-title" },
		h("h2", { id: "mend-title" }, "The repair"),
		h(
			"p",
			null,
			isTwoAccounts
				? "None yet. Each cause asks for another repair. Take the reading that tells them apart first."
				: "None yet. Answer the questions above first. Change nothing inside until the figures are sure.",
		),
	);
}

/**
 * @param {readonly string[]} cautions of the calculation, for this mend
 * @param {boolean} isOutside nothing is opened
 */
function openingCaution(cautions, isOutside) {
	if (isOutside && cautions.length) return caution("before turning the body", [...cautions]);
	return caution("before opening the distributor", [
		...(cautions.length
			? cautions
			: ["Ignition off and the battery’s earth lead off first. Let the coil and the engine cool."]),
		"Plugs out before turning the engine by hand, hands clear of fan, belts and pulley spanner. It can kick back.",
		"One change at a time, then read again. Back off at the first knock.",
	]);
}

/**
 * The first choice stands open; the others are a tap away.
 * @param {MendOption} option
 * @param {number} i
 * @param {boolean} isTotal
 * @param {(option: MendOption) => void} tryIt
 * @param {PlateOf} [plateOf]
 */
function optionOf(option, i, isTotal, tryIt, plateOf) {
	const name = places[i] ?? `Choice ${i + 1}`;
	const what = option.bodyOnly
		? `Set the ${changeWords(option.change).replace("Base", "base to").replace("to at TDC", "to TDC")}, then read again. Nothing inside is touched`
		: changeWords(option.change);
	const rest = [
		h("p", null, inEnglish(option.why)),
		option.inBookShare === undefined
			? null
			: h(
					"p",
					{ class: "account-share in-book-share" },
					h(
						"span",
						null,
						"Then in the book: ",
						h("strong", { class: "figures" }, inHundred(option.inBookShare)),
					),
					shareBar(option.inBookShare),
				),
		h(
			"ol",
			{ class: "steps" },
			option.steps.map((step) => h("li", null, stepWords(step, option))),
		),
		option.scale ? h("p", { class: "note" }, inEnglish(option.scale)) : null,
		expectedTable(option, name, isTotal),
		plateOf ? curvePlate(plateOf(option)) : null,
		option.change.replace?.length
			? null
			: h(
					"button",
					{ type: "button", class: i === 0 ? "button next" : "button", on: { click: () => tryIt(option) } },
					h(
						"span",
						null,
						"Try this repair in what-if",
						h("span", { class: "vh" }, `: ${name.toLowerCase()}`),
					),
					mark("next"),
				),
	];
	if (i === 0) return h("li", { class: "mend" }, h("h3", null, name), h("p", { class: "mend-what" }, what), rest);
	return h(
		"li",
		{ class: "mend" },
		h(
			"details",
			{ class: "mend-more" },
			h("summary", null, h("span", null, h("strong", null, name), h("span", { class: "mend-what" }, what))),
			rest,
		),
	);
}

/**
 * What is to be read after a step stands smaller: it is for afterwards.
 * @param {string} step
 * @param {MendOption} option
 */
function stepWords(step, { stages = [] }) {
	const read = stages.find((stage) => stage.read && step.endsWith(stage.read))?.read ?? "";
	return read
		? [inEnglish(step.slice(0, -read.length)), h("span", { class: "note read-after" }, inEnglish(read))]
		: inEnglish(step);
}

/** The change in one line: "Primary spring 2.1 times as stiff; base 8° before TDC". @param {GovernorChange} change */
export function changeWords(change) {
	const parts = [
		...(change.replace ?? []).map((spring) => `New ${spring} spring, as the book names it`),
		...knobs.flatMap(({ key }) => (change[key] === undefined ? [] : [words(key, change[key], null)])),
	];
	return parts.map((part, i) => (i ? part.charAt(0).toLowerCase() + part.slice(1) : part)).join("; ");
}

/** @param {MendOption} option @param {string} name @param {boolean} isTotal */
function expectedTable(option, name, isTotal) {
	if (!option.expected.length) return null;
	return h(
		"div",
		{ class: "table-room", tabindex: "0", role: "region", "aria-label": `${name}: expected readings` },
		h(
			"table",
			{ class: "ruled" },
			h(
				"caption",
				null,
				isTotal
					? "It should then read, in crank degrees before TDC, vacuum off:"
					: "It should then read, in crank degrees of advance:",
			),
			h(
				"thead",
				null,
				h(
					"tr",
					null,
					["engine rpm", "expected", "allowed", "verdict"].map((text) => h("th", { scope: "col" }, text)),
				),
			),
			h(
				"tbody",
				null,
				option.expected.map((p) =>
					h(
						"tr",
						{ class: `is-${p.verdict}` },
						h(
							"th",
							{ scope: "row", class: "figure" },
							p.direction
								? h(
										"span",
										{ class: "direction" },
										h("span", { "aria-hidden": "true" }, p.direction === "rising" ? "△ " : "▽ "),
										h("span", { class: "vh" }, `${p.direction} `),
									)
								: null,
							rpm(p.engineRPM),
						),
						h("td", { class: "figure" }, deg(p.crankDeg)),
						h("td", { class: "figure" }, `${deg(p.minCrankDeg)} to ${deg(p.maxCrankDeg)}`),
						h(
							"td",
							{ class: "verdict-cell" },
							p.doubtful ? [mark("watch"), " take again"] : verdictMark(p.verdict),
						),
					),
				),
			),
		),
	);
}
