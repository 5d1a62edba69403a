// How to use it, how ignition works, the words, the cautions, how offline works.

import { deferral } from "../kit/caution.js";
import { notOffline } from "../kit/not-offline.js";
import { fill, h } from "../kit/dom.js";
import { fold } from "../kit/fold.js";
import { howItWorks } from "./how-it-works.js";
import { inEnglish, speaking } from "../kit/words.js";
import { glossary } from "./glossary.js";

/** @type {{[topic: string]: {title: string, body: () => unknown[]}}} */
const topics = {
	use: { title: "How to use it", body: howToUse },
	safety: { title: "Before anything turns, sparks or burns", body: safety },
	bench: { title: "A distributor without a car", body: bench },
	record: { title: "The record", body: record },
	hunt: { title: "The fault hunt", body: hunt },
	how: { title: "How it works", body: how },
	words: { title: "Words", body: words },
	offline: { title: "How offline works", body: offline },
};
/** Help for a page is the topic it belongs to. @type {{[page: string]: string}} */
const topicOf = {
	car: "use",
	facts: "use",
	book: "use",
	readings: "safety",
	verdict: "use",
	"what-if": "use",
	strobe: "use",
	condition: "safety",
	volts: "safety",
	points: "safety",
	spark: "safety",
	condenser: "safety",
	unit: "bench",
	work: "bench",
	fits: "record",
	history: "record",
	compare: "record",
};

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	const asked = ctx.params.topic ?? "";
	const first = topicOf[asked] ?? asked;
	const names = Object.keys(topics).sort((a, b) => Number(b === first) - Number(a === first));
	root.classList.add("help");
	fill(
		root,
		names.map((name) => {
			const topic = fold(
				`help/${name}`,
				{ title: topics[name].title },
				h("div", { id: `help-${name}` }, /** @type {any[]} */ (topics[name].body())),
			);
			if (name === names[0]) topic.open = true;
			return topic;
		}),
	);
}

function howToUse() {
	return [
		h(
			"ol",
			null,
			[
				"Name the car. Enter what you know about it. Mark each fact as book, measured, common practice or guess.",
				"Type the book’s table as it is printed. Answer three questions: crank or distributor degrees, engine or distributor rpm, base in or out of the figures. Each row is shown both ways beneath it.",
				"Take readings, on the bench or on the car. Go up through the speeds, then down. Nothing typed is lost.",
				"Read the verdict. Is the base wrong or the curve? Which part to touch, which way, how sure? What would show it wrong?",
				"Try the repair on paper under “What if”, do it, and read again.",
			].map((text) => h("li", null, inEnglish(text))),
		),
		h(
			"p",
			null,
			inEnglish(
				"A right reading at idle proves nothing about the curve. Base and curve can both be wrong and hide each other there. Prove the static figure with a test lamp. Then read at several speeds.",
			),
		),
		h(
			"p",
			null,
			inEnglish(
				"Tap any reading to correct it. A keyboard works too: digits, Enter to save, minus for the other side of TDC.",
			),
		),
		h(
			"p",
			{ class: "note" },
			inEnglish(
				"Order of work: engine fit to tune, wear, points, static timing, strobe, curve, vacuum, idle, mixture. After a change early in it the rest must be done again.",
			),
		),
	];
}

/** @param {string[]} lines */
const said = (lines) => lines.map((line) => h("p", null, inEnglish(line)));

function bench() {
	return said([
		"Take it on the bench by its name or number, in the garage. It has its own book, readings, verdict and sheet.",
		"Note each work done: the part, the old figure, the new one. Readings before a change of springs, posts or stop stand apart from readings after it.",
		"Say whose it is and where it lies. Fit it to a car when it is right. What was in that car comes on the bench.",
		"On the car, what hangs on the distributor is then to be done again. What was measured of the engine stays.",
	]);
}

function record() {
	return said([
		"Every run is named by what was done before it: as found, after the primary spring was replaced. Verdict, card and link keep them apart.",
		"Before and after lays two runs over one another and says what was done between them. The second may be of another distributor.",
		"Write down the miles when you read dwell or static timing. From the second reading on the history says how fast it drifts, and when to check again.",
		"Which one fits? holds the distributors on the shelf against this car’s book. It is a rough search: read the one you choose before you bend anything.",
	]);
}

