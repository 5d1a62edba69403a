// Timing with the engine running: the base at idle, and the total at a stated speed.

import { finish, movedBody, pipeOff, pipeOn, startEngine, strobeOff, strobeOn } from "./shared-steps.js";
import { t } from "../../kit/words.js";

/** @returns {Procedure} */
export const strobeIdle = () => ({
	name: "strobe-idle",
	title: "Strobe at idle: the base",
	judges: "base",
	why: "The base moves every speed alike. Idle must lie below where the weights begin, or this is not the base.",
	tools: [t("strobe"), "tachometer", "spanner for the clamp", "golf tee for the pipe", "chalk for the mark"],
	before: ["Points set, static timing proved", "Mark cleaned and chalked"],
	steps: [
		{
			id: "chalk",
			title: "Engine off. Clean the mark and the pointer, chalk them",
			engine: "off",
			cautions: ["fan", "hot", "solvents"],
			asks: [
				{
					key: "prop",
					label: `The ${t("bonnet")} stands`,
					kind: "choice",
					options: [
						{ value: "own", label: "on its own stay" },
						{ value: "prop", label: "on a prop" },
					],
				},
			],
			mayUndo: [{ answer: "prop", is: ["prop"], what: "bonnet-prop" }],
		},
		pipeOff(),
		strobeOn(),
		startEngine({
			title: "Start the engine; let it get warm",
			cautions: ["carbonMonoxide", "brake", "fan", "strobe", "people", "phone"],
		}),
		{
			id: "idle",
			title: "Let it idle. Read the speed",
			engine: "running",
			cautions: ["fan", "carbonMonoxide"],
			figure: "idle",
			text: ["Below the speed where the weights begin. Too fast? Turn the idle screw down; it goes on the list."],
			asks: [
				{ key: "rpm", label: "Idle speed", kind: "speed", unit: "engine rpm" },
				{
					key: "screw",
					label: "The idle screw",
					kind: "choice",
					options: [
						{ value: "left", label: "left alone" },
						{ value: "moved", label: "was turned" },
					],
				},
			],
			mayUndo: [{ answer: "screw", is: ["moved"], what: "idle-screw" }],
		},
		{
			id: "read",
			title: "Point the strobe. Read the mark",
			engine: "running",
			cautions: ["strobe", "highTension", "fan"],
			figure: "expectedIdle",
			text: ["Same eye position each time."],
			asks: [
				{ key: "deg", label: "The mark stands at", kind: "timing", unit: "crank degrees", fact: "strobeFound" },
			],
			judge: "strobe",
			records: true,
			keeps: { rpm: "rpm", deg: "deg" },
			onFail: [
				"Go on: the next steps move the body. AGAINST the rotor’s direction is earlier, WITH it later.",
				"Static was right and this is wrong? Either the idle is above the start of the advance, or the weights do not return. Do not turn the body to hide it.",
			],
		},
		...movedBody("Does the base need moving?", "Turn the body until the mark stands right", {
			cautions: ["strobe", "highTension", "fan", "overAdvance", "law"],
		}),
		{
			id: "again",
			title: "Strobe again, AFTER tightening",
			engine: "running",
			only: { answer: "move", is: ["yes"] },
			cautions: ["strobe", "highTension", "law"],
			figure: "expectedIdle",
			asks: [
				{ key: "rpmAgain", label: "Idle speed", kind: "speed", unit: "engine rpm" },
				{
					key: "degAgain",
					label: "The mark stands at",
					kind: "timing",
					unit: "crank degrees",
					fact: "strobeFound",
				},
			],
			judge: "strobe",
			records: true,
			keeps: { rpm: "rpmAgain", deg: "degAgain" },
			onFail: ["Tightening moved it. Go back to the clamp step, allow for it, and read again."],
		},
		{
			id: "screw-back",
			title: "Set the idle screw back",
			engine: "running",
			only: { answer: "screw", is: ["moved"] },
			restores: ["idle-screw"],
			putsBack: true,
			cautions: ["fan", "carbonMonoxide"],
		},
		strobeOff(),
		pipeOn(),
		{
			id: "prop-off",
			title: "Take the prop away",
			engine: "off",
			only: { answer: "prop", is: ["prop"] },
			restores: ["bonnet-prop"],
			cautions: ["fan"],
		},
		finish(),
	],
});

