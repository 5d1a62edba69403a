// Dead at the roadside: six steps, six minutes, a test lamp and nothing else.
// Common practice. It stands by itself: no car is asked, nothing is kept.

import { caution, cautionLine, deferral } from "../kit/caution.js";
import { fill, h } from "../kit/dom.js";
import { button } from "../kit/field.js";
import { inEnglish } from "../kit/words.js";
import { cautionName, cautions } from "../safety/cautions.js";

/** What is done, and what each answer means. @type {{act: string, means: string}[]} */
const steps = [
	{ act: "Lamp across the battery’s posts.", means: "Bright: go on. Dim: posts, earth strap, battery." },
	{
		act: "Ignition on. Lamp from the coil’s feed to earth.",
		means: "Lit: go on. Dark: go back; the break is after the last place where it lights.",
	},
	{
		act: "Clip the coil’s thick lead to earth. Lamp from the coil’s points side to earth. Crank.",
		means: "On and off: step 5.",
	},
	{
		act: "Always lit: clean the points, set them to a thick card.",
		means: "Always dark: distributor’s wire off. Lit: condenser or inner lead. Dark: coil.",
	},
	{
		act: "Thick lead 6 mm (¼ in) from the block, insulated pliers. Crank.",
		means: "A fat snap: go on. Weak or none: condenser first, then coil.",
	},
	{
		act: "The same at a plug’s lead.",
		means: "None: damp, cap, rotor, leads. A snap: fuel, or the clamp slipped.",
	},
];

/** @param {HTMLElement} root */
export function show(root) {
	const [text, name] = [cautions(), cautionName()];
	fill(
		root,
		h("p", { class: "lead" }, inEnglish("Only a test lamp. Six minutes.")),
		caution("before the first step", [`Off the road, and no flame near fuel. ${text.brake} ${text.fuel}`]),
		cautionLine(["highTension", "fan", "ignitionOn"].map((id) => ({ name: name[id], text: text[id] }))),
		h(
			"ol",
			{ class: "roadside-steps" },
			steps.map(({ act, means }) => h("li", null, h("strong", null, inEnglish(act)), ` ${inEnglish(means)}`)),
		),
		h("p", { class: "note" }, "Common practice. ", deferral),
		button("Print this card", () => print()),
	);
}
