// What is sent of a setup card: the link, the card as a page of its own, the
// text for a message. Where links begin decides whether a link goes along.

import { call } from "../engine/client.js";
import { hasServer } from "../kept/server.js";
import { cardRows } from "./card-rows.js";
import { address } from "../kit/address.js";
import { fileName } from "../kit/file-offer.js";
import { appURL, isOnlyHere } from "../kit/platform.js";
import { linkStart } from "../kit/settings.js";
import { inEnglish } from "../kit/words.js";

/**
 * @typedef {object} Parcel
 * @property {string} title
 * @property {string} url the link; "" where the card is too much for one
 * @property {boolean} isOpen whether others can follow the link: it begins where the app stands for them
 * @property {number} characters of the link's fragment
 * @property {string} note what card.link says of its length
 * @property {string} page the card as a page of its own
 * @property {string} pageName of the page as a file
 * @property {string} text for a message
 */

/**
 * Where links begin: as it was said in the settings; else where this app was loaded from, which others reach when it is
 * a plain web host and no server in the garage.
 * @returns {{start: string, isOpen: boolean}}
 */
export function linksBeginAt() {
	const said = linkStart();
	return said ? { start: said, isOpen: true } : { start: appURL(""), isOpen: !hasServer() && !isOnlyHere };
}

/**
 * parcelOf makes all of it.
 * @param {SetupCard} card @returns {Promise<Parcel>} fails with a Problem of card.link
 */
export async function parcelOf(card) {
	const { start, isOpen } = linksBeginAt();
	const [{ fragment, characters, note }, { page, text }] = await Promise.all([
		call("card.link", { card }),
		pageOf(card, isOpen ? start : ""),
	]);
	return {
		title: titleOf(card),
		url: start + address("card", fragment),
		isOpen,
		characters,
		note: note ?? "",
		page,
		pageName: pageName(card),
		text,
	};
}

/**
 * pageOf writes the card as a page of its own, in the words of the sheet on the screen.
 * @param {SetupCard} card @param {string} start where links begin; "" for a page without one
 * @returns {Promise<{page: string, text: string}>}
 */
export const pageOf = (card, start) =>
	call("card.page", {
		card,
		lines: cardRows(card).map(({ group, label, text, note }) => ({
			group: inEnglish(group),
			label: inEnglish(label),
			text: text.slice(0, 400),
			note: note.slice(0, 400),
		})),
		...(start ? { address: start } : {}),
	});

/** @param {SetupCard} card */
const titleOf = (card) => `Setup card: ${card.car.name}`;

/** @param {SetupCard} card */
export const pageName = (card) => `${fileName(card.car.name)}-card.html`;

/**
 * whatGoes lists it before it goes, a line each.
 * @param {SetupCard} card @param {Parcel} parcel
 */
export function whatGoes(card, { isOpen, page, pageName: name, text }) {
	const kilobytes = Math.max(1, Math.round(new Blob([page]).size / 1000));
	return [
		isOpen ? "The link: it opens the card in the app." : "",
		`The page ${name}, ${kilobytes} kB: it opens on any phone and prints on one sheet.`,
		`The text: ${text.trim().split("\n").filter(Boolean).length} lines for a message.`,
		`On all of them: ${onTheCard(card)}.`,
	].filter(Boolean);
}

/** @param {SetupCard} card */
function onTheCard(card) {
	const known = cardRows(card).filter(({ text }) => text).length;
	const [sets, work] = [card.curves?.length ?? 0, card.work?.length ?? 0];
	return [
		"the name",
		`${known} line${known === 1 ? "" : "s"}`,
		card.spec ? "the book’s table" : "",
		sets ? `${sets} set${sets === 1 ? "" : "s"} of readings` : "",
		work ? `${work} change${work === 1 ? "" : "s"}` : "",
		card.setBy || card.checkedBy ? "who set it" : "",
		card.car.facts?.owner ? "the owner" : "",
		card.car.facts?.story ? "the story" : "",
	]
		.filter(Boolean)
		.join(", ");
}
