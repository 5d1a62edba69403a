// The way out: the book's table and every run as CSV, the car as a file.

import { readingsOut, specOut } from "./out.js";
import { call } from "../engine/client.js";
import { makeCarFile } from "../kept/backup.js";
import { garage } from "../kept/garage.js";
import { runsOf, runTitle } from "../record/runs.js";
import { complete, emptySheet } from "../record/sheet.js";
import { address } from "../kit/address.js";
import { fill, h } from "../kit/dom.js";
import { button, problemLine } from "../kit/field.js";
import { fileName, offerFile } from "../kit/file-offer.js";
import { fold } from "../kit/fold.js";
import { filledRows } from "./put-in.js";

/** @param {PageContext} ctx */
export function outSection(ctx) {
	const car = /** @type {Doc<Car>} */ (ctx.car);
	const said = h("div", { "aria-live": "polite" });
	const name = car.body.name;
	const sheet = ctx.distributor?.body.sheet ?? emptySheet();
	const runs = runsOf(ctx.visits)
		.filter(({ set }) => complete(set).length > 0)
		.reverse();
	const rows = filledRows(sheet);
	return fold(
		"figures/out",
		{ title: "Pass figures on", answer: "as CSV (a table) or as a file" },
		rows
			? button(`The book’s table as CSV (${rows} row${rows === 1 ? "" : "s"})`, () =>
					csv(`${name} book`, specOut(sheet), said),
				)
			: h("p", { class: "note" }, "The book’s table has no rows yet."),
		rows ? h("p", { class: "note" }, "The CSV holds the rows. Base timing stays in the file of the car.") : null,
		button(car.isUnit ? "This distributor as a file" : "This car as a file", () => {
			offerFile(`${fileName(name)}.json`, makeCarFile(car.id));
			fill(said, exported());
		}),
		h("p", { class: "note" }, "“Keep it safe” takes the file in on another phone. The owner’s name is in it."),
		said,
		runs.length
			? fold(
					"figures/runs",
					{
						title: "Readings as CSV",
						level: "h3",
						answer: `${runs.length} run${runs.length === 1 ? "" : "s"}`,
					},
					runs.map((run) =>
						button(runTitle(run), () => csv(`${name} ${runTitle(run)}`, readingsOut(run.set), said)),
					),
				)
			: h("p", { class: "note" }, "Nothing is read yet."),
		button("The library of curves", address("library", car.id)),
	);
}

const exported = () => h("p", { class: "ok-line" }, "Exported. Look among the downloads.");

/**
 * @param {string} name @param {{input: object | null, problem: Problem | FieldProblem | null}} out
 * @param {HTMLElement} said
 */
async function csv(name, { input, problem }, said) {
	if (!input) return fill(said, problemLine(/** @type {Problem} */ (problem)));
	try {
		const answer = await call("figures.write", input);
		offerFile(`${fileName(name)}.csv`, answer.text, answer.fileType);
		fill(
			said,
			exported(),
			answer.notes.map((/** @type {{text: string}} */ { text }) => h("p", { class: "note" }, text)),
		);
	} catch (refusal) {
		fill(said, problemLine(/** @type {Problem} */ (refusal)));
	}
}

/** Whether there is a distributor to put a table in. @param {PageContext} ctx */
export const bookId = (ctx) => ctx.distributor?.id ?? garage.get("car", ctx.params.car)?.body.distributorId ?? "";
