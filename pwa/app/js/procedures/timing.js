// Timing: static, first start, strobe at idle, timing at a stated speed.

import { capOff, capOn, finish, kingLeadOff, kingLeadOn, pipeOff, pipeOn, plugsOut, startEngine, strobeOff, strobeOn } from "./shared-steps.js";
import { t } from "../lib/words.js";

/** @returns {Procedure} */
export const staticTiming = () => ({
	name: "static", title: "Static timing with the lamp", judges: "static",
	why: "With the engine still, the weights are at home: this is the base and nothing else.",
	tools: ["12 V test lamp (6 V on a 6 V car)", "plug spanner", "spanner for the crank", "spanner for the clamp", `lead with clips, to ${t("earth")} the ${t("coilLead")}`],
	before: ["Points set: dwell before timing", "TDC mark proved", "Ignition off, out of gear"],
	steps: [
		plugsOut(),
		kingLeadOff(),
		capOff(),
		{ id: "vernier", title: `${t("vernier").replace(/^./, (c) => c.toUpperCase())} to the middle, or to its noted line`, engine: "off", cautions: ["brake"], text: ["Write the line down first. No vernier? Go on."] },
		{ id: "weights", title: `Twist the ${t("rotor")} and let go: it must spring fully back`, engine: "off", cautions: ["highTension"], text: ["If it hangs, the base you set now is not the base. Two drops of oil under the rotor first."], asks: [{ key: "springs", label: `The ${t("rotor")}`, kind: "choice", options: [{ value: "back", label: "springs fully back" }, { value: "hangs", label: "hangs" }] }], judge: "springsBack", onFail: ["Clean and oil the spindle, then test again, before you set anything."] },
		{ id: "turn", title: "Turn the crank in the running direction up to the figure, No. 1 on compression", engine: "hand", cautions: ["byHand", "fan"], figure: "static", text: ["Come to it from one side only. Overshot: go well back and come again."] },
		{
			id: "lamp", title: "Lamp from the distributor’s low-tension terminal to earth", engine: "off", undoes: ["lamp-lead"], cautions: ["highTension", "fuel"],
			asks: [{ key: "lamp", label: "The lamp is wired", kind: "choice", options: [{ value: "earth", label: "terminal to earth", }, { value: "feed", label: "in the feed" }] }],
			text: ["To earth it LIGHTS as the points open. In the feed it goes OUT."],
		},
		{ id: "feed-on", title: "Coil feed back on. The ignition stays off", engine: "off", restores: ["coil-feed"], putsBack: true, cautions: ["fuel"], text: [`Look again: the ${t("coilLead")} is on ${t("earth")}, and nothing smells of ${t("petrol")}.`] },
		{ id: "ignition", title: "Ignition on", engine: "ignition", undoes: ["ignition-on"], cautions: ["ignitionOn", "fuel", "highTension", "people"], text: ["The time runs in the bar above."] },
		{ id: "slacken", title: "Slacken the clamp until the body just turns", engine: "ignition", undoes: ["clamp-loose"], cautions: ["ignitionOn", "fuel"] },
		{ id: "set", title: `Press the ${t("rotor")} lightly against its direction. Turn the body until the lamp just changes`, engine: "ignition", changes: "distributor-moved", figure: "against", cautions: ["ignitionOn", "fuel", "highTension", "overAdvance"], text: ["Body AGAINST the rotor’s direction is earlier; WITH it is later."] },
		{ id: "tighten", title: "Tighten the clamp", engine: "ignition", restores: ["clamp-loose"], cautions: ["ignitionOn", "fuel"], text: ["Tightening moves it. So it is proved again now."] },
		{
			id: "prove", title: "Turn the crank two full turns, slowly. Stop where the lamp changes and read the mark", engine: "hand", cautions: ["byHandLive", "ignitionOn", "fuel", "fan"], figure: "static",
			asks: [{ key: "static", label: "The points open at", kind: "timing", unit: "crank degrees", fact: "staticFound" }],
			judge: "static", records: true, keeps: { rpm: "", deg: "static" }, onFail: ["Slacken the clamp and set it again. A lamp reads to about a degree."],
		},
		{ id: "off", title: "Ignition off", engine: "off", restores: ["ignition-on"], cautions: ["hot"] },
		{ id: "lamp-off", title: "Lamp away", engine: "off", restores: ["lamp-lead"], cautions: ["hot"] },
		{ id: "plugs-in", title: "Plugs in, each lead on its own cylinder", engine: "off", restores: ["plugs-out", "plug-leads"], putsBack: true, cautions: ["fuel", "hot"], text: ["Start each plug by hand."] },
		capOn(),
		kingLeadOn(),
		finish(),
	],
});

