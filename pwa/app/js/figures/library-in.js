// A library that comes in as a file, and the one that goes out.

import { bodyOf, compare, curveOf, idOf, libraryFile, readLibrary, typeOf } from "./library.js";
import { longest } from "../../made/shapes.js";
import { drafts } from "../kept/drafts.js";
import { garage } from "../kept/garage.js";
import { oneAtATime } from "./one-at-a-time.js";
import { fill, h } from "../kit/dom.js";
import { button, nextButton, problemLine, textField } from "../kit/field.js";
import { offerFile } from "../kit/file-offer.js";
import { told } from "../kit/told.js";
import { offerUndo } from "../kit/undo-bar.js";

/** @typedef {import("./library.js").Curve} Curve */

/** tablesHere lists the tables of the library. @returns {Curve[]} */
export const tablesHere = () =>
	garage
		.library()
		.map(({ body }) => curveOf(body))
		.filter((curve) => curve !== null);

/** takeInBox is the button that takes a file in, and what it brings. */
export function takeInBox() {
	const said = h("div", { "aria-live": "polite" });
	const file = h("input", {
		type: "file",
		id: "library-file",
		accept: "application/json,.json",
		class: "file-input",
		on: {
			change: async () => {
				const [chosen] = file.files ?? [];
				if (!chosen) return;
				const { curves, problem } = readLibrary(await chosen.text());
				const name = chosen.name;
				file.value = "";
				if (!curves) return fill(said, problemLine(problem));
				fill(said, brought(curves, name, said));
			},
		},
	});
	return h(
		"div",
		null,
		h("label", { class: "button", for: "library-file" }, "Bring a library in"),
		file,
		h("p", { class: "note" }, "It is compared first. Nothing here is overwritten."),
		said,
	);
}

/** @param {Curve[]} curves @param {string} name of the file @param {HTMLElement} said */
function brought(curves, name, said) {
	const here = tablesHere();
	const { fresh, same, differ } = compare(curves, here);
	const coming = [...fresh, ...differ];
	return [
		h(
			"p",
			{ role: "status" },
			`${fresh.length} new, ${same.length} the same, ${differ.length} of a type that has other figures here.`,
		),
		differ.length
			? h(
					"ul",
					{ class: "ruled", role: "list" },
					differ.map((curve) =>
						h(
							"li",
							null,
							h("strong", null, told(curve.typeNumber || curve.name)),
							": in the file ",
							told(whence(curve)),
							"; here ",
							told(
								[...here, ...fresh]
									.filter((one) => typeOf(one) === typeOf(curve))
									.map(whence)
									.join("; "),
							),
							". Both are kept.",
						),
					),
				)
			: null,
		coming.length
			? nextButton(
					`Put ${coming.length} in the library`,
					oneAtATime(() => putIn(coming, name, said)),
				)
			: h("p", { class: "ok-line" }, "All of it is here already. Nothing changes."),
	];
}

/** whence says where a table comes from. @param {Curve} curve */
export const whence = ({ source, givenBy }) =>
	[source, givenBy ? `given by ${givenBy}` : ""].filter(Boolean).join(", ") || "no source said";

/** @param {Curve[]} coming @param {string} file @param {HTMLElement} said */
async function putIn(coming, file, said) {
	const ids = coming.map(idOf);
	try {
		for (const curve of coming) {
			const isNameless = !curve.source && !curve.givenBy;
			const from = isNameless ? `the file ${file}`.slice(0, longest["distributor.givenBy"]) : curve.givenBy;
			await garage.put("distributor", idOf(curve), bodyOf({ ...curve, givenBy: from }));
		}
	} catch {
		return fill(
			said,
			problemLine({
				title: "The phone has no room for all of it",
				limit: "some free storage",
				do: "Free some room and take the file in again. What is here already is passed over.",
			}),
		);
	}
	fill(
		said,
		h("p", { class: "ok-line" }, `${coming.length} table${coming.length === 1 ? " is" : "s are"} in the library.`),
	);
	offerUndo("The library has grown.", async () => {
		for (const id of ids) await garage.remove("distributor", id);
		fill(said);
	});
}

const giverKey = "library/giver";

/** giveOutBox exports the books of the garage and the library. */
export async function giveOutBox() {
	let giver = String((await drafts.get(giverKey).catch(() => "")) ?? "");
	const said = h("div", { "aria-live": "polite" });
	const give = () => {
		const file = libraryFile(books(), giver.trim());
		if (file.count === 0)
			return fill(
				said,
				problemLine({
					title: "No book has a table yet",
					limit: "one table with a name or a type number",
					do: "Type a book’s table first.",
				}),
			);
		offerFile(`curves-${new Date().toISOString().slice(0, 10)}.json`, file.text);
		fill(
			said,
			h(
				"p",
				{ class: "ok-line" },
				`${file.count} table${file.count === 1 ? "" : "s"} exported. Look among the downloads.`,
			),
		);
	};
	const field = textField({
		label: "Given by",
		name: "library-giver",
		value: giver,
		note: "It stands in the file. Leave it empty to give no name.",
		maxLength: longest["distributor.givenBy"],
		onInput: (text) => {
			giver = text;
			drafts.put(giverKey, text || undefined);
		},
	});
	return h(
		"div",
		null,
		h("p", null, "One file with every book’s table, its type and its source. No owner and no readings are in it."),
		field.element,
		button("Export the tables", give),
		said,
	);
}

/** Every distributor that has a book: in a car, on the bench, and the library itself. @returns {Distributor[]} */
function books() {
	const own = garage
		.cars()
		.map(({ body }) => garage.get("distributor", body.distributorId))
		.filter((doc) => doc && !doc.deleted && !doc.body.demo);
	const demos = new Set(
		garage
			.cars()
			.filter(({ body }) => body.demo)
			.map(({ body }) => body.distributorId),
	);
	return [...own, ...garage.units(), ...garage.library()]
		.filter((doc) => doc && !doc.body.demo && !demos.has(doc.id))
		.map((doc) => /** @type {Doc<Distributor>} */ (doc).body);
}
