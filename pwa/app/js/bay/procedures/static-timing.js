// Static timing with the test lamp: the base, with the engine still.

import { capOff, capOn, coilLeadOff, coilLeadOn, finish, mayMove, plugsOut } from "./shared-steps.js";
import { t } from "../../kit/words.js";

const setWords = () => [
	"Test lamp to earth: it lights there. In the feed: it goes out.",
	`Press the ${t("rotor")} lightly against its direction meanwhile: that takes up the slack.`,
	"Body AGAINST the rotor’s direction is earlier; WITH it is later.",
];

const tools = [
	"12 V test lamp (6 V on a 6 V car)",
	"plug spanner",
	"spanner for the crank",
	"spanner for the clamp",
	"lead with clips, to earth the coil lead",
];

/** @returns {ProcedureStep} */
const prove = () => ({
	id: "prove",
	proves: true,
	title: "Turn the crank two full turns, slowly. Stop where the points just open and read the mark",
	engine: "hand",
	cautions: ["byHandLive", "ignitionOn", "fuel", "fan"],
	figure: "static",
	asks: [
		{
			key: "static",
			label: "The points open at",
			kind: "timing",
			unit: "crank degrees",
			fact: "staticFound",
		},
	],
	judge: "static",
	records: true,
	keeps: { rpm: "", deg: "static" },
	onFail: [
		"If the curve fails, repair that first.",
		"Ignition off. Loosen the clamp, tighten it lightly, and set it again. A test lamp reads to about a degree.",
	],
});

/** @returns {Procedure} */
export const staticTiming = () => ({
	name: "static",
	title: "Static timing with the test lamp",
	judges: "static",
	why: "With the engine still the weights are fully in. So this is the base and nothing else.",
	tools,
	before: ["Points set: dwell before timing", "TDC mark proved", "Ignition off, out of gear"],
	steps: [
		plugsOut(),
		coilLeadOff(),
		capOff(),
		{
			id: "vernier",
			title: `${t("vernier").replace(/^./, (c) => c.toUpperCase())} to the middle, or to its noted line`,
			engine: "off",
			cautions: ["brake"],
			text: ["Write the line down first. No vernier? Go on."],
		},
		{
			id: "weights",
			title: `Twist the ${t("rotor")} and let go: it must spring fully back`,
			engine: "off",
			cautions: ["highTension"],
			text: ["If it hangs, the base would be set wrong. Two drops of oil under the rotor first."],
			asks: [
				{
					key: "springs",
					label: `The ${t("rotor")}`,
					kind: "choice",
					options: [
						{ value: "back", label: "springs fully back" },
						{ value: "hangs", label: "hangs" },
					],
				},
			],
			judge: "springsBack",
			onFail: ["Clean and oil the spindle, then test again, before you set anything."],
		},
		{
			id: "turn",
			title: "Turn the crank in the running direction up to the figure, No. 1 on compression",
			engine: "hand",
			cautions: ["byHand", "fan"],
			figure: "static",
			text: ["Come to it from one side only. Overshot: go well back and come again."],
		},
		{
			id: "lamp",
			title: "Test lamp from the distributor’s low-tension terminal to earth",
			engine: "off",
			undoes: ["lamp-lead"],
			cautions: ["highTension", "fuel"],
			asks: [
				{
					key: "lamp",
					label: "The test lamp is wired",
					kind: "choice",
					options: [
						{ value: "earth", label: "terminal to earth" },
						{ value: "feed", label: "in the feed" },
					],
				},
			],
			text: ["To earth it LIGHTS as the points open. In the feed it goes OUT."],
		},
		{
			id: "feed-on",
			title: "Coil feed back on. The ignition stays off",
			engine: "off",
			restores: ["coil-feed"],
			putsBack: true,
			cautions: ["fuel"],
			text: [`Look again: the ${t("coilLead")} is on ${t("earth")}, and nothing smells of ${t("petrol")}.`],
		},
		{
			id: "slacken",
			title: "Loosen the clamp, then tighten it lightly: the body just turns by hand",
			engine: "off",
			only: mayMove,
			undoes: ["clamp-loose"],
			cautions: ["fuel"],
		},
		{
			id: "ignition",
			title: "Ignition on",
			engine: "ignition",
			undoes: ["ignition-on"],
			cautions: ["ignitionOn", "fuel", "highTension", "people"],
			text: ["The time runs in the bar above."],
		},
		{
			id: "set",
			title: "Turn the body WITH the rotor until the points are closed. Then slowly AGAINST it until they just open",
			engine: "ignition",
			only: mayMove,
			changes: "distributor-moved",
			figure: "against",
			cautions: ["ignitionOn", "fuel", "highTension", "overAdvance"],
			text: setWords(),
		},
		{
			id: "tighten",
			title: "Tighten the clamp",
			engine: "ignition",
			only: mayMove,
			restores: ["clamp-loose"],
			cautions: ["ignitionOn", "fuel"],
			text: ["Tightening moves it. So it is proved again now."],
		},
		prove(),
		{ id: "off", title: "Ignition off", engine: "off", restores: ["ignition-on"], cautions: ["hot"] },
		{ id: "lamp-off", title: "Test lamp off", engine: "off", restores: ["lamp-lead"], cautions: ["hot"] },
		{
			id: "plugs-in",
			title: "Plugs in, each lead on its own cylinder",
			engine: "off",
			restores: ["plugs-out", "plug-leads"],
			putsBack: true,
			cautions: ["fuel", "hot"],
			text: ["Start each plug by hand."],
		},
		capOn(),
		coilLeadOn(),
		finish(),
	],
});
