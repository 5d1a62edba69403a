// Fitting the distributor, and setting the points.

import { capOff, capOn, finish, pipeOff, pipeOn, plugsIn, plugsOut } from "./shared-steps.js";
import { t } from "../lib/words.js";

/** @returns {Procedure} */
export const fitDistributor = () => ({
	name: "fit", title: "Fit the distributor", judges: "",
	why: "One tooth out, or 180° out, and the engine spits, kicks or will not run.",
	tools: ["screwdrivers, spanners", "paint or scriber", "torch", "new gasket or O-ring"],
	before: ["TDC mark proved", "No. 1 at its static mark on COMPRESSION", "Battery’s earth lead off"],
	steps: [
		{ id: "battery-off", title: "Take the battery’s earth lead off", engine: "off", undoes: ["battery-off"], cautions: ["battery", "brake"] },
		plugsOut(),
		{ ...capOff(), title: "Photograph the cap and its leads. Take it off, leads on" },
		{ id: "mark", title: `Mark the ${t("rotor")}’s direction on the body and on the block`, engine: "off", cautions: ["hot", "solvents"], text: ["Write down which post is No. 1, and the line of the vernier.", "Already out? Go on."] },
		{ id: "turn", title: "Turn the engine to its static mark, No. 1 on compression", engine: "hand", cautions: ["byHand", "fan"], figure: "static", text: ["Only in the running direction. Overshot: go well back and come again."] },
		{
			id: "drive", title: "Look at the drive: which kind is it?", engine: "off", cautions: ["oldParts"],
			asks: [{ key: "drive", label: "The drive is", kind: "choice", lasting: "distributor", fact: "drive", options: [{ value: "skew gear", label: t("drive"), }, { value: "offset dog", label: "offset dog" }, { value: "slot and tongue", label: "slot and tongue" }] }],
		},
		{
			id: "teeth", title: "Count the teeth of its gear", engine: "off", only: { answer: "drive", is: ["skew gear"] }, figure: "tooth", cautions: ["solvents"],
			asks: [{ key: "teeth", label: "Teeth", kind: "number", unit: "teeth", lasting: "distributor", fact: "gearTeeth" }],
			judge: "tooth",
		},
		{ id: "swing", title: `Hold the ${t("rotor")} BACK by what the gear will swing it, and lower it in`, engine: "off", only: { answer: "drive", is: ["skew gear"] }, text: ["A skew gear turns the rotor as it drops, often 20 to 30° (from memory of trade teaching). Measure it on the way out, or try once and look.", "If it stands proud, the oil pump’s slot does not meet: turn that, not the gear."], cautions: ["hot"] },
		{ id: "dog", title: "Lower it in and turn the shaft until the offset dog drops", engine: "off", only: { answer: "drive", is: ["offset dog", "slot and tongue"] }, text: ["An offset dog fits one way only. If the rotor then points away from No. 1, the engine is on the other TDC, or the dog was fitted reversed."], cautions: ["hot"] },
		{
			id: "points-to", title: `Where does the ${t("rotor")} point, with the engine at its mark?`, engine: "off", cautions: ["highTension"], figure: "firingOrder",
			asks: [{ key: "pointsTo", label: `The ${t("rotor")} points`, kind: "choice", options: [{ value: "one", label: "at the post of No. 1" }, { value: "near", label: "near it, less than a post away" }, { value: "opposite", label: "at the opposite post" }, { value: "other", label: "somewhere else" }] }],
			judge: "fitted", onFail: ["Opposite: turn the engine one whole turn to compression, or lift the distributor and turn its shaft half round. Do not swap the leads instead.", "Less than a post away: lift, move one tooth, lower again."],
		},
		{
			id: "room", title: "Can the body turn 15° both ways without fouling?", engine: "off", cautions: ["hot"],
			asks: [{ key: "room", label: "The body", kind: "choice", options: [{ value: "free", label: "turns freely both ways" }, { value: "fouls", label: "fouls something" }] }],
			judge: "room", onFail: ["One tooth out: the vacuum unit meets the block before timing is reached. Lift and move one tooth."],
		},
		{ id: "nip", title: "Nip the clamp, so that the body still turns by hand", engine: "off", undoes: ["clamp-loose"], changes: "distributor-fitted", cautions: ["hot"], text: ["Static timing comes next; the clamp stays on the restore list till then."] },
		{ id: "battery-on", title: "Put the battery’s earth lead back", engine: "off", restores: ["battery-off"], putsBack: true, cautions: ["battery"] },
		{ id: "clamp", title: "Go on with static timing now, or tighten the clamp", engine: "off", restores: ["clamp-loose"], cautions: ["brake"], page: { name: "do/static", label: "Static timing with the lamp" } },
		capOn(),
		plugsIn(),
		finish(),
	],
});

