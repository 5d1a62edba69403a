// The restore list: what is undone now, each with the one great button that
// says it has been put back.

import { putBack } from "./standing.js";
import { inMinutes } from "./temporaries.js";
import { h } from "../kit/dom.js";
import { mark } from "../kit/mark.js";
import { firstCapital } from "../kit/words.js";

/** @typedef {import("./temporaries.js").Standing} Standing */

/**
 * restoreList draws the list.
 * @param {Doc<Car>} car @param {readonly Standing[]} list @param {() => void} onTicked
 */
export function restoreList(car, list, onTicked) {
	return h(
		"ul",
		{ class: "restore-list", role: "list" },
		list.map((each) => {
			const tick = async () => {
				await putBack(car, [each.id]).catch(() => {});
				onTicked();
			};
			return h(
				"li",
				{ class: each.isOverdue ? "is-overdue" : null },
				h(
					"p",
					{ class: "restore-what" },
					mark("caution"),
					h("strong", null, firstCapital(each.what)),
					" ",
					h(
						"span",
						{ class: "note" },
						each.minutes < 1 ? "just now" : `for ${inMinutes(each.minutes)}${each.isOverdue ? " now" : ""}`,
					),
				),
				h("p", { class: "restore-do" }, `${each.putBack}.`),
				h(
					"button",
					{
						type: "button",
						class: "button tick",
						"aria-label": `Done: ${small(each.putBack)}`,
						on: { click: tick },
					},
					mark("empty"),
					"Done",
				),
			);
		}),
	);
}

/**
 * blockedBox says what is in the way, and how to put it right there.
 * @param {Doc<Car>} car
 * @param {import("./temporaries.js").Stop} stop
 * @param {() => void} onTicked
 */
export function blockedBox(car, stop, onTicked) {
	return h(
		"section",
		{ class: "step-blocked", role: "alert" },
		h("h2", null, mark("caution"), " ", stop.title),
		h("p", null, stop.text),
		restoreList(car, stop.list, onTicked),
	);
}

/** @param {string} text */
const small = (text) => text.charAt(0).toLowerCase() + text.slice(1);
