// The setup card of a car: the sheet that is passed on, and the ways to pass it.

import { call } from "../calc/client.js";
import { cardOf } from "../data/card.js";
import { cardRows } from "../data/card-rows.js";
import { garage } from "../data/garage.js";
import { standing } from "../data/work.js";
import { cardForm } from "../elements/card-form.js";
import { cardSend } from "../elements/card-send.js";
import { choice } from "../elements/field.js";
import { qrFigure } from "../elements/qr.js";
import { setupCard } from "../elements/setup-card.js";
import { fill, h } from "../lib/dom.js";
import { isOnlyHere } from "../platform.js";

const pause = 400; // ms after the last key; then the sheet is drawn again

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	const id = ctx.params.car;
	const [sheet, opening] = [h("div"), h("p", { class: "note card-opening" })];
	const code = h("div");
	const send = cardSend((url) => codeForPaper(code, url));
	const kept = await garage.draft(`card/${id}`).catch(() => null);
	let withEarlier = kept?.withEarlier === true;
	let timer = 0;

	const draw = () => {
		const holding = holdingOf(id);
		if (!holding) return;
		const card = cardOf(holding, { withEarlier });
		const open = cardRows(card).filter(({ text }) => !text).length;
		fill(opening, open ? `${open} line${open === 1 ? " is" : "s are"} still unknown. A card with unknowns is honest; send it all the same.` : "Every line is filled.");
		inPlace(root, () => fill(sheet, setupCard(card, code)));
		send.show(card);
	};
	const drawSoon = () => {
		clearTimeout(timer);
		timer = setTimeout(() => { if (!ctx.signal.aborted) draw(); }, pause);
	};

	draw();
	const car = /** @type {Doc<Car>} */ (ctx.car);
	fill(root, jumps(), opening, sheet, send.element, hasEarlier(ctx.visits) ? earlierChoice(withEarlier, (next) => {
		withEarlier = next;
		garage.setDraft(`card/${id}`, { withEarlier });
		draw();
	}) : null, cardForm(car, drawSoon));
	const undone = () => standing(id).map((one) => one.id).join();
	let stood = undone();
	const off = garage.on("change", ({ from }) => {
		if (from !== "here" || undone() !== stood) drawSoon(); // ticked off in the bar above
		stood = undone();
	});
	ctx.signal.addEventListener("abort", () => { off(); clearTimeout(timer); });
}

/**
 * inPlace draws what stands above without moving what somebody is typing in.
 * @param {HTMLElement} root @param {() => void} drawAbove
 */
function inPlace(root, drawAbove) {
	const held = root.contains(document.activeElement) ? /** @type {Element} */ (document.activeElement) : null;
	const top = held?.getBoundingClientRect().top ?? 0;
	drawAbove();
	if (!held) return;
	const back = () => scrollBy({ top: held.getBoundingClientRect().top - top, behavior: "instant" });
	back();
	requestAnimationFrame(() => requestAnimationFrame(back)); // the plate takes its height a frame later
}

const widestOnPaper = 64; // mm; a wider code would push the card off its page

/** On paper the card carries its own link, where another phone can open it. @param {HTMLElement} place @param {string} url */
async function codeForPaper(place, url) {
	const symbol = isOnlyHere ? null : await call("card.qr", { text: url }).catch(() => null);
	fill(place, symbol && symbol.leastSideMm <= widestOnPaper ? qrFigure(symbol, "QR code of this card", "This card, for a phone.") : null);
}

/** Ways down a long page, and to paper. */
function jumps() {
	/** @param {string} label @param {() => void} press */
	const way = (label, press) => h("button", { type: "button", on: { click: press } }, label);
	const to = (/** @type {string} */ id) => () => document.getElementById(id)?.scrollIntoView();
	return h("nav", { class: "jumps", "aria-label": "On this page" }, way("Send it", to("send-title")), way("Write on it", to("card-form-title")), way("Print it", () => print()));
}

/** @param {string} id @returns {import("../data/card.js").Holding | null} */
export function holdingOf(id) {
	const car = garage.get("car", id);
	if (!car) return null;
	const distributor = garage.get("distributor", car.body.distributorId);
	return { car, distributor, visits: garage.visits({ carId: id }) };
}

/** More than one visit has readings of one place. @param {Doc<Visit>[]} visits */
function hasEarlier(visits) {
	return /** @type {const} */ (["bench", "car"]).some((place) => visits.filter(({ body }) => body.sets.some((set) => set.place === place && !set.removed && set.readings.length)).length > 1);
}

/** @param {boolean} isChosen @param {(withEarlier: boolean) => void} onChange */
function earlierChoice(isChosen, onChange) {
	return choice({
		label: "Readings on the card", name: "card-readings", value: isChosen ? "both" : "newest", isRow: true, onChange: (value) => onChange(value === "both"),
		options: [{ value: "newest", label: "the newest" }, { value: "both", label: "before and after", note: "makes the link longer" }],
	}).element;
}