/** @returns {Procedure} */
export const firstStart = () => ({
	name: "first-start", title: "First start", judges: "",
	why: "After work on the ignition the first minute tells most. Know beforehand what you look for.",
	tools: ["extinguisher, dry powder or CO₂", "strobe ready but not on", "someone at the wheel"],
	before: ["Static timing proved", "Leads in firing order", "Restore list empty but for what the start needs"],
	steps: [
		{ id: "leaks", title: "Look for leaks. Dry up every spill", engine: "off", cautions: ["fuel", "fan", "battery"], text: ["Oil, water, fuel. Nothing lies on the engine."] },
		{ id: "leads", title: "Go round the cap once more in firing order", engine: "off", cautions: ["highTension"], figure: "firingOrder", page: { name: "cap", label: "Cap plan of this car" } },
		{ id: "out", title: "Doors open, gas led out, children out", engine: "off", cautions: ["carbonMonoxide", "people", "brake"] },
		startEngine({ title: "Start it. Five seconds of starter, then rest", done: "Tried: next step", cautions: ["carbonMonoxide", "brake", "fan", "highTension", "people", "phone"], text: ["Hand near the key. Any knock, flame or stream of fuel: off at once."] }),
		{
			id: "how", title: "How does it run?", engine: "running", cautions: ["fan", "highTension", "hot"],
			asks: [{ key: "how", label: "It", kind: "choice", fact: "firstStart", options: [{ value: "runs", label: "runs evenly" }, { value: "misses", label: "runs, but misses" }, { value: "spits", label: "spits back or kicks" }, { value: "cranks", label: "turns, no sign of life" }, { value: "keyOff", label: "fires only as the key is let go" }] }],
			judge: "firstStart", onFail: ["Do not go on cranking. Ignition off, then look for the cause."],
		},
		...atKeyOff(),
		startEngine({
			id: "again", title: "The cause put right? Start it again", done: "Next step", only: { answer: "how", is: dead }, cautions: ["carbonMonoxide", "brake", "fan", "highTension", "people", "phone"], text: ["Five seconds of starter, then rest. Not put right yet: leave the starter alone and say no."],
			asks: [{ key: "runs", label: "Does it run now?", kind: "choice", options: [{ value: "yes", label: "it runs" }, { value: "no", label: "no" }] }], judge: "runsNow", onFail: ["Ignition off. Oil pressure, charging and the strobe wait until it runs."],
		}),
		{ id: "oil", title: "Oil pressure, charging, no leaks", engine: "running", anyOf: itRuns, cautions: ["fan", "hot", "carbonMonoxide"], asks: [{ key: "sound", label: "All well?", kind: "choice", options: [{ value: "yes", label: "yes" }, { value: "no", label: "no: switch off" }] }], judge: "yes", onFail: ["Switch off and find out first."] },
		{ id: "stop", title: "Go on to the strobe, or switch off", engine: "off", anyOf: itRuns, cautions: ["hot"], page: { name: "do/strobe-idle", label: "Strobe at idle" } },
		finish(),
	],
});

