// Keep it safe: how ten years of records outlive a phone. Where everything is
// now, and the few things that make it sure.

import { garage } from "../kept/garage.js";
import { hasServer } from "../kept/server.js";
import { button } from "../kit/field.js";
import { garageFile } from "./garage-file.js";
import { garageState } from "./garage-state.js";
import { notOffline } from "../kit/not-offline.js";
import { fill, h } from "../kit/dom.js";
import { foldRest } from "../kit/fold.js";
import { askToKeep, isInstalled, isKept } from "../kit/platform.js";

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	const [promise, state, file] = [await isKept(), await garageState(ctx.signal), await garageFile({ isNext: true })];
	if (ctx.signal.aborted) return;
	fill(
		root,
		h("h2", { class: "vh", id: "second-title" }, "A second place"),
		file,
		hasServer()
			? [
					h(
						"p",
						null,
						"Or let this phone sync with the garage’s server now and then. It takes everything by itself and makes daily copies.",
					),
					button("Pair this phone", "#/join"),
				]
			: null,
		h("h2", { id: "state-title" }, "Where everything is"),
		state,
		h("h2", null, "Install first, then enter"),
		notOffline(),
		h(
			"ol",
			{ class: "ways" },
			h(
				"li",
				null,
				isInstalled
					? "Done: this is the app on the home screen."
					: "Put the app on the home screen: in the browser’s menu, “Install” or “Add to home screen”. If the menu has neither, this browser installs no apps. It works in the browser too, but then keep a file elsewhere.",
			),
			h("li", null, "Open it from there, and enter your cars there."),
			h(
				"li",
				null,
				`On some phones, what you entered in the browser does not come along. Export it here and bring the file in there.`,
			),
		),
		isInstalled || garage.cars().length === 0
			? null
			: h(
					"p",
					{ class: "note" },
					`${garage.cars().length === 1 ? "One car is" : `${garage.cars().length} cars are`} in this store, at ${location.host || "this address"}.`,
				),
		h("h2", null, "Against being cleared"),
		promised(promise),
		h(
			"p",
			null,
			"A browser may clear what it keeps: when the phone is full, when the app is not used for weeks, or when someone clears the browsing data. An app on the home screen is safer. A file kept elsewhere is the safest.",
		),
		h(
			"p",
			null,
			"Each address has its own store. The same server under another name starts empty. To move: export here, open the other address, bring the file in.",
		),
	);
	foldRest(root, "keep-safe", ({ id }) => id !== "");
}

/** @param {boolean | null} promise */
function promised(promise) {
	const place = h("div");
	/** @param {boolean | null} now */
	const draw = (now) => {
		if (now === null)
			return fill(
				place,
				h("p", null, "This browser does not say whether it will keep the garage when space is short."),
			);
		if (now)
			return fill(place, h("p", null, "The browser has promised not to clear the garage when space is short."));
		fill(
			place,
			h(
				"p",
				null,
				"The browser has not promised to keep the garage when space is short. It decides by itself; installing the app and using it helps.",
			),
			button("Ask it to keep the garage", async () => {
				await askToKeep();
				draw(await isKept());
			}),
		);
	};
	draw(promise);
	return place;
}
