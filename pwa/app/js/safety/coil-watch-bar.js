// The coil watch on the screen: a bar on every page while the ignition is on
// with the engine still. It counts; after a minute it warns, after two it
// sounds, shakes and fills the screen. Nothing in it flashes: a strobe may be
// in use, and eyes may be sensitive.

import { clockOf, coilWatch, limits, secondsOf, stageOf } from "./coil-watch.js";
import { ignitionOff } from "./standing.js";
import { fill, h } from "../kit/dom.js";
import { canVibrate, sounder, vibrate } from "../kit/platform.js";
import { button, nextButton } from "../kit/field.js";
import { mark } from "../kit/mark.js";

const said = h("p", { class: "coil-said" });
const count = h("span", { class: "coil-count figures", role: "timer" });
const silence = h("p", { class: "coil-silence note" });
const urgent = h("p", { class: "vh", role: "alert" });
const off = button([mark("done"), " Ignition is off"], turnedOff, "coil-off");
const bar = h(
	"section",
	{ class: "coil-watch", "aria-label": "Coil watch" },
	h("div", { class: "coil-line" }, said, count),
	off,
	silence,
	urgent,
);
const sound = sounder();
let stage = "";
let beat = 0;
let ticking = 0;

/** startCoilWatch takes up a watch that was running when the app was left. Called once, at start. */
export async function startCoilWatch() {
	coilWatch.on(draw);
	for (const event of ["click", "keydown"])
		addEventListener(
			event,
			() => {
				if (coilWatch.now()) sound.wake();
			},
			{ capture: true, passive: true },
		);
	document.addEventListener("visibilitychange", draw);
	await coilWatch.resume();
}

/**
 * watchButton is what a step offers that leaves the ignition on: it starts the
 * watch, or says that it runs.
 * @param {string} car by name @param {string} why @param {AbortSignal} signal @param {{isNext: boolean}} [how]
 */
export function watchButton(car, why, signal, { isNext } = { isNext: false }) {
	const room = h("div", { class: "watch-offer" });
	const show = () => {
		const start = () => {
			sound.wake();
			coilWatch.begin(car, why);
		};
		const label = "Ignition on now: start the coil watch";
		fill(
			room,
			coilWatch.now()
				? h(
						"p",
						{ class: "watch-runs" },
						mark("caution"),
						" The coil watch runs. Work briskly, and switch off in between.",
					)
				: isNext
					? nextButton(label, start)
					: button(label, start),
		);
	};
	show();
	signal.addEventListener("abort", coilWatch.on(show));
	return room;
}

function draw() {
	const watch = coilWatch.now();
	if (!watch) return rest();
	const notices = document.getElementById("notices");
	if (bar.parentNode !== notices) notices?.append(bar);
	document.querySelector(".coil-ended")?.remove();
	const warm = (watch.carried ?? 0) >= 1 ? `still warm: counts from ${clockOf(Math.floor(watch.carried ?? 0))}` : "";
	fill(
		said,
		h("strong", null, "Ignition on, engine still"),
		h("small", null, [watch.car, watch.why, warm].filter(Boolean).join(" · ")),
	);
	if (!ticking) ticking = window.setInterval(tick, 500);
	tick();
}

function rest() {
	clearInterval(ticking);
	ticking = beat = 0;
	stage = "";
	fill(urgent);
	sound.rest();
	delete document.documentElement.dataset.coil;
	bar.remove();
}

function tick() {
	const watch = coilWatch.now();
	if (!watch) return rest();
	const seconds = secondsOf(watch);
	const next = stageOf(seconds);
	fill(count, clockOf(seconds));
	if (next !== stage) enter(next);
	if (stage === "counting") return;
	fill(
		silence,
		[
			sound.isAwake() ? "" : "Tap anywhere to let it sound.",
			canVibrate ? "" : "This browser cannot shake the phone: look and listen.",
		]
			.filter(Boolean)
			.join(" "),
	);
	beat++;
	if (beat % (stage === "alarm" ? 3 : 20) !== 1) return; // every 1.5 s, or every 10 s as a warning
	sound.beep(stage === "alarm" ? 880 : 660, stage === "alarm" ? 0.7 : 0.3);
	vibrate(stage === "alarm" ? [600] : [200]);
}

/** @param {ReturnType<typeof stageOf>} next */
function enter(next) {
	stage = next;
	beat = 0;
	bar.className = `coil-watch is-${next}`;
	document.documentElement.dataset.coil = next;
	off.classList.toggle("next", next !== "counting");
	fill(silence);
	fill(
		urgent,
		next === "soon"
			? "One minute with the ignition on. Switch it off soon."
			: next === "alarm"
				? "Two minutes. Switch the ignition off now: the coil is overheating."
				: "",
	);
	if (next === "alarm")
		fill(
			said,
			h("strong", null, "Switch the ignition off"),
			h(
				"small",
				null,
				`More than ${limits.last / 60} minutes with the engine still overheat a coil. Ballast and wires get hot enough to burn you and to start a fire. One to two minutes at most (common practice). Let it cool before you go on.`,
			),
		);
}

function turnedOff() {
	const { ran, counted } = ignitionOff();
	const warm =
		counted >= limits.first
			? ` The coil is warm: switched on again soon, the count goes on from about ${clockOf(counted)}.`
			: "";
	const note = h(
		"div",
		{ class: "bar coil-ended", role: "status" },
		h("p", null, `Ignition off. It was on for ${clockOf(ran)}.${warm}`),
		h(
			"button",
			{ type: "button", class: "bar-close", "aria-label": "Close", on: { click: () => note.remove() } },
			mark("remove"),
		),
	);
	document.querySelector(".coil-ended")?.remove();
	document.getElementById("notices")?.append(note);
	setTimeout(() => note.remove(), 20_000);
}
