// The phone's microphone as a tachometer. It listens only after a tap, with
// the phone's own processing of speech switched off, and nothing it hears is
// kept or sent anywhere.

import { Sound, followed, hear } from "./hearing.js";
import { fill, h } from "../kit/dom.js";
import { rpm } from "../kit/format.js";
import { scriptURL } from "../kit/platform.js";
import { problemLine } from "../kit/field.js";
import { firingQuestion } from "./firing-question.js";
import { mark } from "../kit/mark.js";

const between = 450; // ms between two answers
const surenessWords = { sure: "sure", likely: "likely", possible: "possible: another speed fits nearly as well" };
const processing = /** @type {const} */ (["echoCancellation", "noiseSuppression", "autoGainControl"]);

/**
 * ear gives a button that listens, and the speed that is heard.
 * @param {{car: string, cylinders: number | null, expected: () => number | null, onUse: (engineRPM: number) => void,
 *   signal: AbortSignal}} options
 */
export function ear({ car, cylinders, expected, onUse, signal }) {
	const room = h("div", { class: "ear", role: "group", "aria-label": "Speed by ear" });
	/** @type {{stop: () => void} | null} */
	let listening = null;
	const firing = cylinders === null ? null : firingQuestion(car, cylinders);
	const stop = (/** @type {string} */ why = "") => {
		listening?.stop();
		listening = null;
		fill(
			room,
			offer(),
			firing?.element,
			why ? h("p", { class: "problem-line", role: "alert" }, mark("fail"), h("span", null, why)) : null,
		);
	};
	const offer = () => h("button", { type: "button", class: "button", on: { click: begin } }, "Hear the speed");
	async function begin() {
		if (firing === null)
			return stop("The number of cylinders is not entered. Enter it under Facts: the speed follows from it.");
		const said = firing.now();
		if (said.problem) {
			firing.open();
			return fill(room, offer(), firing.element, problemLine(said.problem));
		}
		const view = show(
			() => stop(),
			(speed) => {
				onUse(speed);
				stop();
			},
		);
		fill(room, view.element);
		try {
			listening = await listen(said.firing, expected, view.tell);
			if (signal.aborted) listening.stop();
		} catch (error) {
			stop(whyNot(/** @type {any} */ (error)));
		}
	}
	signal.addEventListener("abort", () => listening?.stop());
	fill(room, offer(), firing?.element);
	return room;
}

/** @param {() => void} onStop @param {(engineRPM: number) => void} onUse */
function show(onStop, onUse) {
	const number = h("p", { class: "ear-number figures", role: "status" }, "…");
	const words = h(
		"p",
		{ class: "ear-words" },
		"Listening. Hold the phone to the tail pipe’s side, out of the gas and the wind.",
	);
	const actions = h("div");
	const quiet = h("button", { type: "button", class: "button", on: { click: onStop } }, "Stop listening");
	let drawn = "";
	/** @param {import("./hearing.js").Heard | null} heard @param {string} [trouble] @param {string} [warning] */
	const tell = (heard, trouble = "", warning = "") => {
		fill(number, heard ? `${rpm(heard.engineRPM)}` : "…");
		fill(
			words,
			heard
				? h("span", null, h("strong", null, "engine rpm, "), surenessWords[heard.sureness])
				: trouble || "Listening.",
			warning ? h("span", { class: "note" }, ` ${warning}`) : null,
		);
		const speeds = heard
			? [
					Math.round(heard.engineRPM / 10) * 10,
					...(heard.sureness === "sure"
						? []
						: heard.alternatives.slice(0, 2).map((one) => Math.round(one.engineRPM / 10) * 10)),
				]
			: [];
		if (drawn === speeds.join()) return; // a button is not drawn again under the finger
		drawn = speeds.join();
		fill(
			actions,
			speeds.map((speed, i) =>
				h(
					"button",
					{ type: "button", class: "button ear-use", on: { click: () => onUse(speed) } },
					i === 0 ? `Use ${rpm(speed)}` : `or it is ${rpm(speed)}: use that`,
				),
			),
		);
	};
	return { element: h("div", { class: "ear-open" }, number, words, actions, quiet), tell };
}

/**
 * listen opens the microphone and answers again and again.
 * @param {import("./heard-firing.js").Firing} firing @param {() => number | null} expected
 * @param {(heard: import("./hearing.js").Heard | null, trouble?: string, warning?: string) => void} tell
 */
async function listen(firing, expected, tell) {
	if (!navigator.mediaDevices?.getUserMedia || typeof AudioWorkletNode !== "function")
		throw new DOMException("", "NotSupportedError");
	const stream = await navigator.mediaDevices.getUserMedia({
		audio: { echoCancellation: false, noiseSuppression: false, autoGainControl: false },
	});
	const [track] = stream.getAudioTracks();
	const now = /** @type {{[name: string]: unknown}} */ (track.getSettings());
	const still = processing.filter((name) => now[name] === true);
	const warning = [
		still.length ? "This phone goes on shaping the sound as speech; the speed may be wrong." : "",
		firing.intervals ? "" : "Taken as firing evenly.",
	]
		.filter(Boolean)
		.join(" ");
	const audio = new AudioContext();
	const sound = new Sound();
	/** @type {import("./hearing.js").Heard[]} */
	let answers = [];
	const follow = (/** @type {import("./hearing.js").Heard | null} */ answer) => {
		const now = followed(answers, answer);
		answers = now.answers;
		return now.heard;
	};
	let isAsking = false;
	const ask = async () => {
		if (isAsking || !sound.isEnough) return;
		isAsking = true;
		try {
			tell(follow(await hear(sound, firing, expected())), "Listening.", warning);
		} catch (problem) {
			tell(
				follow(null),
				`${/** @type {Problem} */ (problem).detail ?? ""}. ${/** @type {Problem} */ (problem).do ?? ""}`.replace(
					/^\w/,
					(c) => c.toUpperCase(),
				),
				warning,
			);
		}
		isAsking = false;
	};
	const timer = setInterval(ask, between);
	const stop = () => {
		clearInterval(timer);
		track.stop();
		audio.close().catch(() => {});
	};
	try {
		await audio.audioWorklet.addModule(scriptURL(new URL("./ear-worklet.js", import.meta.url)));
		const worklet = new AudioWorkletNode(audio, "ear");
		worklet.port.onmessage = ({ data }) => sound.add(data.rate, data.sound);
		audio.createMediaStreamSource(stream).connect(worklet);
		if (audio.state === "suspended") await audio.resume();
	} catch (error) {
		stop();
		throw error;
	}
	return { stop };
}

/** @param {{name?: string, message?: string}} error */
export function whyNot({ name, message }) {
	switch (name) {
		case "NotAllowedError":
			return "The microphone is not allowed. Allow it for this address in the browser’s settings, or read the speed from a meter.";
		case "NotFoundError":
			return "This device has no microphone. Read the speed from a meter.";
		case "NotReadableError":
			return "Another program holds the microphone. End the call or the recorder and try again.";
		case "NotSupportedError":
			return `This browser gives ${globalThis.isSecureContext ? "pages no microphone" : "no microphone here: it wants an https:// address"}. Read the speed from a meter.`;
		default:
			return `The microphone did not start (${message || name}). Read the speed from a meter, or try again.`;
	}
}
