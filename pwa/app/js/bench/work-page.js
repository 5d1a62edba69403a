// Work done: what was replaced, adjusted, cleaned or found, with the old and the
// new figure. A change that the curve hangs on sets the readings before it
// apart from those after it.

import { changeOf, parts, partName, workWords } from "./parts.js";
import { garage } from "../kept/garage.js";
import { drafts } from "../kept/drafts.js";
import { longest } from "../../made/shapes.js";
import { eventsOf, noteEvent } from "../record/events.js";
import { dayName } from "../record/visits.js";
import { button, choice, nextButton, textField } from "../kit/field.js";
import { trouble } from "../kit/caution.js";
import { fill, h } from "../kit/dom.js";
import { offerUndo } from "../kit/undo-bar.js";
import { address } from "../kit/address.js";
import { inEnglish } from "../kit/words.js";

/** @typedef {{part: string, did: import("./parts.js").Did | "", from: string, to: string, note: string}} Half */

/** @type {Half} */
const blank = { part: "", did: "", from: "", to: "", note: "" };

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	const car = /** @type {Doc<Car>} */ (ctx.car);
	const key = `work/${car.id}`;
	const half = /** @type {Half} */ ({ ...blank, ...(await drafts.get(key).catch(() => null)) });
	const [form, done] = [h("div"), h("div")];
	const list = () => fill(done, workList(car));
	const draw = () =>
		fill(
			form,
			workForm(half, {
				keep: (change) => {
					Object.assign(half, change);
					drafts.put(key, half).catch(() => {});
					if (change.part !== undefined) draw();
				},
				save: async () => {
					const changed = changeOf(half.part, half.did);
					await noteEvent(car, { ...half, changed, what: workWords(half) });
					Object.assign(half, blank);
					await drafts.put(key, undefined).catch(() => {});
					draw();
				},
			}),
		);
	draw();
	list();
	fill(root, form, done, button("Next: readings", address("car", car.id, "readings")));
	ctx.signal.addEventListener("abort", garage.on("change", list));
}

/**
 * @param {Half} half
 * @param {{keep: (change: Partial<Half>) => void, save: () => Promise<void>}} how
 */
function workForm(half, { keep, save }) {
	const said = h("div", { "aria-live": "assertive" });
	if (!half.part)
		return h(
			"section",
			null,
			h("h2", null, "Which part was worked on?"),
			h(
				"div",
				{ class: "part-list" },
				parts.map(({ id, name }) => button(inEnglish(name), () => keep({ part: id }))),
			),
		);
	const try_ = async () => {
		const missing = !half.did ? "what was done" : half.part === "other" && !half.note.trim() ? "which part" : "";
		if (missing) return fill(said, trouble({ title: `Not said yet: ${missing}`, do: "Say it above, then save." }));
		await save().catch(() =>
			fill(said, trouble({ title: "Not saved: no room", do: "Free some room and save again." })),
		);
	};
	return h(
		"section",
		null,
		h("h2", null, inEnglish(partName(half.part))),
		button("Another part", () => keep({ part: "" })),
		choice({
			label: "What was done",
			name: "did",
			value: half.did,
			isRow: true,
			options: [
				{ value: "replaced", label: "replaced" },
				{ value: "adjusted", label: "adjusted" },
				{ value: "cleaned", label: "cleaned" },
				{ value: "found", label: "only found" },
			],
			onChange: (did) => keep({ did: /** @type {Half["did"]} */ (did) }),
		}).element,
		figures(half, keep),
		said,
		nextButton("Save this work", try_),
	);
}

/** @param {Half} half @param {(change: Partial<Half>) => void} keep */
function figures(half, keep) {
	const example = parts.find(({ id }) => id === half.part)?.figure ?? "";
	const field = (/** @type {"from" | "to" | "note"} */ name, /** @type {string} */ label, note = "") =>
		textField({
			label,
			name: `work-${name}`,
			value: half[name],
			note,
			maxLength: longest[`workEvent.${name}`] ?? longest[`event.${name}`],
			onInput: (text) => keep({ [name]: text }),
		}).element;
	return [
		field("from", "Old figure", example && inEnglish(`With its unit: ${example}. Empty: not known.`)),
		field("to", "New figure"),
		field("note", half.part === "other" ? "Which part, in words" : "In words"),
	];
}

/** What was done, the newest first. @param {Doc<Car>} car */
function workList(car) {
	const events = eventsOf(car.id)
		.filter(({ did }) => did)
		.reverse();
	if (!events.length) return h("p", { class: "note" }, "Nothing is noted yet.");
	return [
		h("h2", null, "Done so far"),
		h(
			"ul",
			{ class: "ruled work-done", role: "list" },
			events.map((event) =>
				h(
					"li",
					null,
					h("p", null, h("strong", null, inEnglish(event.what))),
					h(
						"p",
						{ class: "note" },
						dayName(event.at.slice(0, 10)),
						event.changed ? ". Readings before and after it are kept apart." : null,
					),
					h(
						"button",
						{ type: "button", class: "button slim", on: { click: () => takeBack(car, event) } },
						"Take out",
						h("span", { class: "vh" }, ` ${event.what}`),
					),
				),
			),
		),
	];
}

/** @param {Doc<Car>} car @param {WorkEvent} event */
async function takeBack(car, event) {
	const mark = (/** @type {boolean} */ isOut) => {
		const visit = garage
			.visits({ carId: car.id })
			.find(({ body }) => body.events?.some(({ id }) => id === event.id));
		return visit
			? garage.update("visit", visit.id, (/** @type {Visit} */ body) => {
					const found = body.events?.find(({ id }) => id === event.id);
					if (found && isOut) found.removed = true;
					else if (found) delete found.removed;
				})
			: Promise.resolve(null);
	};
	await mark(true);
	offerUndo(`${event.what}: taken out.`, async () => {
		await mark(false);
	});
}
