// Steps that several procedures have in common, written once.

import { t } from "../../kit/words.js";

/** Ready for the engine to run. @type {(more?: Partial<ProcedureStep>) => ProcedureStep} */
export const startEngine = (more = {}) => ({
	id: "start",
	title: "Start the engine and let it get warm",
	engine: "running",
	startsEngine: true,
	text: ["Choke fully in. Cold oil and a rich mixture tell you nothing."],
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
	text: ["An open pipe is an air leak and changes the idle. Only where the manual says so is it left on."],
});

/** @type {() => ProcedureStep} */
export const pipeOn = () => ({
	id: "pipe-on",
	title: "Take the plug out and put the vacuum pipe back",
	engine: "off",
	restores: ["vacuum-pipe"],
	putsBack: true,
	cautions: ["fan", "hot"],
	text: ["This is the thing most often left undone."],
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
	title: "Finish: nothing left undone",
	engine: "off",
	finishes: true,
	text: ["Count the tools. Close the notes."],
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
	title: `${t("rotor").replace(/^./, (c) => c.toUpperCase())} on, cap on, both clips home`,
	engine: "off",
	restores: ["cap-off"],
	putsBack: true,
	cautions: ["highTension", "fan"],
});

/** So that the coil may spark and the engine cannot fire. @type {() => ProcedureStep} */
export const kingLeadOff = () => ({
	id: "king-lead",
	title: `Pull the ${t("coilLead")} out of the cap and clip its end to clean, bare ${t("earth")}`,
	engine: "off",
	undoes: ["king-lead"],
	cautions: ["highTension", "fuel", "fan"],
	text: [
		"Ignition off. Away from plug holes and fuel. On the engine’s bare metal its sparks are harmless; in the air they are not.",
	],
});

/** @type {() => ProcedureStep} */
export const kingLeadOn = () => ({
	id: "king-back",
	title: `${t("coilLead").replace(/^./, (c) => c.toUpperCase())} home in the cap and on the coil`,
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
