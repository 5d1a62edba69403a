// The whole garage as a file: exported, and brought in.

import { makeBackup, readBackup } from "../kept/backup.js";
import { filePhotos, photosToSend } from "../kept/photos/photo-file.js";
import { noteExport } from "../kept/second-place.js";
import { takeIn } from "../kept/take-in.js";
import { fill, h } from "../kit/dom.js";
import { trouble } from "../kit/caution.js";
import { button, nextButton } from "../kit/field.js";
import { offerFile } from "../kit/file-offer.js";
import { mark } from "../kit/mark.js";
import { megabytes, photoCount } from "../record/photos/visit-photos.js";

let count = 0;

/**
 * garageFile gives the two buttons, and a tick for the photos where there are some.
 * @param {{isNext?: boolean}} [how] isNext: exporting is the thing to do next on this page
 */
export async function garageFile({ isNext = false } = {}) {
	const id = `restore-file${++count}`;
	const tick = photoTick(id, await photosToSend().catch(() => null));
	const said = h("div", { "aria-live": "polite" });
	const file = h("input", {
		type: "file",
		id,
		accept: "application/json,.json",
		class: "file-input",
		on: { change: () => restore(file, said) },
	});
	const send = () => download(said, tick?.box.checked === true);
	return [
		h(
			"p",
			null,
			"One file with every car, the removed ones too. Keep it somewhere other than this phone. A browser may clear what it keeps.",
		),
		tick?.element ?? null,
		isNext ? nextButton("Export the garage to a file", send) : button("Export the garage to a file", send),
		h("label", { class: "button", for: id }, "Bring a file in"),
		file,
		h(
			"p",
			{ class: "note" },
			"Bringing in adds. It removes nothing. If both changed the same thing, the later change stands and the other waits for your choice.",
		),
		said,
	];
}

/** @param {string} id @param {Awaited<ReturnType<typeof photosToSend>> | null} found */
function photoTick(id, found) {
	if (!found?.ids.length) return null;
	const box = h("input", { type: "checkbox", id: `${id}-photos` });
	const what = `With ${found.left ? "the newest " : ""}${photoCount(found.ids.length)}, ${megabytes(found.bytes)}`;
	const label = h("label", { for: box.id }, mark("done"), h("span", null, what));
	return { box, element: h("div", { class: "option photo-tick" }, box, label) };
}

/** @param {HTMLElement} said @param {boolean} withPhotos */
async function download(said, withPhotos) {
	const { ids, left } = await photosToSend().catch(() => ({ ids: [], left: 0 }));
	const photos = withPhotos ? await filePhotos(ids) : [];
	const out = left + ids.length - photos.length;
	offerFile(
		`garage-${new Date().toISOString().slice(0, 10)}.json`,
		makeBackup({ photos, left: out }),
		"application/json",
	);
	noteExport();
	fill(said, h("p", null, "Exported. Look among the downloads.", out ? ` ${photoCount(out)} not in it.` : null));
}

/** @param {HTMLInputElement} input @param {HTMLElement} said */
async function restore(input, said) {
	const [file] = input.files ?? [];
	if (!file) return;
	const read = readBackup(await file.text());
	input.value = "";
	if (read.problem) return fill(said, trouble(read.problem));
	try {
		fill(said, tookIn(await takeIn(read), read.leftOut ?? 0));
	} catch (error) {
		fill(
			said,
			trouble({
				title: "Not all could be saved",
				detail: String(/** @type {any} */ (error)?.message ?? error),
				do: "Free some room on the phone and bring the file in again.",
			}),
		);
	}
}

/** What came of it, in words. @param {import("../kept/take-in.js").TakenIn} sum @param {number} leftOut photos */
function tookIn({ added, united, removed, left, copies, photos }, leftOut) {
	const lines = [
		added
			? `${many(added, "document")} ${added === 1 ? "was" : "were"} not here and ${added === 1 ? "is" : "are"} now.`
			: "",
		united ? `${many(united, "document")} here got something new.` : "",
		removed
			? `${many(removed, "document")} came as removed; ${removed === 1 ? "it" : "each"} can be brought back if anything is in it.`
			: "",
		left
			? `${many(left, "document")} ${left === 1 ? "is" : "are"} removed in the file and left here as ${left === 1 ? "it is" : "they are"}.`
			: "",
		photos ? `${many(photos, "photo")} came along.` : "",
	].filter((line) => line);
	const waits = copies
		? h(
				"p",
				{ class: "boxed" },
				mark("watch"),
				" ",
				h(
					"strong",
					null,
					`${copies === 1 ? "1 thing has" : `${copies} things have`} two versions. Choose one.`,
				),
				" The same thing was changed here and there. ",
				h("a", { href: "#/kept" }, "Look at both"),
			)
		: null;
	return [
		h(
			"p",
			null,
			lines.length
				? lines.join(" ")
				: copies
					? "Nothing else in the file is new."
					: "The file holds nothing that is not here already.",
		),
		leftOut
			? h("p", { class: "note" }, `${many(leftOut, "photo")} ${leftOut === 1 ? "is" : "are"} not in the file.`)
			: null,
		waits,
	];
}

/** @param {number} n @param {string} what */
const many = (n, what) => `${n} ${what}${n === 1 ? "" : "s"}`;
