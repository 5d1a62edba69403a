// The club's library of curves: books' tables by name and type, to look up, to
// use for a distributor, to take in and to give out.

import { curveOf, sought } from "./library.js";
import { giveOutBox, takeInBox, whence } from "./library-in.js";
import { filledRows } from "./put-in.js";
import { garage } from "../kept/garage.js";
import { emptySheet } from "../record/sheet.js";
import { address } from "../kit/address.js";
import { fill, h } from "../kit/dom.js";
import { button, nextButton, problemLine, selectField, textField } from "../kit/field.js";
import { fold } from "../kit/fold.js";
import { told } from "../kit/told.js";
import { offerUndo } from "../kit/undo-bar.js";
import { inEnglish } from "../kit/words.js";

/** @typedef {import("./library.js").Curve} Curve */

const shownAtOnce = 20; // tables in the list; more are found by their words. Chosen

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	const target = ctx.params.for ? garage.get("car", ctx.params.for) : null;
	const list = h("div", { class: "library-list" });
	let words = "";
	let drawn = "";
	const draw = () => {
		const all = garage.library();
		const now = JSON.stringify([words, all.map(({ id, changedAt }) => [id, changedAt])]);
		if (now === drawn) return;
		drawn = now;
		fill(list, tables(all, words, target, ctx));
	};
	draw();
	const search = textField({
		label: "Name, type number or book",
		name: "library-search",
		value: "",
		onInput: (text) => {
			words = text;
			draw();
		},
	});
	fill(
		root,
		h(
			"p",
			{ class: "lead" },
			target && !target.deleted
				? ["For ", told(target.body.name), "."]
				: "Tables out of books, from you and from others.",
		),
		garage.library().length ? search.element : null,
		list,
		fold("library/in", { title: "Bring figures in", isOpen: garage.library().length === 0 }, takeInBox()),
		fold("library/out", { title: "Pass figures on" }, await giveOutBox()),
	);
	ctx.signal.addEventListener("abort", garage.on("change", draw));
}

/** @param {Doc<Distributor>[]} all @param {string} words @param {Doc<Car> | null} target @param {PageContext} ctx */
function tables(all, words, target, ctx) {
	const found = all
		.map((doc) => ({ id: doc.id, curve: curveOf(doc.body) }))
		.filter((one) => one.curve !== null && sought(one.curve, words));
	if (all.length === 0)
		return h("p", { class: "note" }, "The library is empty. Bring in a file that someone sent you.");
	return [
		h(
			"p",
			{ class: "note", role: "status" },
			`${found.length} of ${all.length} table${all.length === 1 ? "" : "s"}`,
		),
		found.slice(0, shownAtOnce).map(({ id, curve }) => entry(id, /** @type {Curve} */ (curve), target, ctx)),
		found.length > shownAtOnce
			? h("p", { class: "note" }, `${found.length - shownAtOnce} more. Type more of the name.`)
			: null,
	];
}

/** @param {string} id @param {Curve} curve @param {Doc<Car> | null} target @param {PageContext} ctx */
function entry(id, curve, target, ctx) {
	const { sheet, name, typeNumber } = curve;
	const title = [typeNumber, name !== typeNumber ? name : ""].filter(Boolean).join(" · ") || "No name";
	const body = h("div");
	const details = fold(
		`library/${id}`,
		{ title: told(title), level: "h3", answer: told(`${sheet.rows.length} rows, ${whence(curve)}`) },
		body,
	);
	let isFilled = false;
	const fillOnce = () => {
		if (!details.open || isFilled) return;
		isFilled = true;
		fill(body, whole(id, curve, target, ctx));
	};
	fillOnce();
	details.addEventListener("toggle", fillOnce);
	return details;
}

/** @param {string} id @param {Curve} curve @param {Doc<Car> | null} target @param {PageContext} ctx */
function whole(id, curve, target, ctx) {
	const { sheet } = curve;
	const base = sheet.baseCrankDeg.trim();
	return [
		h(
			"p",
			{ class: "note" },
			inEnglish(
				[
					`${sheet.angleUnit || "?"} degrees, ${sheet.speedUnit || "?"} rpm`,
					sheet.base === "included" ? "base in it" : "base not in it",
					base ? `base ${base}° ${sheet.baseSide} TDC` : "",
				]
					.filter(Boolean)
					.join(", "),
			),
			".",
		),
		h(
			"table",
			{ class: "ruled-table figures" },
			h("caption", null, "The table"),
			h(
				"thead",
				null,
				h(
					"tr",
					null,
					["Speed", "Least", "Most"].map((head) => h("th", { scope: "col" }, head)),
				),
			),
			h(
				"tbody",
				null,
				sheet.rows.map(({ rpm, min, max }) =>
					h(
						"tr",
						null,
						[rpm, min || "–", max || "–"].map((text) => h("td", null, text)),
					),
				),
			),
		),
		target && !target.deleted ? use(curve, target, ctx) : chooseTarget(ctx),
		button("Remove from the library", async () => {
			await garage.remove("distributor", id);
			offerUndo("The table is removed from the library.", () => garage.restore("distributor", id));
		}),
	];
}

/**
 * The table goes into the book of a distributor.
 * @param {Curve} curve @param {Doc<Car>} target @param {PageContext} ctx
 */
function use(curve, target, ctx) {
	const id = target.body.distributorId;
	const said = h("div", { "aria-live": "polite" });
	const put = async () => {
		const before = /** @type {Distributor} */ (structuredClone(garage.get("distributor", id)?.body ?? {}));
		try {
			await garage.update("distributor", id, (/** @type {Distributor} */ body) => {
				body.sheet = { ...emptySheet(), ...structuredClone(curve.sheet) };
				body.sheetSource = whence(curve).slice(0, 400);
				body.typeNumber ||= curve.typeNumber;
			});
		} catch {
			return fill(
				said,
				problemLine({
					title: "The phone has no room to keep it",
					limit: "some free storage",
					do: "Free some room.",
				}),
			);
		}
		fill(
			said,
			h("p", { class: "ok-line" }, "The table is in the book."),
			nextButton("To the book’s figures", address("car", ctx.params.for, "book")),
		);
		offerUndo("The table is in the book.", async () => {
			await garage.update("distributor", id, (/** @type {Distributor} */ body) => {
				body.sheet = before.sheet ?? emptySheet();
				body.sheetSource = before.sheetSource ?? "";
				body.typeNumber = before.typeNumber ?? "";
			});
			fill(said);
		});
	};
	const ask = () => {
		const there = filledRows(garage.get("distributor", id)?.body.sheet ?? emptySheet());
		if (there === 0) return put();
		fill(
			said,
			h("p", null, `The book’s table has ${there} row${there === 1 ? "" : "s"} already. They are replaced.`),
			button("Replace them", put),
		);
	};
	return h("div", null, button("Use this table", ask), said);
}

/** @param {PageContext} ctx */
function chooseTarget(ctx) {
	const all = [...garage.cars(), ...garage.units()];
	if (all.length === 0) return h("p", { class: "note" }, "Add a car first. Then its book can use the table.");
	return selectField({
		label: "Use it for",
		value: "",
		options: [
			{ value: "", text: "choose" },
			...all.map(({ id, body }) => ({ value: id, text: body.name || "no name" })),
		],
		onChange: (id) => ctx.go(address("library", id)),
	});
}
