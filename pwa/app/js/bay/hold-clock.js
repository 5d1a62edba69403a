// The clock of a step: seconds that a speed is held at most, or seconds that a
// thing is waited for before it is read.

import { fill, h } from "../kit/dom.js";
import { speak } from "../kit/spoken.js";

/**
 * clockWords gives how many seconds the clock of a step counts, and what it
 * says; null where it has none. A throttle is let go early rather than late; a
 * leak shows only to those who wait.
 * @param {ProcedureStep} step
 */
export function clockWords({ holdSeconds, waitSeconds }) {
	if (holdSeconds) return { seconds: holdSeconds, note: "seconds at most", start: "Count", end: "Let go" };
	return waitSeconds
		? { seconds: waitSeconds, note: "seconds to wait, then read", start: "Wait and count", end: "Read it now" }
		: null;
}

/**
 * stepClock counts down once it is started; null where the step has no clock.
 * @param {ProcedureStep} step
 * @param {AbortSignal} signal
 */
export function stepClock(step, signal) {
	const words = clockWords(step);
	if (!words) return null;
	const shown = h("output", { class: "hold-number figures" }, String(words.seconds));
	const note = h("span", { class: "note" }, words.note);
	/** @type {ReturnType<typeof setInterval> | undefined} */
	let ticking;
	const start = () => {
		clearInterval(ticking);
		fill(note, words.note);
		const until = Date.now() + words.seconds * 1000;
		ticking = setInterval(() => {
			const left = Math.max(0, Math.ceil((until - Date.now()) / 1000));
			fill(shown, String(left));
			if (left > 0) return;
			clearInterval(ticking);
			fill(note, words.end);
			speak(words.end);
		}, 200);
	};
	signal.addEventListener("abort", () => clearInterval(ticking));
	return h(
		"div",
		{ class: "hold-clock" },
		shown,
		note,
		h("button", { type: "button", class: "button", on: { click: start } }, words.start),
	);
}
