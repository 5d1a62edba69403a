// References: where TDC truly is, which way it turns, which is No. 1.

import { finish, plugsIn, plugsOut } from "./shared-steps.js";
import { t } from "../../kit/words.js";

const stopWords = [
	"Finger tight. Nothing sharp on its end.",
	"On a side-valve engine the plug hole may not lie over the piston: then find TDC another way.",
];
const readWords =
	"Read where the pointer stands on the old scale, or measure along the rim from the old zero and use the marks page.";
const valveWords = "A valve may stand open and touch first: stop at the first resistance, and do it again if in doubt.";

/** @returns {Procedure} */
export const proveTDC = () => ({
	name: "prove-tdc",
	title: "Prove TDC by a positive stop",
	judges: "",
	why: "Every degree you read depends on this mark. Dampers slip. Pulleys get swapped.",
	tools: [
		"plug spanner",
		"piston stop, smooth end",
		"spanner for the crank",
		"strip of paper or the printed tape",
		"paint",
	],
	before: ["Engine cold and off", "Out of gear, wheels chocked"],
	steps: [
		{
			id: "battery-off",
			title: "Take the battery’s earth lead off",
			engine: "off",
			undoes: ["battery-off"],
			cautions: ["battery", "brake"],
			text: ["So nobody can use the starter while the stop is in the hole."],
		},
		plugsOut(),
		{
			id: "near",
			title: "Turn No. 1 to its mark, then back by an eighth of a turn",
			engine: "hand",
			cautions: ["byHand", "fan"],
			text: ["Seen from the pulley, in the running direction first. Then back."],
		},
		{
			id: "stop-in",
			title: "Screw the stop into No. 1’s plug hole",
			engine: "off",
			undoes: ["piston-stop"],
			cautions: ["stop", "people"],
			text: stopWords,
		},
		{
			id: "touch-first",
			title: "Turn gently in the running direction until it touches. Read the mark",
			engine: "hand",
			cautions: ["byHand", "stop"],
			text: [readWords],
			asks: [
				{
					key: "first",
					label: "The pointer shows",
					kind: "timing",
					unit: "crank degrees on the old marks",
					fact: "tdc.firstTouch",
				},
			],
		},
		{
			id: "touch-second",
			title: "Turn back the other way until it touches. Read the mark",
			engine: "hand",
			cautions: ["byHand", "stop"],
			text: [valveWords],
			asks: [
				{
					key: "second",
					label: "The pointer shows",
					kind: "timing",
					unit: "crank degrees on the old marks",
					fact: "tdc.secondTouch",
				},
			],
			judge: "tdc",
			onFail: [
				"Do the two touches again to be sure.",
				"A mark more than 3° out: look for a slipped damper ring or a pulley of another engine.",
			],
		},
		{
			id: "stop-out",
			title: "Screw the stop out. Hold it in your hand",
			engine: "off",
			restores: ["piston-stop"],
			cautions: ["stop"],
		},
		{
			id: "paint",
			title: "Paint the true zero, half-way between the two touches",
			engine: "hand",
			cautions: ["byHand", "solvents"],
			figure: "trueZero",
			changes: "mark-moved",
			text: ["Clean the rim first. No paint on a ring that has slipped: replace it."],
			page: { name: "marks", label: "Marks and tape of this car" },
		},
		plugsIn(),
		{
			id: "battery-on",
			title: "Put the battery’s earth lead back",
			engine: "off",
			restores: ["battery-off"],
			putsBack: true,
			cautions: ["battery"],
		},
		finish(),
	],
});

/** @returns {Procedure} */
export const rotation = () => ({
	name: "rotation",
	title: "Check rotation and No. 1",
	judges: "",
	why: "A wrong direction or a wrong No. 1 costs days.",
	tools: ["plug spanner", "screwdriver for the cap", "chalk"],
	before: ["Engine off, ignition off", "Out of gear, wheels chocked"],
	steps: [
		{
			id: "leads",
			title: "Photograph the cap. Mark the lead of No. 1",
			engine: "off",
			cautions: ["hot"],
			text: ["Most engines count from the pulley end. Some makers count from the flywheel. Look in the manual."],
		},
		{
			id: "cap-off",
			title: "Take the cap off, leads on",
			engine: "off",
			undoes: ["cap-off"],
			cautions: ["highTension"],
		},
		plugsOut(),
		{
			id: "crank-turn",
			title: "Turn the engine by hand the way it runs",
			engine: "hand",
			cautions: ["byHand", "fan"],
			text: ["The way the fan pushes air through the radiator, or as the manual says."],
			asks: [
				{
					key: "crank",
					label: "Seen from the pulley the crank turns",
					kind: "choice",
					lasting: "car",
					fact: "crankRotation",
					options: [
						{ value: "clockwise", label: "clockwise" },
						{ value: "anticlockwise", label: "anticlockwise" },
					],
				},
			],
		},
		{
			id: "rotor-turn",
			title: `Watch the ${t("rotor")}: which way does it turn?`,
			engine: "hand",
			cautions: ["byHand"],
			text: ["Seen from the cap end. Check: the capsule pulls the plate AGAINST this direction for advance."],
			asks: [
				{
					key: "rotor",
					label: `The ${t("rotor")} turns`,
					kind: "choice",
					lasting: "distributor",
					fact: "rotation",
					options: [
						{ value: "clockwise", label: "clockwise" },
						{ value: "anticlockwise", label: "anticlockwise" },
					],
				},
			],
		},
		{
			id: "compression",
			title: "Thumb on No. 1’s hole. Turn until it pushes, then on to the mark",
			engine: "hand",
			cautions: ["byHand", "fuel"],
			text: ["Pressure means compression, both valves shut. On the other TDC the thumb feels nothing."],
			asks: [
				{
					key: "pressure",
					label: "Pressure, then the mark?",
					kind: "choice",
					options: [
						{ value: "yes", label: "yes, pressure" },
						{ value: "no", label: "no pressure" },
					],
				},
			],
			judge: "compressionStroke",
			onFail: ["Turn one whole turn further and try again."],
		},
		{
			id: "post",
			title: `Where does the ${t("rotor")} point now?`,
			engine: "off",
			cautions: ["highTension"],
			figure: "firingOrder",
			text: ["As on a clock face, seen from above, 12 towards the front of the car. That post is No. 1."],
			asks: [
				{
					key: "post",
					label: "Post of No. 1, on the clock face",
					kind: "number",
					unit: "o’clock, 7.5 is half past seven",
					lasting: "distributor",
					fact: "firstPostClock",
				},
			],
			judge: "firstPost",
			onFail: ["Opposite the lead marked No. 1: the drive is 180° out, or No. 1 was on its exhaust stroke."],
			page: { name: "cap", label: "Cap plan of this car" },
		},
		{
			id: "cap-on",
			title: "Cap on, both clips on",
			engine: "off",
			restores: ["cap-off"],
			putsBack: true,
			cautions: ["highTension"],
		},
		plugsIn(),
		finish(),
	],
});
