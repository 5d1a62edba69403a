// The setup card of a car: the sheet that is passed on, and the ways to pass it.

import { call } from "../engine/client.js";
import { cardOf } from "./card.js";
import { cardRows } from "./card-rows.js";
import { garage } from "../kept/garage.js";
import { drafts } from "../kept/drafts.js";
import { runsOf } from "../record/runs.js";
import { standing as leftUndone } from "../safety/standing.js";
import { cardForm } from "./card-form.js";
import { standAndNext } from "../job/next-step.js";
import { cardSend } from "./card-send.js";
import { button, choice, nextButton } from "../kit/field.js";
import { qrFigure } from "../kit/qr.js";
import { setupCard } from "./setup-card.js";
import { fill, h } from "../kit/dom.js";
import { address } from "../kit/address.js";
import { inPlace } from "../kit/hold-still.js";
import { firstAnswer } from "../kit/first-answer.js";
import { folded, unfold } from "../kit/fold.js";
import { isOnlyHere } from "../kit/platform.js";

const pause = 400; // ms after the last key; then the sheet is drawn again

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	const id = ctx.params.car;
	const [sheet, opening] = [h("div"), h("p", { class: "note card-opening" })];
	const code = h("div");
	/** @type {import("./card.js").CardChoice} */
	const chosen = { ...(await drafts.get(`card/${id}`).catch(() => null)) };
	let timer = 0;

	const cardNow = () => {
		const holding = holdingOf(id);
		return holding && cardOf(holding, { ...chosen, stands: standing.now() });
	};
	// nobody is sent a card that does not say yet how the car now stands
	const offer = (card = cardNow()) => (card && standing.isKnown() ? send.show(card) : send.wait());
	const draw = () => {
		const card = cardNow();
		if (!card) return;
		fill(opening, openLines(card));
		inPlace(root, () => fill(sheet, setupCard(card, code)));
		offer(card);
	};
	const drawSoon = () => {
		clearTimeout(timer);
		send.wait();
		timer = setTimeout(() => {
			if (!ctx.signal.aborted) draw();
		}, pause);
	};

	const car = /** @type {Doc<Car>} */ (ctx.car);
	const choose = (/** @type {import("./card.js").CardChoice} */ change) => {
		Object.assign(chosen, change);
		drafts.put(`card/${id}`, chosen);
		draw();
	};
	const send = cardSend(stayOrGo(car, chosen, choose), (parcel) => codeForPaper(code, parcel));
	const standing = standingOf(car, ctx.signal, (isOther) => (isOther ? draw() : offer()));
	draw();
	await firstAnswer(standing.look());
	fill(
		root,
		opening,
		nextButton(ctx.car?.isUnit ? "Send this sheet" : "Send this card", () => goTo(send.element)),
		sheet,
		send.element,
		hasEarlier(ctx.visits)
			? earlierChoice(chosen.withEarlier === true, (withEarlier) => choose({ withEarlier }))
			: null,
		folded("card/form", cardForm(car, drawSoon)),
		button("Print it", () => print()),
		button("The wall sheet", address("car", id, "wall")),
	);
	follow(id, ctx.signal, standing.look, drawSoon);
	ctx.signal.addEventListener("abort", () => clearTimeout(timer));
}

/** How much of it is not known yet. @param {SetupCard} card */
function openLines(card) {
	const open = cardRows(card).filter(({ text }) => !text).length;
	return open
		? `${open} line${open === 1 ? " is" : "s are"} still unknown. You can send it with unknowns.`
		: "Every line is filled.";
}

/**
 * What changes elsewhere, and what is ticked off in the bar above, is drawn.
 * @param {string} id @param {AbortSignal} signal @param {() => void} look @param {() => void} drawSoon
 */