/** Answers to “How does it run?” of an engine that does not. */
const dead = ["spits", "cranks", "keyOff"];
/** What needs a running engine comes only where one of these was answered. */
const itRuns = [{ answer: "how", is: ["runs", "misses"] }, { answer: "runs", is: ["yes"] }];

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
			id: "ballast", title: "Is there a ballast in the coil’s feed?", engine: "off", only: [keyOff, { answer: "ballast.known", is: [] }], cautions: ["hot"], text: ["A ceramic block beside the coil, or a resistance wire in the loom."],
			asks: [{ key: "ballast", label: "The ballast is", kind: "choice", lasting: "car", fact: "ballast", options: [{ value: "none", label: "none" }, { value: "block", label: "a block" }, { value: "resistance wire", label: "a resistance wire" }] }],
		},
		{ id: "bridge", title: "Ignition off. Bridge the ballast for one try, no more", engine: "off", only: bridged, undoes: ["ballast-bridged"], cautions: ["hot", "ignitionOn"], text: ["A lead with clips at both ends, clear of the body."] },
		startEngine({
			id: "try", title: "Start it, bridged: seconds, not minutes. Then ignition off", done: "Next step", only: bridged, cautions: ["carbonMonoxide", "brake", "fan", "highTension", "hot", "people", "phone"], text: ["Hand near the key."],
			asks: [{ key: "bridged", label: "With the bridge it", kind: "choice", options: [{ value: "fires", label: "starts with the starter turning" }, { value: "same", label: "fires no better" }] }], judge: "bridged", onFail: ["The bridge comes off first."],
		}),
		{ id: "unbridge", title: "Take the bridge off the ballast", engine: "off", only: bridged, restores: ["ballast-bridged"], cautions: ["hot"] },
		{ ...kingLeadOff(), only: plain },
		{ id: "volts", title: "Measure the volts at the coil with the starter turning", engine: "off", only: plain, cautions: ["brake", "fan", "highTension", "people"], page: { name: "volts", label: "Volts, the starter turning" }, text: ["At the battery at least 9.6 V on 12 V, 4.8 V on 6 V (common practice). Less: the battery, its leads or the starter.", "Good there, little or nothing at the coil: the ignition switch loses it in its start position."] },
		{ ...kingLeadOn(), only: plain },
	];
}

/** @returns {Procedure} */
export const strobeIdle = () => ({
	name: "strobe-idle", title: "Strobe at idle: the base", judges: "base",
	why: "The base moves every speed alike. Idle must lie below where the weights begin, or this is not the base.",
	tools: [t("strobe"), "tachometer", "spanner for the clamp", "golf tee for the pipe", "chalk for the mark"],
	before: ["Points set, static timing proved", "Mark cleaned and chalked"],
	steps: [
		{
			id: "chalk", title: "Engine off. Clean the mark and the pointer, chalk them", engine: "off", cautions: ["fan", "hot", "solvents"],
			asks: [{ key: "prop", label: `The ${t("bonnet")} stands`, kind: "choice", options: [{ value: "own", label: "on its own stay" }, { value: "prop", label: "on a prop" }] }],
			mayUndo: [{ answer: "prop", is: ["prop"], what: "bonnet-prop" }],
		},
		pipeOff(),
		strobeOn(),
		startEngine({ title: "Start the engine; let it get warm", cautions: ["carbonMonoxide", "brake", "fan", "strobe", "people", "phone"] }),
		{
			id: "idle", title: "Let it idle. Read the speed", engine: "running", cautions: ["fan", "carbonMonoxide"], figure: "idle",
			text: ["Below the speed where the weights begin. Too fast? Turn the idle screw down; it goes on the list."],
			asks: [{ key: "rpm", label: "Idle speed", kind: "speed", unit: "engine rpm" }, { key: "screw", label: "The idle screw", kind: "choice", options: [{ value: "left", label: "left alone" }, { value: "moved", label: "was turned" }] }],
			mayUndo: [{ answer: "screw", is: ["moved"], what: "idle-screw" }],
		},
		{
			id: "read", title: "Point the strobe. Read the mark", engine: "running", cautions: ["strobe", "highTension", "fan"], figure: "expectedIdle",
			text: ["Same eye position each time."],
			asks: [{ key: "deg", label: "The mark stands at", kind: "timing", unit: "crank degrees", fact: "strobeFound" }],
			judge: "strobe", records: true, keeps: { rpm: "rpm", deg: "deg" }, onFail: ["Slacken the clamp a little. Body AGAINST the rotor’s direction is earlier, WITH it later.", "If static was right and this is wrong, the weights do not return: do not hide it with the body."],
		},
		{ id: "slacken", title: "Needs moving? Slacken the clamp until the body just turns", engine: "running", mayUndo: [{ answer: "move", is: ["yes"], what: "clamp-loose" }], cautions: ["strobe", "fan", "highTension"], text: ["Right already? Leave it alone."], asks: [{ key: "move", label: "The base", kind: "choice", options: [{ value: "no", label: "stays as it is" }, { value: "yes", label: "is moved" }] }] },
		{ id: "set", title: "Turn the body until the mark stands right", engine: "running", only: { answer: "move", is: ["yes"] }, changes: "distributor-moved", figure: "against", cautions: ["strobe", "highTension", "fan", "overAdvance", "law"] },
		{ id: "tighten", title: "Tighten the clamp", engine: "running", only: { answer: "move", is: ["yes"] }, restores: ["clamp-loose"], cautions: ["strobe", "fan"] },
		{
			id: "again", title: "Strobe again, AFTER tightening", engine: "running", only: { answer: "move", is: ["yes"] }, cautions: ["strobe", "highTension", "law"], figure: "expectedIdle",
			asks: [{ key: "rpmAgain", label: "Idle speed", kind: "speed", unit: "engine rpm" }, { key: "degAgain", label: "The mark stands at", kind: "timing", unit: "crank degrees", fact: "strobeFound" }],
			judge: "strobe", records: true, keeps: { rpm: "rpmAgain", deg: "degAgain" }, onFail: ["Tightening moved it: slacken, allow for it, tighten, read again."],
		},
		{ id: "screw-back", title: "Set the idle screw back", engine: "running", only: { answer: "screw", is: ["moved"] }, restores: ["idle-screw"], putsBack: true, cautions: ["fan", "carbonMonoxide"] },
		strobeOff(),
		pipeOn(),
		{ id: "prop-off", title: "Take the prop away", engine: "off", only: { answer: "prop", is: ["prop"] }, restores: ["bonnet-prop"], cautions: ["fan"] },
		finish(),
	],
});

