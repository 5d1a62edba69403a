// That a curve chosen for this engine is judged by, and not the book's.

import { garage } from "../kept/garage.js";
import { address } from "../kit/address.js";
import { h } from "../kit/dom.js";
import { inEnglish } from "../kit/words.js";
import { chosenOf, chosenWords } from "../record/sheet.js";

/** @param {string} carId @returns {HTMLElement | null} null where the book is in use */
export function chosenLine(carId) {
	const chosen = chosenOf(garage.get("car", carId));
	return chosen
		? h(
				"p",
				{ class: "note chosen-line" },
				h("a", { href: address("car", carId, "choose") }, inEnglish(chosenWords(chosen)), "."),
			)
		: null;
}
