// Knock that was heard, and timing found best by trying: what overrules the model.

import {
	blankListening,
	keepListening,
	listened,
	listenedWords,
	listeningProblem,
	setListeningRemoved,
} from "./listenings.js";
import { drafts } from "../kept/drafts.js";
import { followGarage } from "../kept/follow.js";
import { address } from "../kit/address.js";
import { caution } from "../kit/caution.js";
import { fill, h } from "../kit/dom.js";
import { button, choice, nextButton, problemLine, textField } from "../kit/field.js";
import { fold } from "../kit/fold.js";
import { dateWords } from "../kit/format.js";
import { offerUndo } from "../kit/undo-bar.js";
import { inEnglish } from "../kit/words.js";

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	const car = /** @type {Doc<Car>} */ (ctx.car);
	const key = `heard/${car.id}`;
	const kept = /** @type {Listening | null} */ (await drafts.get(key).catch(() => null));
	const fuel = car.body.facts.fuel;
	const fresh = () => ({
		...blankListening(),
		octane: fuel?.value ?? "",
		scale: /** @type {Listening["scale"]} */ (fuel?.unit === "AKI" ? "AKI" : fuel?.unit === "RON" ? "RON" : ""),
	});
	let one = kept ?? fresh();
	const [form, list] = [h("div"), h("div")];
	const change = (/** @type {Partial<Listening>} */ part) => {
		Object.assign(one, part);
		drafts.put(key, one).catch(() => {});
	};
	const begin = () =>
		fill(
			form,
			formOf(
				one,
				change,
				begin,
				() => {
					one = fresh();
					drafts.put(key, undefined).catch(() => {});
					begin();
				},
				car,
			),
		);
	begin();
	fill(
		root,
		h("p", { class: "lead" }, "What the engine told on the road. It counts more than any figure worked out."),
		caution("before the road test", [
			"Knock breaks pistons. Stop at the first trace. Never repeat a pull that knocked.",
			"Someone else drives or listens. Hearing fades with age, and loud exhausts hide knock.",
		]),
		form,
		list,
		button("Choose a curve", address("car", car.id, "choose")),
	);
	followGarage(ctx.signal, () => fill(list, listOf(car)));
}

/** @param {Doc<Car>} car */
function listOf(car) {
	const all = listened(car.id);
	if (!all.length) return h("p", { class: "note" }, "Nothing was heard or tried yet.");
	return [
		h("h2", null, "Kept"),
		h(
			"ul",
			{ class: "ruled", role: "list" },
			all.map((each) =>
				h(
					"li",
					{ class: "removed-car" },
					h(
						"span",
						null,
						inEnglish(listenedWords(each.one)),
						h(
							"small",
							{ class: "note" },
							` ${dateWords(each.date)}, ${each.one.octane} ${each.one.scale}${each.one.by ? `, ${each.one.by}` : ""}`,
						),
					),
					h(
						"button",
						{
							type: "button",
							class: "button slim",
							on: {
								click: async () => {
									await setListeningRemoved(each, true);
									offerUndo("It is taken out.", async () => {
										await setListeningRemoved(each, false);
									});
								},
							},
						},
						"Take out",
						h("span", { class: "vh" }, ` ${listenedWords(each.one)}`),
					),
				),
			),
		),
	];
}

/**
 * options lists the answers of a question.
 * @template {string} V
 * @param {readonly V[]} values @param {{[value in V]?: string}} [labels]
 * @returns {{value: V, label: string}[]}
 */
const options = (values, labels = {}) => values.map((value) => ({ value, label: labels[value] ?? value }));

const kinds = options(/** @type {const} */ (["knock", "best"]), {
	knock: "listened for knock",
	best: "best timing found",
});
const ways = options(/** @type {const} */ (["idle-vacuum", "hill-time"]), {
	"idle-vacuum": "vacuum at idle",
	"hill-time": "time up a hill",
});
const sounds = options(/** @type {const} */ (["none", "trace", "rattle", "heavy"]), {
	none: "nothing",
	trace: "a trace",
	rattle: "a rattle",
	heavy: "heavy knock",
});
const vacuumUnits = options(/** @type {const} */ (["inHg", "mmHg", "kPa"]));
const scales = options(/** @type {const} */ (["RON", "AKI"]));
const units = options(/** @type {const} */ (["sound", "scattered"]), {
	sound: "a sound one",
	scattered: "one whose cylinders scatter",
});

