// A text or a picture offered as a file, the way every browser can take one.

import { h } from "./dom.js";

/**
 * offerFile hands a file to the browser's downloads.
 * @param {string} name @param {string | Blob} text @param {string} [type] of a text
 */
export function offerFile(name, text, type = "application/json") {
	const url = URL.createObjectURL(text instanceof Blob ? text : new Blob([text], { type }));
	h("a", { href: url, download: name }).click();
	setTimeout(() => URL.revokeObjectURL(url), 60_000);
}

/** fileName makes a name that every system takes. @param {string} text */
export function fileName(text) {
	return (
		text
			.normalize("NFKD")
			.replace(/[^A-Za-z0-9]+/g, "-")
			.replace(/^-+|-+$/g, "")
			.toLowerCase()
			.slice(0, 60) || "car"
	);
}
