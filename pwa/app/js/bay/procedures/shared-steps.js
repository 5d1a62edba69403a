// Steps that several procedures have in common, written once.

import { t } from "../../kit/words.js";

/** Ready for the engine to run. @type {(more?: Partial<ProcedureStep>) => ProcedureStep} */
export const startEngine = (more = {}) => ({
	id: "start",
	title: "Start the engine and let it get warm",
	engine: "running",
	startsEngine: true,
	text: ["Choke off. Cold oil and a rich mixture tell you nothing."],
	cautions: ["carbonMonoxide", "brake", "fan", "hot", "people", "phone"],
	...more,
});

/** @type {() => ProcedureStep} */
export const pipeOff = () => ({
	id: "pipe-off",
	title: "Pull the vacuum pipe off and plug its end",
	engine: "off",
	undoes: ["vacuum-pipe"],
	cautions: ["pipe", "fan"],
	text: ["An open pipe is an air leak and changes the idle. Leave the pipe on only if the manual says so."],
});

/** @type {() => ProcedureStep} */
export const pipeOn = () => ({
	id: "pipe-on",
	title: "Take the plug out and put the vacuum pipe back",
	engine: "off",
	restores: ["vacuum-pipe"],
	putsBack: true,
	cautions: ["fan", "hot"],
	text: ["This is forgotten most often."],
});

/** @type {() => ProcedureStep} */
export const strobeOn = () => ({
	id: "strobe-on",
	title: "Clip the strobe on: battery first, then the lead of No. 1",
	engine: "off",
	undoes: ["strobe-leads"],
	cautions: ["strobe", "highTension"],
	text: ["The arrow on the clip points to the plug. The clip touches no other lead."],
});

/** @type {() => ProcedureStep} */
export const strobeOff = () => ({
	id: "strobe-off",
	title: "Engine off. Take the strobe’s leads away",
	engine: "off",
	restores: ["strobe-leads"],
	cautions: ["fan", "hot", "highTension"],
});

/** @type {() => ProcedureStep} */
export const finish = () => ({
	id: "finish",
	title: "Finish: everything put back",
	engine: "off",
	finishes: true,
	text: ["Count your tools."],
});

/** @type {() => ProcedureStep} */
export const plugsOut = () => ({
	id: "plugs-out",
	title: "Engine cold and off. Take the coil feed off, then all plugs out",
	engine: "off",
	undoes: ["coil-feed", "plug-leads", "plugs-out"],
	cautions: ["byHand", "fuel", "hot"],
	text: [`Mark each ${t("lead")} with its cylinder. Blow the dirt away from the plugs first.`],
});

/** @type {() => ProcedureStep} */
export const plugsIn = () => ({
	id: "plugs-in",
	title: "Plugs in, leads on, coil feed on",
	engine: "off",
	restores: ["plugs-out", "plug-leads", "coil-feed"],
	putsBack: true,
	cautions: ["hot", "fuel"],
	text: ["Start each plug by hand. Each lead back on its own cylinder."],
});

/** Where the plate or the rotor arm is handled. @type {() => ProcedureStep} */
export const capOff = () => ({
	id: "cap-off",
	title: "Take the cap off, leads on, and lay it aside",
	engine: "off",
	undoes: ["cap-off"],
	cautions: ["highTension", "fan"],
	text: ["Clear of the fan and of hot parts."],
});

/** @type {() => ProcedureStep} */
export const capOn = () => ({
	id: "cap-on",
	title: `${t("rotor").replace(/^./, (c) => c.toUpperCase())} on, cap on, both clips on`,
	engine: "off",
	restores: ["cap-off"],
	putsBack: true,
	cautions: ["highTension", "fan"],
});

/** So that the coil may spark and the engine cannot fire. @type {() => ProcedureStep} */
export const coilLeadOff = () => ({
	id: "king-lead",
	title: `Pull the ${t("coilLead")} out of the cap and clip its end to clean, bare ${t("earth")}`,
	engine: "off",
	undoes: ["king-lead"],
	cautions: ["highTension", "fuel", "fan"],
	text: [
		"Ignition off. Away from plug holes and fuel. On bare metal of the engine its sparks do no harm. In the air they do.",
	],
});

