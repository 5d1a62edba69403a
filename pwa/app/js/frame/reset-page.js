// Takes the app's files off the phone and fetches them afresh. Cars and
// readings are kept elsewhere (IndexedDB) and are not touched.

import { button, nextButton } from "../kit/field.js";
import { fill, h } from "../kit/dom.js";
import { forget } from "../kept/offline.js";
import { appURL } from "../kit/platform.js";

/** @param {HTMLElement} root */
export async function show(root) {
	const said = h("p", { role: "status" });
	fill(
		root,
		h(
			"p",
			null,
			"Is the app wrong since an update? Fetch its files again. Your cars and readings stay on this phone.",
		),
		h("p", null, "It looks first whether the server answers. If not, nothing is taken off."),
		button("Fetch the app’s files again", async () => {
			fill(said, "Looking whether the server answers…");
			try {
				const answer = await fetch(`${appURL("sw.js")}?look=${Date.now()}`, { cache: "no-store" });
				if (!answer.ok) throw new Error(String(answer.status));
			} catch {
				return fill(said, "The server does not answer, so nothing was taken off. Try again when it does.");
			}
			await forget();
			location.replace(appURL(""));
		}),
		said,
		nextButton("Back to the garage", "#/"),
	);
}