/** @returns {Procedure} */
export const setPoints = () => ({
	name: "points", title: "Set the points, by gap and by dwell", judges: "points",
	why: "One degree of dwell is one crank degree of timing. So dwell comes first, timing second, always.",
	tools: [`${t("feeler")}s, clean and flat`, "screwdriver", "dwell meter", "clean card", "high-melting grease"],
	before: ["Ignition off", "Shaft judged fit: no setting cures wear"],
	steps: [
		{ id: "cap-off", title: `Cap and ${t("rotor")} off`, engine: "off", undoes: ["cap-off"], cautions: ["highTension", "fan"] },
		{
			id: "look", title: "Look at the contact faces. Pull a clean card through", engine: "off", undoes: ["card-in-points"], cautions: ["oldParts", "solvents"],
			text: ["Grey and matt is good. Blue or black is burnt; a greasy smear is oil. A clean card, no emery."],
			asks: [{ key: "state", label: "The points are", kind: "choice", options: [{ value: "new", label: "new, faces flat" }, { value: "used", label: "used, may be pitted" }] }],
		},
		{ id: "card-out", title: "Pull the card out again. No fibre between the contacts", engine: "off", restores: ["card-in-points"], cautions: ["solvents"] },
		plugsOut(),
		{ id: "lobe", title: `Turn until the ${t("heel")} stands on the peak of a lobe`, engine: "hand", cautions: ["byHand", "fan"], text: ["The gap is at its widest there."] },
		{
			id: "gap", title: "Measure the gap with the blade", engine: "off", cautions: ["solvents"], figure: "gap", text: ["A light drag. On pitted faces the blade reads too little: then trust the dwell."],
			asks: [{ key: "gap", label: "Gap", kind: "number", unit: "thou", fact: "gapFound", isOptional: true, note: "In thousandths of an inch; 0.4 is read as mm." }],
			judge: "points", onFail: ["Slacken the fixed contact and set the middle of the book’s range; new points at its wide end, as the heel beds in."],
		},
		{ id: "set-gap", title: "Set it, tighten, measure again", engine: "off", changes: "dwell-set", cautions: ["solvents"], text: ["The screw moves the gap when tightened. Thin smear of grease on the cam, two drops of oil on the felt; too much reaches the contacts."] },
		{ id: "cap-on", title: `${t("rotor").replace(/^./, (c) => c.toUpperCase())} and cap on, both clips home`, engine: "off", restores: ["cap-off"], putsBack: true, cautions: ["highTension"] },
		plugsIn(),
		pipeOff(),
		{
			id: "start", title: "Dwell meter on the coil’s points side. Start the engine", engine: "running", startsEngine: true, cautions: ["carbonMonoxide", "brake", "fan", "highTension", "people", "phone"],
			text: ["Meter on the right number of cylinders. Will not start? Read it while cranking."],
		},
		{
			id: "dwell", title: "Read the dwell at idle", engine: "running", cautions: ["fan", "highTension"], figure: "dwell",
			asks: [{ key: "dwell", label: "Dwell at idle", kind: "number", unit: "distributor degrees", fact: "dwellIdle", lasting: "distributor" }],
			judge: "points", records: true, onFail: ["Too much dwell: open the gap. Too little: close it. Then read again."],
		},
		{
			id: "dwell-fast", title: "Raise to 1500 and read the dwell again", engine: "running", cautions: ["fan", "highTension"], text: ["The cheapest test of the whole distributor: more than 3° of change is wear."],
			asks: [{ key: "fast", label: "Dwell at 1500 engine rpm", kind: "number", unit: "distributor degrees", fact: "dwellFast", lasting: "distributor" }],
			judge: "points", records: true, onFail: ["It falls with speed: worn shaft or bush. No setting cures that."],
		},
		{ id: "stop", title: "Engine off. Meter away", engine: "off", cautions: ["fan", "hot"], text: ["Dwell has changed, so timing is due again."] },
		pipeOn(),
		finish(),
	],
});
