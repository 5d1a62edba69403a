// What turns the crank and sets the speed: steps and sliders, jumps to what
// happens, and a play button. Nothing moves unless it was started.

import { fill, h } from "../kit/dom.js";
import { button, choice } from "../kit/field.js";
import { rpm as rpmText } from "../kit/format.js";
import { stepper } from "../kit/stepper.js";
import { inEnglish } from "../kit/words.js";
import { angleWords, eventOf, firstDeg, lastDeg, strokeAt } from "./moment.js";

/** @typedef {import("./moment.js").Turn} Turn */

/** @param {number} value @param {(deg: number) => void} onChange */
export const crankStepper = (value, onChange) =>
	stepper({
		name: "Turn the crank",
		min: firstDeg,
		max: lastDeg,
		step: 1,
		value,
		rest: 0,
		words: (deg) => inEnglish(`${angleWords(deg)}, ${strokeAt(deg)} stroke`),
		less: "1 degree back",
		more: "1 degree on",
		onChange,
	});

export const slowest = 300;
export const fastest = 6000;

/** @param {number} value @param {(rpm: number) => void} onChange */
export function speedStepper(value, onChange) {
	let now = value;
	const fine = stepper({
		name: "Engine speed",
		min: slowest,
		max: fastest,
		step: 100,
		value,
		rest: value,
		words: (rpm) => `${rpmText(rpm)} engine rpm`,
		less: "100 less",
		more: "100 more",
		onChange: (rpm) => {
			now = rpm;
			onChange(rpm);
		},
	});
	const by = (/** @type {number} */ change) => () => {
		now = Math.min(fastest, Math.max(slowest, now + change));
		fine.set(now);
		onChange(now);
	};
	return {
		element: h(
			"div",
			null,
			fine.element,
			h("div", { class: "why-pair" }, button("500 rpm less", by(-500)), button("500 rpm more", by(500))),
		),
		/** @param {number} rpm */
		set(rpm) {
			now = rpm;
			fine.set(rpm);
		},
	};
}

const jumps = [
	{ event: "points close", label: "Points close" },
	{ event: "spark", label: "Points open: spark" },
	{ event: "50 % burnt", label: "Half burnt" },
	{ event: "peak pressure", label: "Top pressure" },
];

/**
 * Buttons that turn the crank to what happens; what is left out cannot be jumped to.
 * @param {(deg: number) => void} go
 */
export function jumpButtons(go) {
	/** @type {Turn | null} */
	let turn = null;
	const all = jumps.map(({ event, label }) => {
		const one = /** @type {HTMLButtonElement} */ (
			button(label, () => {
				const deg = turn ? eventOf(turn, event) : null;
				if (deg !== null) go(deg);
			})
		);
		one.disabled = true;
		return { event, one };
	});
	return {
		element: h(
			"div",
			{ class: "why-pair", role: "group", "aria-label": "Jump to" },
			all.map(({ one }) => one),
		),
		/** @param {Turn} next */
		know(next) {
			turn = next;
			for (const { event, one } of all) one.disabled = eventOf(next, event) === null;
		},
	};
}

/** Seconds for one turn of the crank; the quickest lets nothing flash. */
export const paces = [
	{ value: "8", label: "8 s a turn" },
	{ value: "16", label: "16 s a turn" },
	{ value: "32", label: "32 s a turn" },
];
const reducedStep = 10; // degrees a second for those who want little motion
const wholeCycle = lastDeg - firstDeg;

/**
 * player turns the crank once it is started, and stops with the page.
 * @param {object} of
 * @param {() => number} of.deg where the crank stands @param {(deg: number) => void} of.turn called for every picture
 * @param {(isPlaying: boolean) => void} of.told @param {AbortSignal} of.signal
 */
export function player({ deg, turn, told, signal }) {
	let [pace, running] = [8, 0];
	const toggle = button("Play", () => (running ? stop() : start()), "why-play");
	const isReduced = () => globalThis.matchMedia?.("(prefers-reduced-motion: reduce)").matches === true;

	/** @param {number} by degrees */
	const on = (by) => turn(firstDeg + ((deg() + by - firstDeg) % wholeCycle));

	function start() {
		const mine = ++running;
		const isMine = () => running === mine && !signal.aborted;
		show();
		if (isReduced()) {
			const timer = setInterval(() => (isMine() ? on(reducedStep) : clearInterval(timer)), 1000);
			return;
		}
		let before = performance.now();
		const frame = (/** @type {number} */ now) => {
			if (!isMine()) return;
			// a phone that slept goes on where it was
			on((Math.min(250, Math.max(0, now - before)) * 360) / (pace * 1000));
			before = now;
			requestAnimationFrame(frame);
		};
		requestAnimationFrame(frame);
	}

	function stop() {
		if (!running) return;
		running = 0;
		show();
	}

	function show() {
		fill(toggle, running ? "Stop" : "Play");
		told(running > 0);
	}

	const speed = choice({
		label: "One turn of the crank in",
		name: "why-pace",
		value: "8",
		options: paces,
		isRow: true,
		isPlain: true,
		onChange: (value) => {
			pace = Number(value);
		},
	});
	return { element: h("div", { class: "why-player" }, toggle, speed.element), stop };
}
