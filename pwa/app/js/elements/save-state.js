// "Saved here · synced 12:04": where what was typed is by now.

import { garage } from "../data/garage.js";
import { keptCopies, onKept } from "../data/kept.js";
import { syncState, onSync } from "../data/sync.js";
import { fill, h } from "../lib/dom.js";
import { mark } from "./marks.js";

const element = h("a", { class: "save-state", href: "#/keep-safe" });
let saving = 0;

/** saveState gives the one line that every page shows. */
export function saveState() {
	draw();
	return element;
}

garage.on("saving", () => {
	saving++;
	draw();
});
garage.on("change", (change) => {
	if (change.from === "here") saving = Math.max(0, saving - 1);
	draw();
});
garage.on("unsaved", draw);
onSync(draw);
onKept(draw);

function draw() {
	const { at, access, trouble } = syncState();
	const copies = keptCopies().length;
	element.classList.toggle("is-unsaved", garage.unsaved() > 0 && saving === 0);
	if (saving > 0) return fill(element, "Saving…");
	if (garage.unsaved() > 0) return fill(element, h("span", { role: "alert" }, mark("fail"), " Not saved: no room"));
	const synced = copies ? `${copies} to choose about` : access === "none" ? "not paired" : trouble ? "not let in by the server" : at ? `synced ${clock(at)}` : "";
	fill(element, h("span", null, mark("done"), " Saved here"), synced ? h("small", null, synced) : null);
}

/** @param {Date} at */
export function clock(at) {
	const time = at.toLocaleTimeString([], { hour: "2-digit", minute: "2-digit", hourCycle: "h23" });
	return at.toDateString() === new Date().toDateString() ? time : at.toLocaleDateString([], { day: "numeric", month: "short" });
}