/** @returns {Procedure} */
export const statedSpeed = () => ({
	name: "stated-speed", title: "Timing at a stated speed", judges: "base",
	why: "On a worn or unknown curve the total is what matters: set it there and accept what idle gives.",
	tools: [t("strobe"), "tachometer", "degree tape or dial-back strobe", "helper on the throttle", "golf tee for the pipe"],
	before: ["Warm, vacuum pipe off and plugged", "Helper knows the signal to let go"],
	steps: [
		pipeOff(),
		strobeOn(),
		startEngine(),
		{
			id: "speed", title: "Which speed does the figure belong to?", engine: "running", cautions: ["fan", "carbonMonoxide"], figure: "statedSpeed",
			asks: [{ key: "rpm", label: "Speed to hold", kind: "speed", unit: "engine rpm" }],
		},
		{ id: "hold", title: "Helper holds the speed. Stand aside of the fan", engine: "fast", cautions: ["highIdle", "strobe", "fan"], holdSeconds: 20, figure: "statedSpeed" },
		{
			id: "read", title: "Read the mark at that speed", engine: "fast", cautions: ["strobe", "highTension", "highIdle"], figure: "expectedStated",
			asks: [{ key: "deg", label: "The mark stands at", kind: "timing", unit: "crank degrees", fact: "statedFound" }],
			judge: "strobe", records: true, keeps: { rpm: "rpm", deg: "deg" }, onFail: ["Let the speed fall. Slacken, move a little, hold again, read again."],
		},
		{
			id: "beyond", title: "Hold 300 to 500 rpm more. Does it still rise?", engine: "fast", cautions: ["highIdle", "strobe", "overAdvance"], holdSeconds: 20,
			asks: [{ key: "rises", label: "The mark", kind: "choice", options: [{ value: "no", label: "stands still" }, { value: "yes", label: "still moves earlier" }] }],
			judge: "allIn", onFail: ["It was not all in. Take the figure again at the higher speed, and set the total there."],
		},
		{ id: "set", title: "Speed down. Slacken, set, tighten", engine: "running", changes: "distributor-moved", figure: "against", cautions: ["strobe", "highTension", "fan", "overAdvance", "law"], text: ["AGAINST the rotor is earlier. Then hold again and read after tightening. Right already? Go on."] },
		{
			id: "idle", title: "Read idle too: it is reported, not set", engine: "running", cautions: ["strobe", "highTension"], asks: [{ key: "idleDeg", label: "At idle it stands at", kind: "timing", unit: "crank degrees", fact: "idleAfterStated", isOptional: true }],
		},
		strobeOff(),
		pipeOn(),
		finish(),
	],
});
