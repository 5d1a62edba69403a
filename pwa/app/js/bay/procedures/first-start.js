// The first start after work on the ignition, and what to do when it does not run.

import { finish, coilLeadOff, coilLeadOn, startEngine } from "./shared-steps.js";

/** @returns {Procedure} */
export const firstStart = () => ({
	name: "first-start",
	title: "First start",
	judges: "",
	why: "After work on the ignition the first minute tells most. Know what to look for.",
	tools: ["extinguisher, dry powder or CO₂", "strobe ready but not on", "someone at the wheel"],
	before: ["Static timing proved", "Leads in firing order", "Nothing left to put back but what the start needs"],
	steps: [
		{
			id: "leaks",
			title: "Look for leaks. Dry up every spill",
			engine: "off",
			cautions: ["fuel", "fan", "battery"],
			text: ["Oil, water, fuel. Nothing lies on the engine."],
		},
		{
			id: "leads",
			title: "Go round the cap once more in firing order",
			engine: "off",
			cautions: ["highTension"],
			figure: "firingOrder",
			page: { name: "cap", label: "Cap plan of this car" },
		},
		{
			id: "out",
			title: "Doors open, gas led out, children out",
			engine: "off",
			cautions: ["carbonMonoxide", "people", "brake"],
		},
		startEngine({
			title: "Start it. Five seconds of starter, then rest",
			done: "Tried: next step",
			cautions: ["carbonMonoxide", "brake", "fan", "highTension", "people", "phone"],
			text: ["Hand near the key. Any knock, flame or stream of fuel: off at once."],
		}),
		{
			id: "how",
			title: "How does it run?",
			engine: "running",
			cautions: ["fan", "highTension", "hot"],
			asks: [
				{
					key: "how",
					label: "It",
					kind: "choice",
					fact: "firstStart",
					options: [
						{ value: "runs", label: "runs evenly" },
						{ value: "misses", label: "runs, but misses" },
						{ value: "spits", label: "spits back or kicks" },
						{ value: "cranks", label: "turns, no sign of life" },
						{ value: "keyOff", label: "fires only as the key is let go" },
					],
				},
			],
			judge: "firstStart",
			onFail: ["Do not go on cranking. Ignition off, then look for the cause."],
		},
		...atKeyOff(),
		startEngine({
			id: "again",
			title: "The cause put right? Start it again",
			done: "Next step",
			only: { answer: "how", is: dead },
			cautions: ["carbonMonoxide", "brake", "fan", "highTension", "people", "phone"],
			text: ["Five seconds of starter, then rest. Not put right yet: leave the starter alone and say no."],
			asks: [
				{
					key: "runs",
					label: "Does it run now?",
					kind: "choice",
					options: [
						{ value: "yes", label: "it runs" },
						{ value: "no", label: "no" },
					],
				},
			],
			judge: "runsNow",
			onFail: ["Ignition off. Oil pressure, charging and the strobe wait until it runs."],
		}),
		{
			id: "oil",
			title: "Oil pressure, charging, no leaks",
			engine: "running",
			anyOf: itRuns,
			cautions: ["fan", "hot", "carbonMonoxide"],
			asks: [
				{
					key: "sound",
					label: "All well?",
					kind: "choice",
					options: [
						{ value: "yes", label: "yes" },
						{ value: "no", label: "no: switch off" },
					],
				},
			],
			judge: "yes",
			onFail: ["Switch off and find out first."],
		},
		{
			id: "stop",
			title: "Go on to the strobe, or switch off",
			engine: "off",
			anyOf: itRuns,
			cautions: ["hot"],
			page: { name: "do/strobe-idle", label: "Strobe at idle" },
		},
		finish(),
	],
});

/** Answers to “How does it run?” of an engine that does not. */
const dead = ["spits", "cranks", "keyOff"];
/** What needs a running engine comes only where one of these was answered. */
const itRuns = [
	{ answer: "how", is: ["runs", "misses"] },
	{ answer: "runs", is: ["yes"] },
];

/**
 * It fires only as the key is let go: with a ballast its start feed is tried,
 * without one the volts are measured. @returns {ProcedureStep[]}
 */
function atKeyOff() {
	const keyOff = { answer: "how", is: ["keyOff"] };
	const bridged = [keyOff, { answer: "ballast", is: ["block", "resistance wire"] }];
	const plain = [keyOff, { answer: "ballast", is: ["none"] }];
	return [
		{
			id: "ballast",
			title: "Is there a ballast in the coil’s feed?",
			engine: "off",
			only: [keyOff, { answer: "ballast.known", is: [] }],
			cautions: ["hot"],
			text: ["A ceramic block beside the coil, or a resistance wire in the loom."],
			asks: [
				{
					key: "ballast",
					label: "The ballast is",
					kind: "choice",
					lasting: "car",
					fact: "ballast",
					options: [
						{ value: "none", label: "none" },
						{ value: "block", label: "a block" },
						{ value: "resistance wire", label: "a resistance wire" },
					],
				},
			],
		},
		{
			id: "bridge",
			title: "Ignition off. Bridge the ballast for one try, no more",
			engine: "off",
			only: bridged,
			undoes: ["ballast-bridged"],
			cautions: ["hot", "ignitionOn"],
			text: ["A lead with clips at both ends, clear of the body."],
		},
		startEngine({
			id: "try",
			title: "Start it, bridged: seconds, not minutes. Then ignition off",
			done: "Next step",
			only: bridged,
			cautions: ["carbonMonoxide", "brake", "fan", "highTension", "hot", "people", "phone"],
			text: ["Hand near the key."],
			asks: [
				{
					key: "bridged",
					label: "With the bridge it",
					kind: "choice",
					options: [
						{ value: "fires", label: "starts with the starter turning" },
						{ value: "same", label: "fires no better" },
					],
				},
			],
			judge: "bridged",
			onFail: ["The bridge comes off first."],
		}),
		{
			id: "unbridge",
			title: "Take the bridge off the ballast",
			engine: "off",
			only: bridged,
			restores: ["ballast-bridged"],
			cautions: ["hot"],
		},
		{ ...coilLeadOff(), only: plain },
		{
			id: "volts",
			title: "Measure the volts at the coil with the starter turning",
			engine: "off",
			only: plain,
			cautions: ["brake", "fan", "highTension", "people"],
			page: { name: "volts", label: "Volts, the starter turning" },
			text: [
				"At the battery at least 9.6 V on 12 V, 4.8 V on 6 V (common practice). Less: the battery, its leads or the starter.",
				"Good there, little or nothing at the coil: the ignition switch loses it in its start position.",
			],
		},
		{ ...coilLeadOn(), only: plain },
	];
}
