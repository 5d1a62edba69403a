// What the picture of the spark stands on: every figure with where it comes
// from. What the car does not say is shown as taken, and can be replaced.

import { keepFactOf } from "../data/electrics.js";
import { sparkFields, sparkFigures } from "../data/spark.js";
import { h } from "../lib/dom.js";
import { factEditor } from "./fact-editor.js";
import { button } from "./field.js";
import { mark } from "./marks.js";

/**
 * sparkBasis lists the figures.
 * @param {Doc<Car>} car @param {{[path: string]: string}} taken what was taken instead, by the input it is for
 * @param {{words: string, href: string}} dwell @param {() => void} changed
 */
export function sparkBasis(car, taken, dwell, changed) {
	const { unread } = sparkFigures(car.body.facts);
	const facts = { ...car.body.facts };
	const fields = sparkFields();
	const used = new Set(fields.map(({ path }) => path));
	const lines = fields.map((field) => {
		const { element, check } = factEditor(field, facts[field.key], () => facts, (fact) => {
			facts[field.key] = fact;
			check();
			keepFactOf("car", car.id, field.key, fact).then(changed);
		});
		check();
		const why = unread[field.path] ? `Not used: ${unread[field.path]}. ` : "";
		return h("div", { class: "basis-line" }, element, taken[field.path] ? h("p", { class: "taken" }, mark("unknown"), h("span", null, h("strong", null, "Not this car’s: "), why, taken[field.path])) : null);
	});
	const rest = Object.entries(taken).filter(([path]) => !used.has(path));
	return h("section", { "aria-labelledby": "basis-title" }, h("h2", { id: "basis-title" }, "What this stands on"),
		h("p", null, "The ohms are easily measured, cold and disconnected. Give those first; each figure replaced here makes the picture more this car’s own."),
		h("div", { class: "fact-line basis-dwell" }, h("p", null, h("span", null, "Dwell"), " ", h("strong", { class: "figures" }, dwell.words)), button("Change it on the points page", dwell.href)),
		lines,
		rest.length ? h("details", { class: "more-test" }, h("summary", null, `${rest.length} more figures that are taken for every car`), h("ul", { class: "taken-rest" }, rest.map(([path, words]) => h("li", null, `${name(path)}: ${words}.`)))) : null);
}

/** @param {string} path */
function name(path) {
	const names = /** @type {{[path: string]: string}} */ ({
		"engine.manifoldKPa": "Pressure at the start of compression", "engine.chargeC": "Temperature there", "engine.sparkCrankDeg": "Timing", "engine.exponent": "Exponent of the compression",
		"cranking.crankDeg": "Timing while cranking", "cranking.chargeC": "Temperature of the air, cold", "cranking.chargeKPa": "Pressure while cranking", "coil.totalOhm": "Coil and ballast together",
	});
	return names[path] ?? path;
}
