// The ways a setup card leaves the phone: share sheet, copy, a field to copy
// from by hand, a QR code, a file.

import { call } from "../engine/client.js";
import { cardFile } from "./card-file.js";
import { fill, h } from "../kit/dom.js";
import { fold } from "../kit/fold.js";
import { address } from "../kit/address.js";
import { appURL, canShare, copy, isOnlyHere, share } from "../kit/platform.js";
import { trouble } from "../kit/caution.js";
import { button, nextButton } from "../kit/field.js";
import { fileName, offerFile } from "../kit/file-offer.js";
import { qrFigure } from "../kit/qr.js";

// characters of the fragment; from here on its length is said. card.link's own note begins at 1500
const nearLimit = 1300;
const longestQR = 2953; // bytes in the largest symbol (ISO/IEC 18004)

/**
 * cardSend makes the section. show(card) fills it for a card; until then, and after wait(), nothing can be sent.
 * @param {(url: string) => void} onLink told of every link made
 */
export function cardSend(onLink) {
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
		element: fold("card/send", { title: "Send this card", id: "send-title", class: "card-send" }, said, room),
		/** @param {SetupCard} card */
		async show(card) {
			const mine = wait();
			const now = JSON.stringify(card);
			if (now === shown) {
				room.inert = false;
				return;
			}
			try {
				const { fragment, characters, note } = await call("card.link", { card });
				if (mine !== turn) return;
				[room.inert, shown] = [false, now];
				fill(room, ways(card, { fragment, characters, note }, said));
				onLink(appURL(address("card", fragment)));
			} catch (problem) {
				if (mine !== turn) return;
				[room.inert, shown] = [false, ""];
				fill(
					room,
					trouble(
						refused(/** @type {Problem} */ (problem)),
						button("Save as a file all the same", () =>
							offerFile(`${fileName(card.car.name)}-card.json`, cardFile(card)),
						),
					),
				);
			}
		},
	};
}

/** @param {Problem} problem @returns {Problem} */
function refused(problem) {
	return {
		...problem,
		title: "This card does not go into a link yet",
		detail: [problem.field?.replace(/^card\./, ""), problem.detail ?? problem.title].filter(Boolean).join(": "),
	};
}

/**
 * @param {SetupCard} card
 * @param {{fragment: string, characters: number, note?: string}} link
 * @param {HTMLElement} said
 */
function ways(card, { fragment, characters, note }, said) {
	const url = appURL(address("card", fragment));
	const title = `Setup card: ${card.car.name}`;
	const field = h("textarea", {
		id: "card-link",
		class: "link-field",
		readonly: true,
		rows: 3,
		spellcheck: "false",
		value: url,
		on: { focus: () => field.select() },
	});
	const copyIt = async () => {
		field.select();
		fill(
			said,
			(await copy(url))
				? "Copied. Paste it into a message."
				: "This page may not use the clipboard. The link is selected below: copy it by hand.",
		);
		if (document.activeElement !== field && said.textContent?.startsWith("This")) field.focus();
	};
	const shareIt = () =>
		share({ title, text: title, url }).then(
			(done) => fill(said, done ? "Handed over." : ""),
			() => fill(said, "The share sheet did not open. Copy the link instead."),
		);
	return [
		canShare
			? [nextButton("Share the setup link", shareIt), button("Copy the setup link", copyIt)]
			: [
					nextButton("Copy the setup link", copyIt),
					h(
						"p",
						{ class: "note" },
						"This browser opens no share sheet here: copy the link and paste it into a message.",
					),
				],
		h(
			"div",
			{ class: "field" },
			h("label", { for: "card-link" }, "The link itself"),
			field,
			h(
				"div",
				{ class: "note" },
				"The whole card is in the link. Nothing is uploaded. Whoever has the link has the card.",
				characters > nearLimit
					? ` ${note ?? `It has ${characters} characters; from about 2 000 on some messengers cut a link off.`}`
					: null,
			),
		),
		isOnlyHere
			? h(
					"p",
					{ class: "note" },
					"The link begins with the address of this machine, which others cannot open. Your friend can paste it into their own Pointsmith, at “Open a setup link”.",
				)
			: null,
		qrRoom(url),
		button("Save as a file", () => {
			offerFile(`${fileName(card.car.name)}-card.json`, cardFile(card));
			fill(said, "Saved. Look among the downloads.");
		}),
	];
}

/** @param {string} url */
function qrRoom(url) {
	const room = h("div");
	if (new Blob([url]).size > longestQR)
		return h("p", { class: "note" }, "Too much for a QR code. Leave out the readings before, or send the file.");
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
