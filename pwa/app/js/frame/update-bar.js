// "New version ready": the person decides when, never a timer.

import { h } from "../kit/dom.js";

/**
 * offerUpdate shows the bar once.
 * @param {() => void} reload
 */
export function offerUpdate(reload) {
	const notices = document.getElementById("notices");
	if (!notices || notices.querySelector(".update-bar")) return;
	notices.append(
		h(
			"div",
			{ class: "bar update-bar", role: "status" },
			h("p", null, "New version ready. What you typed stays."),
			h("button", { type: "button", on: { click: reload } }, "Reload"),
		),
	);
}

/**
 * announce shows a short sentence until it is tapped away or the page is left.
 * @param {string} text
 */
export function announce(text) {
	const line = h(
		"div",
		{ class: "bar announce-bar", role: "status" },
		h("p", null, text),
		h("button", { type: "button", on: { click: () => line.remove() } }, "Good"),
	);
	document.getElementById("notices")?.append(line);
	addEventListener("hashchange", () => line.remove(), { once: true });
}