function hunt() {
	return said([
		"Tell what the car does, and when. Tell what was changed last before it began.",
		"What is on file speaks by itself: volts, curve, checks. It is not asked again.",
		"One test comes next: the one that tells most for its minutes. Say what you saw. Any answer can be taken back.",
		"The shares are judgement. They guide; they prove nothing. Repair what a test has shown, not what is only likely.",
		"At the roadside with only a test lamp: the garage has a card for that, at its foot.",
	]);
}

function safety() {
	return [
		h("p", null, deferral),
		h(
			"ul",
			null,
			[
				"Under the strobe, fan, belts and pulleys look still. They are not. Keep leads away. No ties, sleeves, rings or long hair. An electric fan can start with the engine off.",
				"High tension gives a jerk. The jerk throws the hand into the fan. Do not touch any lead. With a pacemaker, stay away from a live ignition.",
				"Handbrake on, out of gear, wheels chocked, level ground; someone at the key who knows how to stop it.",
				"Before you turn the engine by hand: plugs out, ignition feed off, hands clear of the spanner. Never use the starter with a piston stop in.",
				"Exhaust gas kills in minutes. Doors open, gas led outside, alarm on.",
				"Fuel vapour burns. No smoking. Extinguisher at hand. Repair leaks first. No open sparks near fuel.",
				"Manifold, radiator cap, coil and ballast are hot. Ignition on with the engine still heats the coil.",
				"Too much advance breaks pistons and rings, fastest at high load. Back off at the first knock. Late timing overheats the exhaust.",
				"High speed: 20 seconds at most. Stand aside of the fan’s plane.",
				"Bench: guard on, distributor clamped, no gloves near the chuck. Keep high tension short to earth. Let air in.",
				"On the road the passenger takes notes, never the driver.",
				"Children and pets out. Switch off before touching someone who is in contact.",
				"Set within the rules of your country for emissions and road use.",
			].map((text) => h("li", null, inEnglish(text))),
		),
	];
}

function how() {
	return [
		h(
			"ol",
			null,
			howItWorks.map(({ title, text }) =>
				h("li", null, h("strong", null, inEnglish(title)), " ", inEnglish(text)),
			),
		),
	];
}

function words() {
	const isUS = speaking() === "us";
	return [
		h(
			"p",
			{ class: "note" },
			"Choose British or American words under ",
			h("a", { href: "#/settings" }, "Settings"),
			".",
		),
		h(
			"table",
			{ class: "words-table" },
			h(
				"thead",
				null,
				h(
					"tr",
					null,
					h("th", { scope: "col" }, isUS ? "American" : "British"),
					h("th", { scope: "col" }, isUS ? "British, and what it is" : "American, and what it is"),
				),
			),
			h(
				"tbody",
				null,
				glossary.map(([uk, us, meaning]) =>
					h(
						"tr",
						null,
						h("th", { scope: "row" }, isUS ? us : uk),
						h(
							"td",
							null,
							uk === us ? null : h("span", { class: "other-english" }, `${isUS ? uk : us}. `),
							inEnglish(meaning),
						),
					),
				),
			),
		),
	];
}

function offline() {
	return [
		notOffline(),
		h(
			"p",
			null,
			"When the app has said “Ready to work offline”, this phone needs no network and no server. It calculates by itself. It keeps every car and reading.",
		),
		h(
			"p",
			null,
			"When the server answers, your changes go to it, and the changes of other phones come back. Did two phones change the same thing? The later change stands. The other is kept until someone chooses (",
			h("a", { href: "#/kept" }, "two versions"),
			"). Readings of both are put together. A phone is let in once, with a code: ",
			h("a", { href: "#/join" }, "pair this phone"),
			".",
		),
		h(
			"p",
			null,
			"A browser keeps the app only over https, or on the server’s own machine. Over plain http it works while connected. What you type is saved on the phone in both cases.",
		),
		h(
			"p",
			null,
			inEnglish(
				"Put it on the home screen first. Then enter your cars there. On some phones the browser has a separate store. The export under ",
			),
			h("a", { href: "#/keep-safe" }, "Keep it safe"),
			" moves a garage from one to the other.",
		),
	];
}
