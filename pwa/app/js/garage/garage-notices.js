// What the garage page says above the cars when there is something to say:
// copies to choose about, a phone that is not paired, a week without a second
// place.

import { keptCopies, onKept } from "../kept/copies.js";
import { onExported, remindLater, reminder } from "../kept/second-place.js";
import { onSync, syncState } from "../kept/sync.js";
import { fill, h } from "../kit/dom.js";
import { mark } from "../kit/mark.js";

/** @param {AbortSignal} signal */
export function garageNotices(signal) {
	const [live, gentle] = [h("div", { "aria-live": "polite" }), h("div")];
	const draw = () => fill(live, keptLine(), pairLine());
	const remind = async () => {
		const days = await reminder().catch(() => null);
		if (!signal.aborted) fill(gentle, days === null ? null : reminderBox(days, remind));
	};
	draw();
	remind();
	for (const off of [
		onKept(draw),
		onSync(() => {
			draw();
			remind();
		}),
		onExported(remind),
	])
		signal.addEventListener("abort", off);
	return h("div", { class: "garage-notices" }, live, gentle);
}

function keptLine() {
	const n = keptCopies().length;
	if (!n) return null;
	return h(
		"p",
		{ class: "boxed" },
		mark("watch"),
		" ",
		h("strong", null, `${n === 1 ? "1 thing has" : `${n} things have`} two versions. Choose one.`),
		" The same thing was changed on two phones. ",
		h("a", { href: "#/kept" }, "Look at both"),
	);
}

function pairLine() {
	if (syncState().access !== "none") return null;
	return h(
		"p",
		{ class: "boxed" },
		mark("watch"),
		" ",
		h("strong", null, "This phone is not paired with the garage’s server."),
		" Everything works and stays on this phone. ",
		h("a", { href: "#/join" }, "Pair this phone"),
	);
}

/** @param {number} days @param {() => void} drawAgain */
function reminderBox(days, drawAgain) {
	return h(
		"aside",
		{ class: "boxed", "aria-label": "Keep it safe" },
		h(
			"p",
			null,
			mark("watch"),
			" ",
			h("strong", null, `For ${days} days this garage has been on this phone alone.`),
			" A phone can be lost. A browser may clear what it keeps. ",
			h("a", { href: "#/keep-safe" }, "Keep it safe"),
		),
		h(
			"button",
			{ type: "button", class: "button slim", on: { click: () => remindLater().then(drawAgain) } },
			"Later",
		),
	);
}
