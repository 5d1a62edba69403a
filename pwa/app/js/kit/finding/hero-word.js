// The large word of a page, with what it is about: a page's pass is not the car's.

import { h } from "../dom.js";
import { mark, verdictMark } from "../mark.js";
import { inEnglish } from "../words.js";

/**
 * @param {string} about such as "The points, as left" @param {string} verdict @param {string} [word] where another
 * says it better than the verdict’s own
 */
export const heroWord = (about, verdict, word = "") =>
	h(
		"h2",
		{ class: "hero-word", id: "hero-word" },
		h("span", { class: "hero-about" }, inEnglish(`${about}:`)),
		h("span", { class: "hero-said" }, word ? [mark("unknown"), ` ${word}`] : verdictMark(verdict)),
	);
