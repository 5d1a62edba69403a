// Figures that another app has handed over: for which car or distributor they
// are. The service worker has kept them (sw.js); here they become the draft of
// that car's page.

import { tooLarge } from "./source-box.js";
import { garage } from "../kept/garage.js";
import { figuresDraft, newDraft } from "../kept/figures-draft.js";
import { address } from "../kit/address.js";
import { trouble } from "../kit/caution.js";
import { fill, h } from "../kit/dom.js";
import { button, nextButton } from "../kit/field.js";
import { appURL } from "../kit/platform.js";
import { told } from "../kit/told.js";

const [place, key] = ["shared", "shared-figures"]; // as sw.js has them

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	const { text, name, isTooLarge } = await waiting();
	if (isTooLarge) return fill(root, trouble(tooLarge));
	if (!text)
		return fill(
			root,
			trouble({
				title: "Nothing came in",
				do: "Open a car, and there “Figures in and out”. Choose the file there, or paste it.",
			}),
			nextButton("To the garage", "#/"),
		);
	const all = [...garage.cars(), ...garage.units()];
	fill(
		root,
		h("p", { class: "lead" }, name ? told(name) : "A table", " has come in. For which one is it?"),
		all.length ? null : h("p", null, "Add a car first. The table waits here."),
		all.map(({ id, body }) =>
			button(told(body.name || "no name"), async () => {
				await figuresDraft.put(id, newDraft({ text, name }));
				await forget();
				ctx.go(address("car", id, "figures"));
			}),
		),
		all.length ? null : button("To the garage", "#/"),
	);
}

/** What the worker has kept. */
async function waiting() {
	const none = { text: "", name: "", isTooLarge: false };
	if (!("caches" in globalThis)) return none;
	const cache = await caches.open(place);
	const kept = await cache.match(appURL(key)).catch(() => undefined);
	if (!kept) return none;
	return {
		text: await kept.text(),
		name: decodeURIComponent(kept.headers.get("X-Name") ?? ""),
		isTooLarge: kept.headers.get("X-Too-Large") === "yes",
	};
}

const forget = async () => {
	await (await caches.open(place)).delete(appURL(key));
};
