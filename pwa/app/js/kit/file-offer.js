// A text offered as a file, the way every browser can take one.

import { h } from "./dom.js";

/**
 * offerFile hands a file to the browser's downloads.
 * @param {string} name @param {string} text @param {"application/json" | "text/html"} type
 */
export function offerFile(name, text, type) {
	const url = URL.createObjectURL(new Blob([text], { type }));
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