/** @typedef {(part: Partial<Listening>) => void} Change */

/**
 * @param {Listening} one @param {Change} change @param {() => void} again draws the form
 * @param {() => void} done @param {Doc<Car>} car
 */
function formOf(one, change, again, done, car) {
	const said = h("div", { class: "field-problem", "aria-live": "polite" });
	const redraw = (/** @type {Partial<Listening>} */ part) => {
		change(part);
		again();
	};
	const save = async () => {
		const problem = listeningProblem(one);
		fill(said, problem ? problemLine(problem) : null);
		if (problem) return focusOn(said.closest("section"), problem.field);
		try {
			await keepListening(car, { ...one, at: new Date().toISOString() });
			done();
		} catch {
			fill(
				said,
				problemLine({
					problem: "the phone has no room to keep it",
					limit: "some free storage",
					do: "Free some room and keep it again. What you typed stays here.",
				}),
			);
		}
	};
	return h(
		"section",
		{ class: "heard-form" },
		pick("What", "kind", one.kind, kinds, (kind) => redraw({ kind })),
		h(
			"div",
			{ class: "two-fields" },
			figure("Speed", "rpm", "rpm", one, change),
			figure("Timing, all of it", "deg", "°", one, change),
		),
		one.kind === "best"
			? pick("Found by", "how", one.how, ways, (how) => change({ how }))
			: pick("Heard", "heard", one.heard, sounds, (heard) => change({ heard })),
		one.kind === "best" ? null : fitted(one, redraw, change),
		fold(
			"heard/more",
			{ title: "Vacuum, fuel, air, who", answer: one.octane ? `${one.octane} ${one.scale}` : "fuel not said" },
			figure("Manifold vacuum", "vacuum", "", one, change, "Empty: full throttle."),
			pick("Vacuum in", "vacuumUnit", one.vacuumUnit, vacuumUnits, (vacuumUnit) => change({ vacuumUnit })),
			figure("Octane in the tank", "octane", "", one, change),
			pick("As on the pump", "scale", one.scale, scales, (scale) => change({ scale })),
			figure("Air", "airC", "°C", one, change, "Empty: as usual."),
			textField({
				label: "Who listened",
				name: "by",
				value: one.by,
				maxLength: 80,
				onInput: (by) => change({ by }),
			}).element,
		),
		said,
		nextButton("Keep it", save),
	);
}

/** The field of a problem, unfolded where it lies folded. @param {Element | null} form @param {string} field */
function focusOn(form, field) {
	const found = /** @type {HTMLElement | null | undefined} */ (form?.querySelector(`[name^="${field}"]`));
	const folded = found?.closest("details");
	if (folded) folded.open = true;
	found?.focus();
}

/**
 * Which distributor was on it: its scatter is not counted twice.
 * @param {Listening} one @param {Change} redraw @param {Change} change
 */
const fitted = (one, redraw, change) => [
	pick("The distributor then", "distributor", one.distributor, units, (distributor) => redraw({ distributor })),
	one.distributor === "scattered"
		? figure(
				"Its earliest cylinder, before No. 1",
				"earliest",
				"°",
				one,
				change,
				"So that the scatter is not counted twice.",
			)
		: null,
];

/**
 * @template {string} V
 * @param {string} label @param {string} name @param {string} value @param {{value: V, label: string}[]} all
 * @param {(value: V) => void} onChange
 */
const pick = (label, name, value, all, onChange) =>
	choice({ label, name, value, isRow: true, options: all, onChange }).element;

/**
 * @param {string} label @param {"rpm" | "deg" | "vacuum" | "octane" | "airC" | "earliest"} name @param {string} unit
 * @param {Listening} one @param {Change} change @param {string} [note]
 */
const figure = (label, name, unit, one, change, note) =>
	textField({
		label,
		name,
		value: one[name],
		...(unit ? { unit } : {}),
		note,
		isNumber: true,
		onInput: (value) => change({ [name]: value }),
	}).element;
