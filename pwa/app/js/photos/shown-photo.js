// One picture in its frame. The frame has its place from the beginning, and
// says so while the picture is not on this phone.

import { photo } from "../kept/photos/photos.js";
import { h } from "../kit/dom.js";

/**
 * shownPhoto gives the frame, and draw, which puts the picture in once it is here and says whether it is.
 * @param {{id: string, name: string, isLarge?: boolean, signal: AbortSignal}} options
 */
export function shownPhoto({ id, name, isLarge = false, signal }) {
	const away = h("span", { class: "photo-away note" }, "Not here yet");
	const element = h("span", { class: `photo-frame${isLarge ? " is-large" : ""}` }, away);
	let isDrawn = false;
	const draw = async () => {
		if (isDrawn) return true;
		const blob = await photo(id).catch(() => null);
		if (!blob || signal.aborted || isDrawn) return isDrawn;
		isDrawn = true;
		const address = URL.createObjectURL(blob);
		signal.addEventListener("abort", () => URL.revokeObjectURL(address));
		const image = h("img", { alt: name, src: address });
		image.addEventListener("error", () => {
			away.textContent = "This picture cannot be shown";
			image.replaceWith(away);
		});
		away.replaceWith(image);
		return true;
	};
	return { element, draw };
}
