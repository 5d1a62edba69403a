// Rotor phasing, scatter from cylinder to cylinder, the road.

import {
	agreed,
	beforeTheRoad,
	finish,
	heard,
	pipeOff,
	pipeOn,
	plugsIn,
	plugsOut,
	startEngine,
	strobeOff,
	strobeOn,
} from "./shared-steps.js";
import { t } from "../../kit/words.js";

/** @returns {Procedure} */
export const phasing = () => ({
	name: "phasing",
	title: "Rotor phasing",
	judges: "",
	why: `At the spark the ${t("rotor")}’s tip must face its post, with vacuum and without.`,
	tools: ["old cap with a window cut over No. 1", t("strobe"), "hand vacuum pump"],
	before: ["Base proved", "Window edges smooth, no brass dust inside"],
	steps: [
		{
			id: "pipe-off",
			title: "Pull the pipe off the capsule, plug it, put the pump on",
			engine: "off",
			undoes: ["vacuum-pipe"],
			cautions: ["pipe", "fan"],
		},
		{
			id: "cap",
			title: "Fit the cap with the window",
			engine: "off",
			undoes: ["other"],
			cautions: ["highTension", "hot"],
			text: ["It goes on the list to put back as “something else”: your own cap must come back."],
		},
		strobeOn(),
		startEngine({
			title: "Start the engine, let it idle",
			cautions: ["carbonMonoxide", "brake", "fan", "strobe", "highTension", "people", "phone"],
		}),
		{
			id: "without",
			title: "No vacuum: strobe into the window",
			engine: "running",
			cautions: ["strobe", "highTension", "fan"],
			asks: [
				{
					key: "without",
					label: "The tip stands",
					kind: "choice",
					fact: "phasingWithout",
					options: [
						{ value: "faces", label: "facing the post" },
						{ value: "edge", label: "at its edge" },
						{ value: "off", label: "off the post" },
					],
				},
			],
			judge: "phasing",
			onFail: ["Wrong rotor or cap, a lobe for another engine, or the body turned round its plate."],
		},
		{
			id: "with",
			title: "Full vacuum: look again",
			engine: "running",
			cautions: ["strobe", "highTension", "fan"],
			asks: [
				{
					key: "with",
					label: "The tip stands",
					kind: "choice",
					fact: "phasingWith",
					options: [
						{ value: "faces", label: "facing the post" },
						{ value: "edge", label: "at its edge" },
						{ value: "off", label: "off the post" },
					],
				},
			],
			judge: "phasing",
			onFail: [
				"Too much vacuum travel for this rotor: crossfire under load, a burnt edge on one side. Reduce the travel of the capsule.",
			],
		},
		strobeOff(),
		{
			id: "own-cap",
			title: "Fit your own cap, both clips on",
			engine: "off",
			restores: ["other"],
			putsBack: true,
			cautions: ["highTension", "hot"],
		},
		pipeOn(),
		finish(),
	],
});

/** @returns {Procedure} */
export const scatter = () => ({
	name: "scatter",
	title: "Cylinder by cylinder",
	judges: "wear",
	why: "The earliest cylinder knocks first, so it decides how much advance the engine can have.",
	tools: [t("strobe"), "temporary marks at each firing", "arc table of this pulley", "golf tee for the pipe"],
	before: ["TDC mark proved", "Base and dwell right"],
	steps: [
		plugsOut(),
		{
			id: "marks",
			title: "Paint a mark for each pair of cylinders",
			engine: "hand",
			cautions: ["byHand", "fan", "solvents"],
			figure: "pairs",
			page: { name: "marks", label: "Distances along this rim" },
			text: ["4 cylinders every 180°, 6 every 120°, 8 every 90° of the crank."],
		},
		plugsIn(),
		pipeOff(),
		strobeOn(),
		startEngine({ cautions: ["carbonMonoxide", "brake", "fan", "strobe", "people", "phone"] }),
		{
			id: "jitter",
			title: "No. 1 at a steady speed: does the mark shiver?",
			engine: "running",
			cautions: ["strobe", "highTension", "fan"],
			asks: [{ key: "jitter", label: "It shivers by", kind: "number", unit: "crank degrees", fact: "jitter" }],
			judge: "jitter",
			onFail: ["All cylinders shiver alike: drive backlash, chain or end float, not the cam."],
		},
		{
			id: "read",
			title: "Engine off to move the clip. Then read each cylinder",
			engine: "running",
			cautions: ["strobe", "highTension", "fan"],
			page: { name: "scatter", label: "Enter each cylinder" },
			judge: "scatter",
			records: true,
			text: ["In firing order, three readings each if you can."],
			onFail: ["One wave a turn: shaft or bush. One lobe alone: the cam. All shiver: the drive."],
		},
		strobeOff(),
		pipeOn(),
		{ id: "clean", title: "Wipe the temporary marks off", engine: "off", cautions: ["fan", "solvents"] },
		finish(),
	],
});

/** @returns {Procedure} */
export const roadTest = () => ({
	name: "road",
	title: "Road test for knock",
	judges: "",
	why: "The road test decides. Listen, note, back off.",
	tools: ["passenger with the phone", "the setup card", "spanner for the clamp"],
	before: ["Everything put back", "Base, curve and capsule proved", "Warm engine, the fuel it will be driven on"],
	steps: [
		beforeTheRoad(),
		agreed(),
		{
			id: "fuel",
			title: "Which fuel is in it?",
			engine: "off",
			cautions: ["fuel"],
			asks: [{ key: "fuel", label: "Octane", kind: "number", unit: "RON", fact: "roadFuel", isOptional: true }],
		},
		{
			id: "cruise",
			title: "Steady cruise, light throttle, then tip in gently",
			engine: "road",
			cautions: ["road", "overAdvance"],
			asks: [heard("tipIn", "At tip-in", "roadTipIn")],
			judge: "tipIn",
			onFail: ["On light throttle that is the capsule, not the base. Reduce its travel."],
		},
		{
			id: "low",
			title: "Top gear, low speed, full throttle once",
			engine: "road",
			cautions: ["road", "overAdvance"],
			asks: [heard("low", "About 1600 rpm", "roadLow")],
			judge: "knockLow",
			onFail: ["Ease off at once. Too early low down: primary spring or base. Back off 2° and try once more."],
		},
		{
			id: "high",
			title: "Once through the middle and top of the range",
			engine: "road",
			cautions: ["road", "overAdvance", "law"],
			asks: [heard("high", "About 3000 rpm and above", "roadHigh")],
			judge: "knockHigh",
			onFail: [
				"Ease off at once. The total is too large: less travel at the stop, or a lower base. A piston can break before you hear it well.",
			],
		},
		{ id: "home", title: "Home, engine off. Read a plug if you wish", engine: "off", cautions: ["hot", "fan"] },
		finish(),
	],
});
