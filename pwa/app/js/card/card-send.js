// The part of the card's page by which it leaves the phone: what goes is listed
// before it goes, then the ways, the link to copy by hand, and a QR code.

import { call } from "../engine/client.js";
import { cardFile } from "./card-file.js";
import { pageName, pageOf, parcelOf } from "./card-parcel.js";
import { cardWays } from "./card-ways.js";
import { fill, h } from "../kit/dom.js";
import { fold } from "../kit/fold.js";
import { trouble } from "../kit/caution.js";
import { button } from "../kit/field.js";
import { fileName, offerFile } from "../kit/file-offer.js";
import { qrFigure } from "../kit/qr.js";

// characters of the fragment; from here on its length is said. card.link's own note begins at 1500
const nearLimit = 1300;
const longestQR = 2953; // bytes in the largest symbol (ISO/IEC 18004)

/**
 * cardSend makes the section. show(card) fills it for a card; until then, and after wait(), nothing can be sent.
 * @param {HTMLElement[]} ticks what may go along and stays at home unless ticked
 * @param {(parcel: import("./card-parcel.js").Parcel) => void} onLink told of every link made
 */
export function cardSend(ticks, onLink) {
	const room = h("div", null, h("p", { class: "note" }, "The link is being made …"));
	const said = h("p", { class: "ok-line", role: "status" });
	let turn = 0;
	let shown = "";
	const wait = () => {
		room.inert = true; // what stands there is of a card that holds no longer
		return ++turn;
	};
	return {
		wait,
		element: fold(
			"card/send",
			{ title: "Send this card", id: "send-title", class: "card-send" },
			said,
			ticks,
			room,
		),
		/** @param {SetupCard} card */
		async show(card) {
			const mine = wait();
			const now = JSON.stringify(card);
			if (now === shown) {
				room.inert = false;
				return;
			}
			try {
				const parcel = await parcelOf(card);
				if (mine !== turn) return;
				[room.inert, shown] = [false, now];
				fill(room, sending(card, parcel, said));
				onLink(parcel);
			} catch (problem) {
				const page = await pageOf(card, "").catch(() => null);
				if (mine !== turn) return;
				[room.inert, shown] = [false, ""];
				fill(room, withoutLink(card, /** @type {Problem} */ (problem), page?.page ?? ""));
			}
		},
	};
}

/**
 * A card that goes into no link can still be saved.
 * @param {SetupCard} card @param {Problem} problem @param {string} page "" where there is none either
 */
function withoutLink(card, problem, page) {
	return trouble(
		{
			...problem,
			title: "This card does not go into a link yet",
			detail: [problem.field?.replace(/^card\./, ""), problem.detail ?? problem.title].filter(Boolean).join(": "),
		},
		button("Save as a file all the same", () =>
			offerFile(`${fileName(card.car.name)}-card.json`, cardFile(card), "application/json"),
		),
		...(page ? [button("Save the page as a file", () => offerFile(pageName(card), page, "text/html"))] : []),
	);
}

/**
 * @param {SetupCard} card @param {import("./card-parcel.js").Parcel} parcel @param {HTMLElement} said
 */
function sending(card, parcel, said) {
	const { url, characters, note, isOpen } = parcel;
	const field = h("textarea", {
		id: "card-link",
		class: "link-field",
		readonly: true,
		rows: 3,
		spellcheck: "false",
		value: url,
		on: { focus: () => field.select() },
	});
	const long = note || `It has ${characters} characters; from about 2 000 on some messengers cut a link off.`;
	return [
		...cardWays(card, parcel, said, field),
		h(
			"div",
			{ class: "field" },
			h("label", { for: "card-link" }, "The link itself"),
			field,
			h(
				"div",
				{ class: "note" },
				"The whole card is in the link. Nothing is uploaded. Whoever has the link has the card.",
				characters > nearLimit ? ` ${long}` : null,
				isOpen ? null : " It can be pasted into any Pointsmith, at “Open a setup link”.",
			),
		),
		qrRoom(url),
	];
}

/** @param {string} url */
function qrRoom(url) {
	const room = h("div");
	if (new Blob([url]).size > longestQR)
		return h("p", { class: "note" }, "Too much for a QR code. Leave out the readings before, or send the page.");
	const draw = async () => {
		try {
			fill(
				room,
				qrFigure(
					await call("card.qr", { text: url }),
					"QR code of the setup link",
					"Point the other phone’s camera at it.",
				),
			);
		} catch (problem) {
			fill(room, trouble(/** @type {Problem} */ (problem)));
		}
	};
	return h(
		"details",
		{
			class: "qr-fold",
			on: {
				toggle: () => {
					if (!room.hasChildNodes()) draw();
				},
			},
		},
		h("summary", null, "As a QR code"),
		room,
	);
}
