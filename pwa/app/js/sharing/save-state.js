// "Saved here · synced 12:04" or "3 changes not sent yet": where what was typed is by now.

import { garage } from "../kept/garage.js";
import { unsaved } from "../kept/unsaved.js";
import { keptCopies, onKept } from "../kept/copies.js";
import { areCarried } from "../kept/carried.js";
import { syncState, onSync, unsent } from "../kept/sync.js";
import { fill, h } from "../kit/dom.js";
import { dateWords } from "../kit/format.js";
import { mark } from "../kit/mark.js";
import { today } from "../record/visits.js";

const element = h("a", { class: "save-state", href: "#/keep-safe" });
/** Said at once to those who hear the page. */
const alarm = h("div", { class: "vh", role: "alert" });
let saving = 0;

/** saveState gives the one line that every page shows. */
export function saveState() {
	if (!alarm.isConnected) document.body.append(alarm);
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
unsaved.on(draw);
onSync(draw);
onKept(draw);

function draw() {
	const { at, access, trouble } = syncState();
	const copies = keptCopies().length;
	element.classList.toggle("is-unsaved", unsaved.count() > 0 && saving === 0);
	if (saving > 0) return fill(element, "Saving…");
	const problem = unsaved.count() === 0 ? "" : unsaved.isNoRoom() ? noRoom() : "Not saved yet";
	if (alarm.textContent !== problem) fill(alarm, problem);
	if (problem) return fill(element, mark("fail"), " ", problem);
	const waiting = unsent();
	const stops = access === "none" ? "not paired" : trouble ? "not let in by the server" : "";
	const synced = waiting ? notSent(waiting) : at && !copies && !stops ? `synced ${clock(at)}` : "";
	fill(
		element,
		h("span", null, mark("done"), " Saved here"),
		[copies ? (copies === 1 ? "see two versions" : `${copies} with two versions`) : stops, synced]
			.filter(Boolean)
			.map((words) => h("small", null, words)),
	);
}

const noRoom = () => `Not saved: no room${areCarried() ? ". The server has it" : ""}`;

/** @param {number} count */
export const notSent = (count) => `${count === 1 ? "1 change" : `${count} changes`} not sent yet`;

/** @param {Date} at */
export function clock(at) {
	if (today(at) !== today()) return dateWords(today(at));
	return [at.getHours(), at.getMinutes()].map((each) => String(each).padStart(2, "0")).join(":");
}
