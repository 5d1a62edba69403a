// The facts of a car: value, unit and where each comes from. Nothing is
// filled in that nobody entered.

import { longest } from "../../made/shapes.js";
import { intoTable, withBook } from "../record/book-facts.js";
import { withMeasured } from "../record/measured-facts.js";
import { factFields, groups } from "../record/facts.js";
import { garage } from "../kept/garage.js";
import { factEditor } from "../record/fact-editor.js";
import { button, textField } from "../kit/field.js";
import { fill, h } from "../kit/dom.js";
import { fold, unfold } from "../kit/fold.js";
import { address } from "../kit/address.js";

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	const car = /** @type {Doc<Car>} */ (ctx.car);
	const distributorId = ctx.distributor?.id ?? car.body.distributorId;
	const facts = known(ctx);
	/** @type {(() => void)[]} */
	const checks = [];
	/** @param {import("../record/facts.js").FactField} field the next one down the page that is unknown */
	const after = (field) => {
		const inOrder = groups.flatMap((group) => editors.filter((one) => one.field.group === group));
		const found = inOrder
			.slice(inOrder.findIndex((one) => one.field === field) + 1)
			.find((one) => !one.isKnown() && !one.field.hasNoSource);
		return found ? { label: found.field.label, open: () => openIn(found) } : null;
	};
	/**
	 * @type {{field: import("../record/facts.js").FactField, element: HTMLElement, isKnown: () => boolean, open: () =>
	 *   void}[]}
	 */
	const editors = factFields(car.isUnit).map((field) => {
		const editor = factEditor(
			field,
			withBook(field.key, facts[field.of][field.key], ctx.distributor?.body.sheet),
			() => ({ ...facts.car, ...facts.distributor }),
			(fact) => {
				const before = withBook(
					field.key,
					facts[field.of][field.key],
					garage.get("distributor", distributorId)?.body.sheet,
				);
				facts[field.of][field.key] = fact;
				if (field.key === "limitPlate" || field.key === "staticTiming")
					garage
						.update("distributor", distributorId, (body) => {
							body.sheet = { ...body.sheet, ...intoTable(body.sheet, field.key, before, fact) };
						})
						.catch(() => {});
				for (const check of checks) check();
				const [kind, id] =
					field.of === "car"
						? /** @type {const} */ (["car", car.id])
						: /** @type {const} */ (["distributor", distributorId]);
				return garage
					.update(kind, id, (body) => {
						body.facts = { ...body.facts, [field.key]: fact };
					})
					.catch(() => {});
			},
			() => after(field),
		);
		checks.push(editor.check);
		return { field, ...editor };
	});
	for (const check of checks) check();
	fill(
		root,
		h(
			"p",
			{ class: "lead" },
			"Enter what you know and say where it comes from. Its own figures beat any rule of thumb. Empty means unknown.",
		),
		textField({
			label: "Owner",
			name: "owner",
			value: car.body.owner,
			maxLength: longest["car.owner"],
			onInput: (text) =>
				garage
					.update("car", car.id, (body) => {
						body.owner = text;
					})
					.catch(() => {}),
		}).element,
		textField({
			label: "Type number on the distributor",
			name: "typeNumber",
			value: ctx.distributor?.body.typeNumber ?? "",
			maxLength: longest["distributor.typeNumber"],
			onInput: (text) =>
				garage
					.update("distributor", distributorId, (body) => {
						body.typeNumber = text;
					})
					.catch(() => {}),
		}).element,
		groups.map((group) => groupOf(group, editors)),
		button("Back to the job", address("car", car.id)),
	);
}

/** What is known of the car and its distributor, what was measured on other pages too. @param {PageContext} ctx */
const known = ({ car, distributor, visits }) => ({
	car: { ...withMeasured("car", car?.body.facts ?? {}, visits) },
	distributor: { ...withMeasured("distributor", distributor?.body.facts ?? {}, visits) },
});

/** @typedef {{field: {group: string}, element: HTMLElement, isKnown: () => boolean, open: () => void}} Editor */

/** @param {Editor} editor */
function openIn({ element, open }) {
	unfold(element);
	open();
}

/** @param {string} group @param {Editor[]} editors */
function groupOf(group, editors) {
	const mine = editors.filter(({ field }) => field.group === group);
	if (!mine.length) return null;
	return fold(
		`facts/${group}`,
		{ title: group, answer: () => `${mine.filter((one) => one.isKnown()).length} of ${mine.length} known` },
		mine.map(({ element }) => element),
	);
}
