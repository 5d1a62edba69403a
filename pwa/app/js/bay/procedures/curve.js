// The curve, on the car and on the bench; the capsule.

import { capOff, capOn, finish, pipeOff, pipeOn, startEngine, strobeOff, strobeOn } from "./shared-steps.js";
import { t } from "../../kit/words.js";

/** @returns {Procedure} */
export const curveOnCar = () => ({
	name: "curve-car",
	title: "Curve check on the car",
	judges: "curve",
	why: "A right figure at idle proves nothing about the curve. Read at four speeds or more.",
	tools: [
		t("strobe"),
		"tachometer",
		"degree tape or dial-back strobe",
		"helper on the throttle",
		"golf tee for the pipe",
	],
	before: ["Base proved", "Warm engine", "Helper knows the signal to let go"],
	steps: [
		pipeOff(),
		strobeOn(),
		startEngine({ cautions: ["carbonMonoxide", "brake", "fan", "strobe", "people", "phone"] }),
		{
			id: "glide",
			title: "Raise the speed slowly to 2000 and let it fall. Does the mark glide?",
			engine: "fast",
			cautions: ["strobe", "highIdle", "fan"],
			asks: [
				{
					key: "glide",
					label: "The mark",
					kind: "choice",
					options: [
						{ value: "yes", label: "glides" },
						{ value: "jumps", label: "jumps or hangs" },
					],
				},
			],
			judge: "glide",
			onFail: ["Sticking: oil the felt under the rotor, look for rust, then test again before you buy anything."],
		},
		{
			id: "readings",
			title: "Read at idle, 1500, 2000, 2500, all in. Then down again",
			engine: "fast",
			cautions: ["strobe", "highTension", "highIdle", "overAdvance"],
			readings: "car",
			text: ["Two people: the one with the strobe calls, the other enters."],
			judge: "curve",
			onFail: ["Do not touch a spring yet. Read the verdict first. It keeps base and curve apart."],
		},
		strobeOff(),
		pipeOn(),
		{
			id: "verdict",
			title: "Read the verdict",
			engine: "off",
			cautions: ["hot"],
			page: { name: "verdict", label: "The verdict" },
			text: ["Which part to touch, which way, how sure."],
		},
		finish(),
	],
});

/** @returns {Procedure} */
export const curveOnBench = () => ({
	name: "curve-bench",
	title: "Curve check on the bench",
	judges: "curve",
	why: "The bench reads the curve to half a degree, without the play of the engine’s drive.",
	tools: ["distributor bench", "dwell meter", "vacuum pump", "this car’s ring sheet"],
	before: ["Shaft play judged", "Body clamped, cap earthed"],
	steps: [
		{
			id: "clamp",
			title: "Clamp the body tight. Guard on",
			engine: "bench",
			cautions: ["bench", "people", "solvents"],
		},
		{
			id: "turns",
			title: "Slowest speed: does it turn the right way?",
			engine: "bench",
			cautions: ["bench", "highTension"],
			figure: "rotation",
			asks: [
				{
					key: "turns",
					label: "It turns",
					kind: "choice",
					options: [
						{ value: "yes", label: "the right way" },
						{ value: "no", label: "the wrong way" },
					],
				},
			],
			judge: "yes",
			onFail: ["Stop and reverse the bench. Backwards the weights rub and the figures mean nothing."],
		},
		{
			id: "dwell",
			title: "Set the points by dwell at 200 distributor rpm",
			engine: "bench",
			cautions: ["bench", "highTension"],
			figure: "dwell",
			asks: [
				{
					key: "dwell",
					label: "Dwell",
					kind: "number",
					unit: "distributor degrees",
					fact: "dwellBench",
					isOptional: true,
				},
			],
			judge: "points",
			onFail: ["Set the gap first; the curve is read with the dwell right."],
		},
		{
			id: "zero",
			title: "Set the ring to zero at the lowest speed",
			engine: "bench",
			cautions: ["bench"],
			text: ["Below the start of advance. Read the same flash every time."],
		},
		{
			id: "readings",
			title: "Rise through the book’s speeds, then fall through the same",
			engine: "bench",
			readings: "bench",
			cautions: ["bench", "highTension"],
			text: ["Let the speed settle 3 to 5 seconds."],
			judge: "curve",
			onFail: ["Falling reads more than rising by over 2°: it sticks. Clean and oil before springs."],
		},
		{
			id: "back",
			title: "Down to the lowest speed: is the flash back at zero?",
			engine: "bench",
			cautions: ["bench"],
			asks: [
				{
					key: "back",
					label: "It is",
					kind: "choice",
					options: [
						{ value: "yes", label: "back at zero" },
						{ value: "no", label: "off zero" },
					],
				},
			],
			judge: "yes",
			onFail: ["The weights do not return. On the car the base will wander."],
		},
		{
			id: "scatter",
			title: "Read every flash at 300 to 1000 distributor rpm",
			engine: "bench",
			cautions: ["bench"],
			page: { name: "scatter", label: "Cylinder by cylinder" },
		},
		{ id: "stop", title: "Stop the bench", engine: "off", cautions: ["hot"] },
		finish(),
	],
});