/** @type {() => ProcedureStep} */
export const coilLeadOn = () => ({
	id: "king-back",
	title: `${t("coilLead").replace(/^./, (c) => c.toUpperCase())} pushed fully into the cap and the coil`,
	engine: "off",
	restores: ["king-lead"],
	putsBack: true,
	cautions: ["highTension", "fan"],
});

/** Which side of TDC a figure lies on is always spelled out. */
export const sides = [
	{ value: "before", label: "before TDC" },
	{ value: "after", label: "after TDC" },
];

/** While the curve fails the body is not turned: those steps are left out (do-page.js). @type {StepCondition} */
export const mayMove = { answer: "moves", is: ["yes"] };

/** Only where the person has said that the body is moved. */
const moved = { answer: "move", is: ["yes"] };

/**
 * The body moved by strobe. One rule for the clamp, common practice: a spanner goes to it only with the engine
 * stopped, for it slips into the fan, and a loose body throws the timing far out. Tightened lightly, the body
 * turns by hand and stays where it is put.
 * @param {string} asked @param {string} title of the step that moves it @param {Partial<ProcedureStep>} set
 * @returns {ProcedureStep[]}
 */
export const movedBody = (asked, title, set) => [
	{
		id: "move",
		title: asked,
		engine: "running",
		only: mayMove,
		cautions: ["strobe", "fan"],
		text: ["Right already? Leave it alone."],
		asks: [
			{
				key: "move",
				label: "The body",
				kind: "choice",
				options: [
					{ value: "no", label: "stays as it is" },
					{ value: "yes", label: "is moved" },
				],
			},
		],
	},
	{
		id: "slacken",
		title: "Stop the engine. Loosen the clamp, then tighten it lightly",
		engine: "off",
		only: moved,
		undoes: ["clamp-light"],
		cautions: ["fan", "hot"],
		text: [
			"So tight that the body just turns by hand, and stays.",
			"Never with the engine running: the spanner slips into the fan, and a loose body throws the timing far out.",
		],
	},
	startAgain("start-set", "Start the engine again"),
	{ id: "set", title, engine: "running", only: moved, changes: "distributor-moved", figure: "against", ...set },
	{
		id: "tighten",
		title: "Stop the engine. Tighten the clamp",
		engine: "off",
		only: moved,
		restores: ["clamp-light"],
		cautions: ["fan", "hot"],
		text: ["Tightening moves it. So it is read again now."],
	},
	startAgain("start-again", "Start the engine once more"),
];

/** @type {(id: string, title: string) => ProcedureStep} */
const startAgain = (id, title) =>
	startEngine({
		id,
		title,
		only: moved,
		text: ["Hands, spanner and leads clear of the fan first."],
		cautions: ["carbonMonoxide", "brake", "fan", "strobe", "people", "phone"],
	});

/** Before the road everything is put back. @returns {ProcedureStep} */
export const beforeTheRoad = () => ({
	id: "empty",
	title: "Everything is put back before the road",
	engine: "off",
	finishes: true,
	cautions: ["brake", "law"],
});

/** Who drives does nothing else. @returns {ProcedureStep} */
export const agreed = () => ({
	id: "agree",
	title: "Agree who listens and who writes",
	engine: "off",
	cautions: ["road", "people"],
	text: ["The passenger holds the phone. The driver never."],
	startsEngine: true,
});

/**
 * heard asks what was heard in a pull.
 * @param {string} key @param {string} label @param {string} fact
 * @returns {Ask}
 */
export const heard = (key, label, fact) => ({
	key,
	label,
	kind: "choice",
	fact,
	options: [
		{ value: "none", label: "clean" },
		{ value: "trace", label: "a trace" },
		{ value: "knock", label: t("pinking") },
	],
});
