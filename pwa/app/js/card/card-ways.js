// The buttons by which a card leaves the phone. What others can open comes
// first: the share sheet where it takes files, else the link where links begin
// somewhere others reach, else the page as a file.

import { whatGoes } from "./card-parcel.js";
import { h, fill } from "../kit/dom.js";
import { button, nextButton } from "../kit/field.js";
import { offerFile } from "../kit/file-offer.js";
import { canShare, canShareFiles, copy, share } from "../kit/platform.js";

/** @typedef {import("./card-parcel.js").Parcel} Parcel */

/**
 * cardWays gives what goes, and the buttons.
 * @param {SetupCard} card @param {Parcel} parcel @param {HTMLElement} said where what happened is told
 * @param {HTMLTextAreaElement} field holds the link, to copy by hand
 */
export function cardWays(card, parcel, said, field) {
	const [first, ...rest] = ways(parcel, said, field);
	return [
		h("h3", null, "What goes"),
		h(
			"ul",
			{ class: "card-goes" },
			whatGoes(card, parcel).map((line) => h("li", null, line)),
		),
		parcel.isOpen ? null : whyNoLink(),
		nextButton(first.label, first.does),
		...rest.map(({ label, does }) => button(label, does)),
	];
}

const whyNoLink = () =>
	h(
		"p",
		{ class: "note" },
		"The page goes first: links begin with this machine’s address, which others cannot open. ",
		h("a", { href: "#/settings" }, "Say another in the settings"),
		".",
	);

/**
 * @param {Parcel} parcel @param {HTMLElement} said @param {HTMLTextAreaElement} field
 * @returns {{label: string, does: () => void}[]} the first is the one to take
 */
function ways(parcel, said, field) {
	const { title, url, isOpen, page, pageName, text } = parcel;
	const link = { label: "Copy the setup link", does: () => copyLink(url, field, said) };
	const file = {
		label: "Save the page as a file",
		does: () => {
			offerFile(pageName, page, "text/html");
			fill(said, "Saved. Look among the downloads.");
		},
	};
	const words = {
		label: "Copy the text",
		does: async () => {
			fill(
				said,
				(await copy(text)) ? "Copied. Paste it into a message." : "This page may not use the clipboard here.",
			);
		},
	};
	const hand = (/** @type {string} */ label, /** @type {object} */ what) => ({
		label,
		does: () => {
			share({ title, ...what }).then(
				(done) => fill(said, done ? "Handed over." : ""),
				() => fill(said, "The share sheet did not open. Take one of the ways below."),
			);
		},
	});
	if (canShareFiles(pageName)) {
		const files = [new File([page], pageName, { type: "text/html" })];
		const all = hand(isOpen ? "Share link, page and text" : "Share page and text", {
			text,
			files,
			...(isOpen ? { url } : {}),
		});
		return isOpen ? [all, link, file, words] : [all, file, words, link];
	}
	if (!isOpen) return [file, words, link];
	return [...(canShare() ? [hand("Share the setup link", { text: title, url })] : []), link, file, words];
}

/** @param {string} url @param {HTMLTextAreaElement} field @param {HTMLElement} said */
async function copyLink(url, field, said) {
	field.select();
	const isCopied = await copy(url);
	fill(
		said,
		isCopied
			? "Copied. Paste it into a message."
			: "This page may not use the clipboard. The link is selected below: copy it by hand.",
	);
	if (!isCopied && document.activeElement !== field) field.focus();
}