/** @returns {Procedure} */
export const capsule = () => ({
	name: "capsule",
	title: `${t("capsule").replace(/^./, (c) => c.toUpperCase())}`,
	judges: "vacuum",
	why: "You hardly notice a dead capsule when driving. So test it.",
	tools: ["hand vacuum pump with gauge", "strobe, or the bench ring", "golf tee for the pipe"],
	before: ["Base proved", "The pump itself holds vacuum"],
	steps: [
		{
			id: "pipe-off",
			title: "Pull the pipe off the capsule, plug its end, put the pump on",
			engine: "off",
			undoes: ["vacuum-pipe"],
			cautions: ["pipe", "fan", "hot"],
		},
		{
			id: "hold",
			title: "Pump to 16 inHg and wait. Does it hold?",
			engine: "off",
			cautions: ["fuel"],
			waitSeconds: 30,
			text: [
				"It should drop by less than 1 inHg in 10 to 30 seconds (common practice). Fuel vapour comes out through a holed diaphragm.",
			],
			page: { name: "vacuum", label: "Enter the leak test" },
		},
		capOff(),
		{
			id: "moves",
			title: "Watch the plate while you pump and let go",
			engine: "off",
			cautions: ["highTension"],
			asks: [
				{
					key: "moves",
					label: "The plate",
					kind: "choice",
					options: [
						{ value: "yes", label: "moves smoothly and returns" },
						{ value: "no", label: "sticks or does not move" },
					],
				},
			],
			judge: "yes",
			onFail: ["Free the plate and the link first. Figures from a stuck plate judge nothing."],
		},
		capOn(),
		strobeOn(),
		startEngine({
			title: "Start the engine and hold one steady speed",
			cautions: ["carbonMonoxide", "brake", "fan", "strobe", "people", "phone"],
		}),
		{
			id: "read",
			title: "Raise the vacuum step by step and read the timing",
			engine: "running",
			cautions: ["strobe", "highTension", "fan"],
			page: { name: "vacuum", label: "Enter vacuum and degrees" },
			text: ["Up, then down through the same figures."],
			judge: "vacuum",
			records: true,
			onFail: ["Short both ways: spring or wrong unit. Short up, over coming down: plate or link sticks."],
		},
		{
			id: "port",
			title: "Vacuum at the pipe’s own end, at idle",
			engine: "running",
			cautions: ["fan", "pipe"],
			asks: [
				{
					key: "atIdle",
					label: "At idle the pipe has",
					kind: "number",
					unit: "inHg",
					fact: "pipeAtIdle",
					isOptional: true,
				},
			],
			text: ["Ported: none at idle. Manifold: full at idle."],
		},
		strobeOff(),
		pipeOn(),
		{
			id: "total",
			title: "Light load adds up: look at the cruise total",
			engine: "off",
			cautions: ["overAdvance", "law"],
			page: { name: "vacuum", label: "The verdict on the capsule" },
		},
		finish(),
	],
});
