// "How does it fire?", asked where a speed is heard. The answer stays with the
// car on this phone.

import { drafts } from "../kept/drafts.js";
import { firingOf, notSaid, ways } from "./heard-firing.js";
import { fill, h } from "../kit/dom.js";
import { choice, textField } from "../kit/field.js";

/**
 * firingQuestion draws the question, folded, and gives what is answered.
 * @param {string} carId @param {number} cylinders
 */
export function firingQuestion(carId, cylinders) {
	const key = `firing/${carId}`;
	/** @type {import("./heard-firing.js").FiringKept} */
	let kept = { ...notSaid };
	const said = h("span", { class: "note" });
	const more = h("div");
	/** @param {Partial<import("./heard-firing.js").FiringKept>} change */
	const change = (change) => {
		kept = { ...kept, ...change };
		drafts.put(key, kept);
		if (change.way !== undefined) drawMore();
		show();
	};
	/** @type {((found: Omit<FieldProblem, "field"> | null) => void) | null} */
	let setProblem = null;
	const show = () => {
		fill(said, ` ${ways(cylinders).find(({ value }) => value === kept.way)?.label ?? "not said: taken as evenly"}`);
		const asked = kept.way === "twin" ? kept.angle : kept.typed;
		setProblem?.(asked.trim() === "" ? null : firingOf(kept, cylinders).problem);
	};
	const drawMore = () => {
		setProblem = null;
		if (kept.way !== "twin" && kept.way !== "typed") return fill(more);
		const field =
			kept.way === "twin"
				? textField({
						label: "Angle of the V",
						name: "v-angle",
						value: kept.angle,
						unit: "degrees",
						isNumber: true,
						maxLength: 10,
						onInput: (angle) => change({ angle }),
					})
				: textField({
						label: "Crank degrees from firing to firing",
						name: "firing-intervals",
						value: kept.typed,
						note: "As 90-180-270-180. Together 720; a two-stroke 360.",
						maxLength: 80,
						onInput: (typed) => change({ typed }),
					});
		setProblem = field.setProblem;
		fill(more, field.element);
	};
	const asked = choice({
		label: "How does it fire?",
		name: "firing",
		value: "",
		isRow: true,
		options: ways(cylinders),
		onChange: (way) => change({ way }),
	});
	const element = h(
		"details",
		{ class: "ear-firing" },
		h("summary", null, "How does it fire?", said),
		asked.element,
		more,
	);
	show();
	drafts.get(key).then(
		(/** @type {any} */ found) => {
			if (!found || kept.way !== "") return; // answered meanwhile
			kept = { ...notSaid, ...found };
			asked.setValue(kept.way);
			drawMore();
			show();
		},
		() => {},
	);
	return {
		element,
		now: () => firingOf(kept, cylinders),
		open: () => {
			element.open = true;
		},
	};
}
