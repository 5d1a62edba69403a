// A phone joins the garage of a server with the key the server printed.

import { join, syncState } from "../data/sync.js";
import { trouble } from "../elements/caution.js";
import { nextButton } from "../elements/field.js";
import { fill, h } from "../lib/dom.js";

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	const { key } = ctx.params;
	history.replaceState(history.state, "", "#/join/kept"); // the key does not stay in the address
	if (key === "kept") return fill(root, h("p", null, "The key is kept on this phone."), nextButton("To the garage", "#/"));
	fill(root, h("p", null, "Meeting the server…"));
	join(key).then((hasMet) => {
		const { trouble: refusal } = syncState();
		if (hasMet) return fill(root, h("p", { class: "lead" }, "This phone shares the garage now. What is typed here goes to the server whenever it answers."), nextButton("To the garage", "#/"));
		fill(root, refusal ? trouble({ ...refusal, do: refusal.do ?? "Start the server again and use the join address it prints." }) : h("p", null, "The key is kept. The server does not answer just now; it will be tried again by itself."), nextButton("To the garage", "#/"));
	});
}
