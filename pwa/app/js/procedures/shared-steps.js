// Steps that several procedures have in common, written once.

import { t } from "../lib/words.js";

/** Ready for the engine to run. @type {(more?: Partial<ProcedureStep>) => ProcedureStep} */
export const startEngine = (more = {}) => ({
	id: "start", title: "Start the engine and let it get warm", engine: "running", startsEngine: true,
	text: ["Choke fully in. Cold oil and a rich mixture tell you nothing."],
	cautions: ["carbonMonoxide", "brake", "fan", "hot", "people", "phone"],
	...more,
});

/** @type {() => ProcedureStep} */
export const pipeOff = () => ({
	id: "pipe-off", title: "Pull the vacuum pipe off and plug its end", engine: "off", undoes: ["vacuum-pipe"], cautions: ["pipe", "fan"],
	text: ["An open pipe is an air leak and changes the idle. Only where the manual says so is it left on."],
});

/** @type {() => ProcedureStep} */
export const pipeOn = () => ({
	id: "pipe-on", title: "Take the plug out and put the vacuum pipe back", engine: "off", restores: ["vacuum-pipe"], putsBack: true, cautions: ["fan", "hot"],
	text: ["This is the thing most often left undone."],
});

/** @type {() => ProcedureStep} */
export const strobeOn = () => ({
	id: "strobe-on", title: "Clip the strobe on: battery first, then the lead of No. 1", engine: "off", undoes: ["strobe-leads"], cautions: ["strobe", "highTension"],
	text: ["The arrow on the clip points to the plug. The clip touches no other lead."],
});

/** @type {() => ProcedureStep} */
export const strobeOff = () => ({
	id: "strobe-off", title: "Engine off. Take the strobe’s leads away", engine: "off", restores: ["strobe-leads"], cautions: ["fan", "hot", "highTension"],
});

/** @type {() => ProcedureStep} */
export const finish = () => ({
	id: "finish", title: "Finish: nothing left undone", engine: "off", finishes: true,
	text: ["Count the tools. Close the notes."],
});

/** @type {() => ProcedureStep} */
export const plugsOut = () => ({
	id: "plugs-out", title: "Engine cold and off. Take the coil feed off, then all plugs out", engine: "off", undoes: ["plug-leads", "plugs-out"], cautions: ["byHand", "fuel", "hot"],
	text: [`Mark each ${t("lead")} with its cylinder. Blow the dirt away from the plugs first.`],
});

/** @type {() => ProcedureStep} */
export const plugsIn = () => ({
	id: "plugs-in", title: "Plugs in, leads on, coil feed on", engine: "off", restores: ["plugs-out", "plug-leads"], putsBack: true, cautions: ["hot", "fuel"],
	text: ["Start each plug by hand. Each lead back on its own cylinder."],
});

/** Which side of TDC a figure lies on is always spelled out. */
export const sides = [{ value: "before", label: "before TDC" }, { value: "after", label: "after TDC" }];
