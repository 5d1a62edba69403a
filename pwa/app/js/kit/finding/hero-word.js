// The large word of a page, with what it is about: a page's pass is not the car's.

import { h } from "../dom.js";
import { verdictMark } from "../mark.js";
import { inEnglish } from "../words.js";

/** @param {string} about such as "The points" @param {string} verdict @param {string} [when] such as "as left" */
export const heroWord = (about, verdict, when = "") =>
	h(
		"h2",
		{ class: "hero-word", id: "hero-word" },
		h("span", { class: "hero-about" }, inEnglish(`${about}${when ? `, ${when}` : ""}:`)),
		h("span", { class: "hero-said" }, verdictMark(verdict)),
	);
