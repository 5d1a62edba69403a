// The whole garage as a file: exported, and brought in.

import { makeBackup, readBackup, takeIn } from "../data/backup.js";
import { noteExport } from "../data/safety.js";
import { fill, h } from "../lib/dom.js";
import { trouble } from "./caution.js";
import { button, nextButton } from "./field.js";
import { offerFile } from "./file-offer.js";

let count = 0;

/** garageFile gives the two buttons. @param {{isNext?: boolean}} [how] isNext: exporting is the thing to do next on this page */
export function garageFile({ isNext = false } = {}) {
	const id = `restore-file${++count}`;
	const said = h("div", { "aria-live": "polite" });
	const file = h("input", { type: "file", id, accept: "application/json,.json", class: "file-input", on: { change: () => restore(file, said) } });
	const send = () => download(said);
	return [
		h("p", null, "One file with every car, the removed ones too. Keep it somewhere else than on this phone: a browser may clear what it keeps."),
		isNext ? nextButton("Export the garage to a file", send) : button("Export the garage to a file", send),
		h("label", { class: "button", for: id }, "Bring a file in"), file,
		h("p", { class: "note" }, "Bringing in adds. The later change of a car stands; readings are never dropped."), said,
	];
}

/** @param {HTMLElement} said */
function download(said) {
	offerFile(`garage-${new Date().toISOString().slice(0, 10)}.json`, makeBackup());
	noteExport();
	fill(said, h("p", null, "Exported. Look among the downloads."));
}

/** @param {HTMLInputElement} input @param {HTMLElement} said */
async function restore(input, said) {
	const [file] = input.files ?? [];
	if (!file) return;
	const { documents, problem } = readBackup(await file.text());
	input.value = "";
	if (problem) return fill(said, trouble(problem));
	try {
		const taken = await takeIn(documents);
		fill(said, h("p", null, taken ? `${taken} of ${documents.length} documents brought something new.` : "The file holds nothing that is not here already."));
	} catch (error) {
		fill(said, trouble({ title: "Not all could be saved", detail: String(/** @type {any} */ (error)?.message ?? error), do: "Free some room on the phone and bring the file in again." }));
	}
}