function follow(id, signal, look, drawSoon) {
	const undone = () =>
		leftUndone(id)
			.map((one) => one.id)
			.join();
	let stood = undone();
	const off = garage.on("change", ({ from }) => {
		look();
		if (from !== "here" || undone() !== stood) drawSoon();
		stood = undone();
	});
	signal.addEventListener("abort", off);
}

/**
 * How the car stands and what comes next, and a look whether it still does.
 * @param {Doc<Car>} car @param {AbortSignal} signal @param {(isOther: boolean) => void} known
 */
function standingOf(car, signal, known) {
	/** @type {import("../job/next-step.js").Standing | null} */
	let stands = null;
	let [asked, answered] = [0, 0];
	return {
		now: () => stands,
		isKnown: () => asked > 0 && asked === answered,
		async look() {
			const mine = ++asked;
			const found = await standAndNext(garage.get("car", car.id) ?? car).catch(() => stands);
			if (mine !== asked || signal.aborted) return;
			answered = mine;
			const isOther = JSON.stringify(found) !== JSON.stringify(stands);
			stands = found;
			known(isOther);
		},
	};
}

/** @param {HTMLElement} folded */
function goTo(folded) {
	unfold(folded);
	folded.scrollIntoView();
	folded.querySelector("summary")?.focus({ preventScroll: true });
}

const widestOnPaper = 80; // mm on a screen, four fifths of it on paper; a wider code would push the card off its page

/**
 * On paper the card carries its own link, where another phone can open it.
 * @param {HTMLElement} place
 * @param {import("./card-parcel.js").Parcel} parcel
 */
async function codeForPaper(place, { url, isOpen }) {
	const leadsNowhere = !isOpen && isOnlyHere;
	const symbol = leadsNowhere ? null : await call("card.qr", { text: url }).catch(() => null);
	fill(
		place,
		symbol && symbol.leastSideMm <= widestOnPaper
			? qrFigure(symbol, "QR code of this card", "This card, for a phone.")
			: null,
	);
}

/**
 * Whose it is and what was told of it, where the garage knows it: they stay here unless they are let go.
 * @param {Doc<Car>} car @param {import("./card.js").CardChoice} chosen
 * @param {(change: import("./card.js").CardChoice) => void} choose
 */
function stayOrGo({ body, isUnit }, chosen, choose) {
	if (isUnit) return []; // a bench sheet names neither
	return /** @type {const} */ ([
		{ key: "withOwner", label: "The owner’s name", text: body.owner },
		{ key: "withStory", label: "The owner’s story", text: body.facts.story?.value ?? "" },
	])
		.filter(({ text }) => text.trim())
		.map(
			({ key, label }) =>
				choice({
					label,
					name: `card-${key}`,
					value: chosen[key] ? "goes" : "stays",
					isRow: true,
					onChange: (value) => choose({ [key]: value === "goes" }),
					options: [
						{ value: "stays", label: "stays here" },
						{ value: "goes", label: "goes along" },
					],
				}).element,
		);
}

/** @param {string} id @returns {import("./card.js").Holding | null} */
export function holdingOf(id) {
	const car = garage.get("car", id);
	if (!car) return null;
	const distributor = garage.get("distributor", car.body.distributorId);
	return { car, distributor, visits: garage.visits({ carId: id }) };
}

/** Whether some place was read more than once. @param {Doc<Visit>[]} visits */
function hasEarlier(visits) {
	const runs = runsOf(visits);
	return /** @type {const} */ (["bench", "car"]).some(
		(place) => runs.filter(({ set }) => set.place === place && set.readings.length).length > 1,
	);
}

/** @param {boolean} isChosen @param {(withEarlier: boolean) => void} onChange */
function earlierChoice(isChosen, onChange) {
	return choice({
		label: "Readings on the card",
		name: "card-readings",
		value: isChosen ? "both" : "newest",
		isRow: true,
		onChange: (value) => onChange(value === "both"),
		options: [
			{ value: "newest", label: "the newest" },
			{ value: "both", label: "before and after", note: "makes the link longer" },
		],
	}).element;
}
