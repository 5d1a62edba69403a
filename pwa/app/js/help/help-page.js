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
	how: { title: "How it works, to tell a friend", body: how },
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
				"Name the car. Enter what you know about it; mark each fact as book, measured, common practice or guess.",
				"Type the book’s table as it is printed. Three questions decide everything: crank or distributor degrees, engine or distributor rpm, base in or out of the figures. Both ways of writing each row stand beneath it.",
				"Take readings, on the bench or on the car: rising through the speeds, then falling. Every figure is saved as you type it.",
				"Read the verdict: whether the base or the curve is wrong, which part to touch and which way, how sure that is, and what would prove it wrong.",
				"Try the repair on paper under “What if”, do it, and read again.",
			].map((text) => h("li", null, inEnglish(text))),
		),
		h(
			"p",
			null,
			"A right reading at idle proves nothing about the curve: base and curve can be wrong together and hide each other there. Prove the static figure with a lamp, and read at several speeds.",
		),
		h(
			"p",
			null,
			"On the readings page any figure can be tapped to correct it. A keyboard works too: digits, Enter to save, minus for the other side of TDC.",
		),
		h(
			"p",
			{ class: "note" },
			"Order of the whole job: engine fit to tune, wear, points, static timing, strobe, curve, vacuum, idle, mixture. A change early in it makes the rest due again.",
		),
	];
}

function safety() {
	return [
		h("p", null, deferral),
		h(
			"ul",
			null,
			[
				"Strobe light makes fan, belts and pulleys look still. Cables away from them, no ties, sleeves, rings, long hair. Electric fans may start with the engine off.",
				"High tension is mostly a jerk, but the jerk throws the hand into the fan. With a pacemaker, stay away from a live ignition. Never hold two leads.",
				"Handbrake on, out of gear, wheels chocked, level ground; someone at the key who knows how to stop it.",
				"Turning by hand: plugs out, ignition feed off, clear of the spanner. Never use the starter with a piston stop fitted.",
				"Carbon monoxide: doors open, gas led outside, an alarm. Minutes can be enough.",
				"Fuel vapour: no smoking, extinguisher at hand, leaks mended first, no open sparks near fuel.",
				"Manifold, radiator cap, coil and ballast are hot. Ignition on with the engine still heats the coil.",
				"Too much advance breaks pistons and rings quickly, most of all at high load: back off at the first knock. Late timing overheats the exhaust.",
				"High speeds for 20 seconds at most, standing aside of the fan’s plane.",
				"Bench: guard on, distributor clamped, no gloves near the chuck, high tension short to earth, air.",
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
						h("td", null, uk === us ? null : `${isUS ? uk : us}. `, meaning),
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
			"Once the app has said “Ready to work offline”, this phone needs no network and no server: it calculates by itself and keeps every car and reading.",
		),
		h(
			"p",
			null,
			"When the server answers, changes go to it and the changes of other phones come back. If two phones changed the same thing, the later one stands, the other is kept until someone chooses (",
			h("a", { href: "#/kept" }, "kept copies"),
			"), and readings of both are united. A phone is let in once, with a code: ",
			h("a", { href: "#/join" }, "pair this phone"),
			".",
		),
		h(
			"p",
			null,
			"A browser keeps the app only over https, or on the machine itself. Over plain http it works while connected, and what you type is saved on the phone all the same.",
		),
		h(
			"p",
			null,
			"Put it on the home screen first and enter cars there: on some phones the home screen’s app and the browser keep their stores apart. The export under ",
			h("a", { href: "#/keep-safe" }, "Keep it safe"),
			" moves a garage from one to the other.",
		),
	];
}
