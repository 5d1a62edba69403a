// Where no part is named: the accounts side by side with their shares, and the
// one reading that tells them apart. Nothing decided is an answer.

import { isBelowIdle, isNamed, openAccounts } from "./decision.js";
import { h } from "../kit/dom.js";
import { fold } from "../kit/fold.js";
import { num, rpm } from "../kit/format.js";
import { inEnglish } from "../kit/words.js";
import { mark } from "../kit/mark.js";
import { inHundred, shareBar } from "../kit/finding/share.js";

/** How many accounts stand open; the rest are a tap away. Chosen: as many as are seen at once on a phone. */
const shown = 3;

/**
 * @typedef {object} Way
 * @property {number | null} idle of the car, engine rpm
 * @property {((next: NextReading) => void) | null} take goes to entering that reading; null where these are old
 *   readings
 */

/**
 * accountsSideBySide draws the open choice.
 * @param {Judgement} judgement
 * @param {readonly NextReading[]} readings the first is the one to take, in the units it will be read in
 * @param {Way} way
 * @returns {HTMLElement | null}
 */
export function accountsSideBySide(judgement, readings, way) {
	const open = openAccounts(judgement);
	if (!open.length) return null;
	if (isNamed(judgement)) return whatElse(judgement, open, readings, way);
	return fold(
		"verdict/accounts",
		{
			title: open[0].id === "sound" ? "Nothing wrong is likeliest, not yet sure" : "Not decided yet",
			id: "either-or-title",
			class: "either-or",
			answer:
				open[0].id === "sound"
					? "One more reading makes it surer."
					: "These readings do not show which it is. Turn nothing. Change nothing inside. Take one more reading.",
		},
		accountList(open),
		nextOf(judgement, readings, way, judgement.verdict !== "pass"),
	);
}

/**
 * Where a part is named and not yet sure.
 * @param {Judgement} judgement
 * @param {readonly Account[]} open
 * @param {readonly NextReading[]} readings
 * @param {Way} way
 */
function whatElse(judgement, open, readings, way) {
	return fold(
		"verdict/what-else",
		{ title: "What else it may be, and the reading that makes it surer", class: "either-or what-else" },
		accountList(open),
		nextOf(judgement, readings, way, false),
	);
}

/** @param {readonly Account[]} open */
function accountList(open) {
	const rest = open.slice(shown);
	const held = rest.reduce((sum, { share }) => sum + share, 0);
	return h(
		"div",
		{ class: "accounts" },
		h("ol", { role: "list" }, open.slice(0, shown).map(accountLine)),
		rest.length
			? h(
					"details",
					null,
					h("summary", null, `${rest.length} more, ${inHundred(held)} together`),
					h("ol", { role: "list" }, rest.map(accountLine)),
				)
			: null,
	);
}

/** @param {Account} account */
function accountLine({ share, title, text }) {
	return h(
		"li",
		{ class: "account" },
		h("p", { class: "account-share" }, h("strong", { class: "figures" }, inHundred(share)), shareBar(share)),
		h("p", null, inEnglish(text || `${title}.`)),
	);
}

/**
 * @param {Judgement} judgement
 * @param {readonly NextReading[]} readings
 * @param {Way} way
 * @param {boolean} isAction it is the one thing to do, and its button stands at the top of the page
 */
function nextOf(judgement, readings, way, isAction) {
	const [first, ...others] = readings;
	if (!first) return h("p", null, "No single reading tells them apart. Read up and down again, at more speeds.");
	return h(
		"section",
		{ class: "next-reading", "aria-labelledby": "next-reading-title" },
		h("h3", { id: "next-reading-title" }, mark("next"), " The next reading"),
		readingPlate(first, judgement, way, isAction),
		others.length
			? h(
					"details",
					null,
					h(
						"summary",
						null,
						others.length === 1 ? "Another that would do" : `${others.length} others that would do`,
					),
					others.map((next) => readingPlate(next, judgement, way, false)),
				)
			: null,
	);
}

const where = {
	bench: "On the bench",
	car: "On the car, by strobe; pipe off and plugged",
	lamp: "With the test lamp, engine stopped, weights fully in",
};

/** @param {NextReading} next */
export const takeLabel = (next) =>
	`Take this reading${next.place === "lamp" ? ": static timing" : `: ${rpm(next.rpm)}, ${next.direction}`}`;

/** @param {NextReading} next @param {Judgement} judgement @param {Way} way @param {boolean} isAction */
function readingPlate(next, judgement, way, isAction) {
	const { take } = way;
	return h(
		"div",
		{ class: "next-plate" },
		h("p", null, inEnglish(where[next.place])),
		next.place === "lamp"
			? h("p", { class: "next-figure" }, inEnglish("Static timing"))
			: h(
					"p",
					{ class: "next-figure figures" },
					rpm(next.rpm),
					h("small", null, ` ${next.speedUnit} rpm, `, mark(next.direction), ` ${next.direction}`),
				),
		isBelowIdle(next, way.idle)
			? h(
					"p",
					{ class: "note" },
					mark("watch"),
					` Below this engine’s idle of ${rpm(way.idle)}: it may not hold.`,
				)
			: null,
		expectTable(next, judgement.accounts ?? []),
		take === null || isAction
			? null
			: h("button", { type: "button", class: "button", on: { click: () => take(next) } }, takeLabel(next)),
	);
}

/** @param {NextReading} next @param {readonly Account[]} accounts */
function expectTable(next, accounts) {
	const told = next.expects.filter(({ account }) => account !== "other").slice(0, shown);
	const unit =
		next.place === "bench" ? `${next.angleUnit} degrees of advance` : `${next.angleUnit} degrees before TDC`;
	return h(
		"table",
		{ class: "ruled expects" },
		h("caption", null, `What each expects there, ${unit}`),
		h(
			"thead",
			{ class: "vh" },
			h(
				"tr",
				null,
				["if", "about", "from and to"].map((head) => h("th", { scope: "col" }, head)),
			),
		),
		h(
			"tbody",
			null,
			told.map(({ account, deg, low, high }) =>
				h(
					"tr",
					null,
					h("th", { scope: "row" }, inEnglish(titleOf(account, accounts))),
					h("td", { class: "figure" }, h("strong", null, side(deg))),
					h("td", { class: "figure note" }, `${side(low)} to ${side(high)}`),
				),
			),
		),
	);
}

/** @param {string} id @param {readonly Account[]} accounts */
const titleOf = (id, accounts) => accounts.find((one) => one.id === id)?.title ?? id;

/** Degrees in a column that says "before TDC": what lies after it is said. @param {number} deg */
const side = (deg) => (deg < -0.05 ? `${num(-deg)} after` : num(Math.abs(deg)));