/** @type {() => ProcedureStep} */
const totalAgain = () => ({
	id: "again",
	title: "Hold the speed and read again, AFTER tightening",
	engine: "fast",
	only: { answer: "move", is: ["yes"] },
	cautions: ["strobe", "highTension", "highIdle", "law"],
	holdSeconds: 20,
	figure: "expectedStated",
	asks: [
		{
			key: "degAgain",
			label: "The mark stands at",
			kind: "timing",
			unit: "crank degrees",
			fact: "statedFound",
		},
	],
	judge: "strobe",
	records: true,
	keeps: { rpm: "rpm", deg: "degAgain" },
	onFail: ["Tightening moved it. Go back to the clamp step, allow for it, and read again."],
});

/** @returns {Procedure} */
export const statedSpeed = () => ({
	name: "stated-speed",
	title: "Timing at a stated speed",
	judges: "base",
	why: "On a worn or unknown curve the total matters most. Set it there, and accept what idle gives.",
	tools: [
		t("strobe"),
		"tachometer",
		"degree tape or dial-back strobe",
		"helper on the throttle",
		"golf tee for the pipe",
	],
	before: ["Warm, vacuum pipe off and plugged", "Helper knows the signal to let go"],
	steps: [
		pipeOff(),
		strobeOn(),
		startEngine(),
		{
			id: "speed",
			title: "Which speed does the figure belong to?",
			engine: "running",
			cautions: ["fan", "carbonMonoxide"],
			figure: "statedSpeed",
			asks: [{ key: "rpm", label: "Speed to hold", kind: "speed", unit: "engine rpm" }],
		},
		{
			id: "hold",
			title: "Helper holds the speed. Stand aside of the fan",
			engine: "fast",
			cautions: ["highIdle", "strobe", "fan"],
			holdSeconds: 20,
			figure: "statedSpeed",
		},
		{
			id: "read",
			title: "Read the mark at that speed",
			engine: "fast",
			cautions: ["strobe", "highTension", "highIdle"],
			figure: "expectedStated",
			asks: [
				{ key: "deg", label: "The mark stands at", kind: "timing", unit: "crank degrees", fact: "statedFound" },
			],
			judge: "strobe",
			records: true,
			keeps: { rpm: "rpm", deg: "deg" },
			onFail: ["Let the speed fall. The steps after the next one move the body."],
		},
		{
			id: "beyond",
			title: "Hold 300 to 500 rpm more. Does it still rise?",
			engine: "fast",
			cautions: ["highIdle", "strobe", "overAdvance"],
			holdSeconds: 20,
			asks: [
				{
					key: "rises",
					label: "The mark",
					kind: "choice",
					options: [
						{ value: "no", label: "stands still" },
						{ value: "yes", label: "still moves earlier" },
					],
				},
			],
			judge: "allIn",
			onFail: ["It was not all in. Take the figure again at the higher speed, and set the total there."],
		},
		...movedBody(
			"Speed down. Does the total need moving?",
			"At idle, turn the body a little. Hold the speed, read",
			{
				cautions: ["strobe", "highTension", "fan", "overAdvance", "law"],
				text: ["Hands away before the speed goes up. Speed down before you turn it again."],
			},
		),
		totalAgain(),
		{
			id: "idle",
			title: "Read idle too: it is reported, not set",
			engine: "running",
			cautions: ["strobe", "highTension"],
			asks: [
				{
					key: "idleDeg",
					label: "At idle it stands at",
					kind: "timing",
					unit: "crank degrees",
					fact: "idleAfterStated",
					isOptional: true,
				},
			],
		},
		strobeOff(),
		pipeOn(),
		finish(),
	],
});
