// What the picture of the spark stands on: every figure with where it comes
// from. This car's own beats what the volts page measured, and that beats what
// is assumed. One tap sets a figure back to the assumed one; what was typed
// stays.

import { keepFactOf } from "../record/car-electrics.js";
import { asideKey, asideOf, firstFigures, setAside, sparkFields, sparkFigures } from "./spark.js";
import { h } from "../kit/dom.js";
import { fold } from "../kit/fold.js";
import { factEditor } from "../record/fact-editor.js";
import { button } from "../kit/field.js";
import { mark } from "../kit/mark.js";
import { inEnglish } from "../kit/words.js";

/**
 * @typedef {object} Basis
 * @property {boolean} hasBallast or may have one
 * @property {{[path: string]: string}} taken what is assumed, by the input it is for
 * @property {{[path: string]: {words: string}}} measured on the volts page
 * @property {{[path: string]: string}} hints what the volts page still wants
 * @property {{words: string, href: string}} dwell
 * @property {() => void} typed called after a key @property {() => void} again draws the page anew
 */

/** @param {Doc<Car>} car @param {Basis} basis */
export function sparkBasis(car, { hasBallast, taken, measured, hints, dwell, typed, again }) {
	const facts = { ...car.body.facts };
	const { values, unread } = sparkFigures(facts);
	const choose = (/** @type {string} */ path, /** @type {boolean} */ isAside) =>
		keepFactOf("car", car.id, asideKey, { value: setAside(facts, path, isAside) });
	const line = (/** @type {import("./spark.js").SparkField} */ field) => {
		const { element, check } = factEditor(
			field,
			facts[field.key],
			() => facts,
			(fact) => {
				if (asideOf(facts).has(field.path)) choose(field.path, false); // who types, means it
				facts[field.key] = fact;
				check();
				keepFactOf("car", car.id, field.key, fact).then(typed);
			},
		);
		check();
		const kept = [
			facts[field.key]?.value.trim() ? `${facts[field.key].value.trim()} ${facts[field.key].unit}` : "",
			measured[field.path]?.words ?? "",
		].filter(Boolean);
		const swap = (/** @type {boolean} */ isAside, /** @type {string} */ words) =>
			h(
				"button",
				{
					type: "button",
					class: "button swap-figure",
					"aria-label": `${words}: ${field.label}`,
					on: {
						click: () => {
							choose(field.path, isAside).then(again);
						},
					},
				},
				words,
			);
		if (asideOf(facts).has(field.path) && kept.length)
			return row(
				element,
				said("unknown", "Assumed: ", `${taken[field.path] ?? "nothing"}. Kept, not used: ${kept.join("; ")}.`),
				swap(false, "Use this car’s own again"),
			);
		if (field.path in values)
			return row(
				element,
				measured[field.path] ? said("partly", "Beside it: ", `${measured[field.path].words}.`) : null,
				swap(true, "Back to the assumed figure"),
			);
		if (measured[field.path])
			return row(
				element,
				said("done", "This car’s: ", `${measured[field.path].words}.`),
				swap(true, "Back to the assumed figure"),
			);
		const why = unread[field.path] ? `Not used: ${unread[field.path]}. ` : "";
		return row(
			element,
			taken[field.path]
				? said("unknown", "Not this car’s: ", `${why}${taken[field.path]}.`, hints[field.path])
				: null,
			null,
		);
	};
	const fields = sparkFields().filter(({ path }) => path !== "coil.ballastOhm" || hasBallast);
	const rest = fields.filter(({ key }) => !firstFigures.includes(key));
	return fold(
		"spark/basis",
		{ title: "What this stands on", id: "basis-title" },
		h(
			"p",
			null,
			"Measure the ohms first, cold and disconnected. The more of this car’s own figures you give, the better it fits.",
		),
		h(
			"div",
			{ class: "fact-line basis-dwell" },
			h("p", null, h("span", null, "Dwell"), " ", h("strong", { class: "figures" }, dwell.words)),
			button("Change it on the points page", dwell.href),
		),
		fields.filter(({ key }) => firstFigures.includes(key)).map(line),
		h(
			"details",
			{ class: "more-test", open: rest.some(({ path }) => path in values || asideOf(facts).has(path)) },
			h("summary", null, `${rest.length} finer figures, mostly assumed`),
			rest.map(line),
		),
	);
}

/** @param {HTMLElement} editor @param {Node | null} words @param {Node | null} swap */
function row(editor, words, swap) {
	return h("div", { class: words || swap ? "basis-line has-more" : "basis-line" }, editor, words, swap);
}

/** @param {"unknown" | "partly" | "done"} shape @param {string} what @param {string} text @param {string} [hint] */
function said(shape, what, text, hint) {
	return h(
		"p",
		{ class: "taken" },
		mark(shape),
		h("span", null, h("strong", null, what), inEnglish(text), hint ? ` ${hint}` : null),
	);
}
