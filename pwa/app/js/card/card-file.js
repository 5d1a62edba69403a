// A setup card as a file, for where a link is too long or a messenger cuts it.

import { call } from "../engine/client.js";

const format = "pointsmith setup card 1"; // part of files people keep: a new number means a new shape
const most = 300_000; // characters; the fullest card takes a tenth of it

/** @param {SetupCard} card */
export const cardFile = (card) => JSON.stringify({ format, card }, null, "\t");

/**
 * readCardFile checks a file as strictly as a link: by making a link of it and
 * opening that.
 * @param {string} text
 * @returns {Promise<{card: SetupCard, fragment: string}>} fails with a Problem
 */
export async function readCardFile(text) {
	if (text.length > most)
		throw refusal(
			"The file is too large for a setup card",
			`${most} characters`,
			"Ask the sender for the card again. A whole garage is brought in under “Keep it safe”.",
		);
	if (/^\s*<!doctype html/i.test(text)) return readCardPage(text);
	let data;
	try {
		data = JSON.parse(text);
	} catch {
		throw refusal(
			"The file is not whole, or no setup card",
			"a file that this app saved",
			"Ask the sender for it again: a part may be missing.",
		);
	}
	if (typeof data?.format === "string" && data.format.startsWith("pointsmith setup card ") && data.format !== format)
		throw refusal(
			"The file is of a newer version",
			format,
			"Update this app, or ask the sender for the figures on paper.",
		);
	if (data?.format !== format || typeof data.card !== "object" || data.card === null)
		throw refusal(
			"The file is no setup card",
			`"format": "${format}"`,
			"Choose a file that was saved from a setup card. A whole garage is brought in under “Keep it safe”.",
		);
	const { fragment } = await call("card.link", { card: data.card });
	const { card } = await call("card.open", { fragment });
	return { card, fragment };
}

/**
 * A card that came as a page of its own holds its link, or the code that is in one.
 * @param {string} text
 */
async function readCardPage(text) {
	const found = /#\/card\/([\w-]+)/.exec(text) ?? /class="fragment">([\w-]+)</.exec(text);
	if (!found)
		throw refusal(
			"The page holds no setup link",
			"a page that this app saved",
			"Ask the sender for the link, or for the figures on paper.",
		);
	const { card, fragment } = await call("card.open", { fragment: found[1] });
	return { card, fragment };
}

/** @param {string} title @param {string} limit @param {string} action @returns {Problem} */
const refusal = (title, limit, action) => ({ title, limit, do: action });
