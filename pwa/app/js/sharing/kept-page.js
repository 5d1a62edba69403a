// Kept copies: what was set aside, by the server or when a file was brought in,
// because two people changed the same thing without knowing of each other. A
// list, both versions side by side, and the choice.

import { documentName, documentRows } from "./document-rows.js";
import { sideBySide } from "../card/card-differences.js";
import { garage } from "../kept/garage.js";
import { choicesWaiting, choose, copyKey, hasMoved, keptCopies, onKept } from "../kept/copies.js";
import { hasServer } from "../kept/server.js";
import { onSync, syncNow, syncState } from "../kept/sync.js";
import { trouble } from "../kit/caution.js";
import { button, nextButton } from "../kit/field.js";
import { mark } from "../kit/mark.js";
import { sideBySideTable } from "../card/side-by-side.js";
import { clock } from "./save-state.js";
import { fill, h } from "../kit/dom.js";
import { address } from "../kit/address.js";
import { told } from "../kit/told.js";

/** @typedef {import("../kept/copies.js").Copy} Copy */

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	const { kind, id, revision } = ctx.params;
	if (revision) return drawOne(root, ctx, `${kind}/${id}/${revision}`);
	const draw = () => drawList(root);
	draw();
	for (const off of [onKept(draw), garage.on("change", draw)]) ctx.signal.addEventListener("abort", off);
}

/** @param {HTMLElement} root */
function drawList(root) {
	const copies = keptCopies();
	const waiting = choicesWaiting();
	fill(
		root,
		h(
			"p",
			null,
			"Changed on two phones, or by a file. Open it: you see both, then you choose. Until then the later one stands.",
		),
		waiting
			? h(
					"p",
					{ role: "status" },
					mark("done"),
					` ${waiting} choice${waiting === 1 ? " is" : "s are"} made on this phone and will reach the server when it answers.`,
				)
			: null,
		copies.length
			? h(
					"ul",
					{ class: "ruled", role: "list" },
					copies.map((copy) => h("li", null, item(copy))),
				)
			: h("p", { class: "lead" }, "Nothing has two versions."),
	);
}

/** @param {Copy} copy */
function item(copy) {
	return h(
		"a",
		{ class: "kept-item", href: address("kept", copy.kind, copy.id, copy.revision) },
		h("strong", null, told(nameNow(copy))),
		h("span", { class: "note" }, whence(copy)),
		hasMoved(copy)
			? h("span", { class: "note" }, mark("watch"), " It has been changed since you chose. Look again.")
			: null,
		mark("next"),
	);
}

/** By the name that stands; a removed one by the copy's. @param {Copy} copy */
const nameNow = (copy) => {
	const now = garage.get(copy.kind, copy.id);
	const own = documentName(copy.kind, copy.id, copy.body);
	const stands = now && !now.deleted ? documentName(copy.kind, copy.id, now.body) : own;
	return stands === own ? own : `${stands}, as “${own}”`;
};

/** From whom and why. @param {Copy} copy */
function whence(copy) {
	const isFile = /^a file\b/.test(copy.device);
	return [
		"The other was ",
		copy.device ? [isFile ? "in " : "typed on ", told(copy.device)] : "typed on another phone",
		`, ${clock(new Date(copy.changedAt))}. `,
		copy.why === "removed in the file"
			? "It was removed there."
			: !copy.why.includes("deleted")
				? "What stands now is later."
				: copy.isOwn
					? "It had been removed here."
					: "Somebody else had removed it without seeing this.",
	];
}

/**
 * A copy that is not here may only not have been heard of yet: the server has it.
 * @param {HTMLElement} root @param {PageContext} ctx @param {string} key
 */
function drawMissing(root, ctx, key) {
	const isDue = hasServer() && syncState().rounds === 0;
	fill(
		root,
		h(
			"p",
			{ class: "lead", "aria-busy": isDue ? "true" : null },
			isDue ? "Looking for this copy on the server …" : "This is settled: someone has chosen.",
		),
		nextButton("To the list", "#/kept"),
	);
	if (!isDue) return;
	const off = onSync(() => {
		off();
		if (!ctx.signal.aborted) drawOne(root, ctx, key);
	});
	ctx.signal.addEventListener("abort", off);
}

/** @param {HTMLElement} root @param {PageContext} ctx @param {string} key */
function drawOne(root, ctx, key) {
	const copy = keptCopies().find((one) => copyKey(one) === key);
	if (!copy) return drawMissing(root, ctx, key);
	const now = garage.get(copy.kind, copy.id);
	const said = h("div", { "aria-live": "polite" });
	/** @param {import("../kept/copies.js").Take} take */
	const take = async (take) => {
		try {
			await choose(copy, take);
			syncNow();
			ctx.go("#/kept");
		} catch (problem) {
			fill(
				said,
				trouble(
					/** @type {any} */ (problem)?.title
						? /** @type {any} */ (problem)
						: {
								title: "The phone has no room to keep this choice",
								do: "Free some room and choose again.",
							},
				),
			);
		}
	};
	const rows = sideBySide(
		documentRows(copy.kind, now?.deleted ? null : now?.body),
		documentRows(copy.kind, copy.body),
	);
	fill(
		root,
		h("p", { class: "lead" }, told(nameNow(copy))),
		h("p", null, whence(copy)),
		now?.deleted ? h("p", null, mark("remove"), " Removed now. The other version brings it back.") : null,
		garage.isWaiting(copy.kind, copy.id) && !copy.isOwn
			? h(
					"p",
					{ class: "note" },
					"What stands now was just changed on this phone and is not on the server yet. You may have to choose again.",
				)
			: null,
		nextButton("Keep what stands now", () => take("current")),
		button("Take the other version", () => take("kept")),
		button("Keep both, each on its own", () => take("both")),
		said,
		h("p", { class: "note" }, "Readings and facts that only one of them has are kept in any case."),
		sideBySideTable(rows, { mine: "stands now", theirs: "the other", title: "Where they differ" }),
		h(
			"p",
			{ class: "note" },
			copy.isOwn
				? "This copy is on this phone alone; the choice is carried out at once."
				: "This works with the server switched off: the choice is sent when it answers.",
		),
	);
}
