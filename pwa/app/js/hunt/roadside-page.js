// Dead at the roadside: six steps, six minutes, a test lamp and nothing else.
// Common practice. It stands by itself: no car is asked, nothing is kept.

import { caution, deferral } from "../kit/caution.js";
import { fill, h } from "../kit/dom.js";
import { button } from "../kit/field.js";
import { inEnglish } from "../kit/words.js";
import { cautions } from "../safety/cautions.js";

/** What is done, and what each answer means. @type {{act: string, good: string, bad: string}[]} */
const steps = [
	{
		act: "Test lamp across the battery’s posts.",
		good: "Bright: go on.",
		bad: "Dim: posts, earth strap, battery.",
	},
	{
		act: "Ignition on. Lamp from the coil’s feed to earth.",
		good: "Lit: go on.",
		bad: "Dark: go back along the feed. The break lies after the last place where it lights.",
	},
	{
		act: "Lamp from the coil’s points side to earth. Turn the engine over.",
		good: "On and off: step 5.",
		bad: "Else step 4.",
	},
	{
		act: "Always lit: the points do not close. Clean them, set them to a thick card.",
		good: "Always dark: take the distributor’s wire off. Lit now: condenser or inner lead.",
		bad: "Still dark: the coil.",
	},
	{
		act: "Coil lead 6 mm (¼ in) from the block, insulated pliers. Crank.",
		good: "A fat snap: go on.",
		bad: "Weak or none: condenser first, then coil.",
	},
	{
		act: "The same at a plug’s lead.",
		good: "A snap: not the spark. Fuel, or the clamp has slipped.",
		bad: "None: damp, cap, rotor, leads.",
	},
];

/** @param {HTMLElement} root */
export function show(root) {
	const { brake, fan, highTension, fuel, byHandLive, ignitionOn } = cautions();
	fill(
		root,
		h("p", { class: "lead" }, "It will not fire, and there is only a test lamp. Six minutes."),
		caution("before the first step", [
			`Get off the road. Warning triangle up. ${brake}`,
			fuel,
			highTension,
			fan,
			byHandLive,
			ignitionOn,
		]),
		h(
			"ol",
			{ class: "roadside" },
			steps.map(({ act, good, bad }) =>
				h("li", null, h("strong", null, inEnglish(act)), ` ${inEnglish(good)} ${inEnglish(bad)}`),
			),
		),
		h("p", { class: "note" }, "Common practice. ", deferral),
		button("Print this card", () => print()),
	);
}
