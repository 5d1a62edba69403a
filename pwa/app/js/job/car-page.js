// A car: the chain of the job, what is there, and the one next step.

import { onReady } from "../engine/client.js";
import { jobOf } from "./job.js";
import { lastVerdict } from "../state/last-verdict.js";
import { judgedPages, pageVerdicts } from "../state/page-verdicts.js";
import { distributorFigure } from "./distributor-figure.js";
import { deferral } from "../kit/caution.js";
import { mark, verdictMark } from "../kit/mark.js";
import { workOrder } from "./work-order-list.js";
import { fill, h } from "../kit/dom.js";
import { foldRest } from "../kit/fold.js";
import { address } from "../kit/address.js";
import { breath } from "../kit/platform.js";
import { inEnglish } from "../kit/words.js";

const stateWords = { done: "there", partly: "begun", empty: "nothing yet", again: "to be done again" };

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	const car = /** @type {Doc<Car>} */ (ctx.car);
	const { steps, next } = jobOf(car, ctx.distributor, ctx.visits);
	await breath(); // in parts, so that a finger is heard in between
	const words = verdictWords(car, ctx);
	await breath();
	const work = await workOrder(
		car,
		{
			isBookDone: steps.some(({ name, state }) => name === "book" && state === "done"),
			action: next.action,
			href: next.href,
		},
		ctx.signal,
	);
	await breath();
	fill(
		root,
		work.head,
		[h("p", { class: "note" }, deferral), ownersWords(car)],
		work.chain,
		h("h2", null, "What is written down"),
		h(
			"ol",
			{ class: "chain", role: "list" },
			steps.map((step) =>
				h(
					"li",
					null,
					h(
						"a",
						{ href: step.href, "aria-current": step === next ? "step" : null },
						h("span", { class: "chapter figures" }, step.chapter),
						h(
							"span",
							{ class: "chain-text" },
							titleLine(step.title, words[step.name]),
							h("span", { class: "note" }, step.detail),
						),
						step.name === "verdict"
							? mark("next")
							: [
									mark(step.state === "again" ? "watch" : step.state),
									h("span", { class: "vh" }, stateWords[step.state]),
								],
					),
				),
			),
		),
		others(car, words),
		distributorFigure(car.body.facts, ctx.distributor?.body.facts ?? {}),
	);
	foldRest(root, "car");
}

/** @param {Doc<Car>} car @param {{[page: string]: HTMLElement}} words */
function others(car, words) {
	return [
		h("h2", null, "Also for this car"),
		h(
			"ol",
			{ class: "chain", role: "list" },
			also(car, "9", "what-if", "What if", "Change a spring, a post or the stop on paper first"),
			also(
				car,
				"10",
				"strobe",
				"What the strobe should say",
				"This car’s own table, before the engine is touched",
			),
			also(car, "", "why", "Show why", "The moving picture of the spark, with this car’s own figures"),
			also(
				car,
				"",
				"choose",
				"Choose a curve",
				"Compression raised, other fuel, a lost book: what it should have now",
			),
			also(
				car,
				"",
				"marks",
				"Marks, tape and cap",
				"True zero, distances on the rim, a tape to print, the cap drawn",
			),
			also(
				car,
				"",
				"hunt",
				"The fault hunt",
				"It runs badly: the likeliest causes, and the test that tells most",
			),
			also(car, "", "work", "Work done", "What was replaced, adjusted, cleaned or found"),
			also(car, "", "fits", "Which one fits?", "The distributors on the shelf against this car’s book"),
			also(car, "", "history", "History", "What was done and read, day by day; before and after"),
			also(car, "", "figures", "Figures in and out", "A table from a file or pasted; CSV, files, the library"),
			also(car, "", "photos", "Photos", "Cap, points, mark, a page of the book"),
			also(car, "", "condenser", "Condenser", "Its size, what it leaks, and what it does to the points"),
			also(car, "", "vacuum", "Vacuum capsule", "Does it hold, start, stop where it should", words.vacuum),
			also(car, "", "scatter", "Cylinder by cylinder", "Which one fires earliest, and why", words.scatter),
			also(car, "", "call", "Two-person readings", "Two people at the strobe"),
			also(car, "", "card", "The setup card", "One sheet of how it is set: to print, or to send as a link"),
		),
	];
}

/**
 * A place beside each page for its verdict in a word, filled as soon as it is known.
 * @param {Doc<Car>} car @param {PageContext} ctx
 */
function verdictWords(car, { distributor, signal }) {
	const words = Object.fromEntries(
		["verdict", ...judgedPages].map((page) => [page, h("span", { class: "step-verdict" })]),
	);
	const say = (/** @type {string} */ page, /** @type {{verdict: string} | null} */ found) => {
		if (found) fill(words[page], verdictMark(/** @type {Verdict} */ (found.verdict)));
	};
	let asked = 0;
	const judge = async () => {
		const turn = ++asked;
		Object.values(words).forEach((word) => word.setAttribute("aria-busy", "true"));
		await Promise.allSettled([
			lastVerdict(car).then((found) => say("verdict", found)),
			pageVerdicts({ car, distributor, answers: {} }).then((found) =>
				Object.entries(found).forEach(([page, one]) => say(page, one)),
			),
		]);
		if (turn === asked) Object.values(words).forEach((word) => word.removeAttribute("aria-busy"));
	};
	signal.addEventListener("abort", onReady(judge));
	judge();
	return words;
}

/**
 * A verdict that comes late stands beside the title: nothing moves.
 * @param {string} title @param {HTMLElement} [word]
 */
const titleLine = (title, word) => h("span", { class: "chain-title" }, h("strong", null, title), word);

/** @param {Doc<Car>} car */
function ownersWords({ body: { owner, facts } }) {
	const story = facts.story?.value;
	return [
		owner ? h("p", { class: "note" }, `Owner: ${owner}`) : null,
		story
			? h(
					"blockquote",
					{ class: "story" },
					h("p", null, story),
					h("footer", { class: "note" }, "The owner’s words"),
				)
			: null,
	];
}

/**
 * @param {Doc<Car>} car
 * @param {string} chapter
 * @param {string} page
 * @param {string} title
 * @param {string} detail
 * @param {HTMLElement} [word] its verdict
 */
function also(car, chapter, page, title, detail, word) {
	return h(
		"li",
		null,
		h(
			"a",
			{ href: address("car", car.id, page) },
			h("span", { class: "chapter figures" }, chapter),
			h(
				"span",
				{ class: "chain-text" },
				titleLine(inEnglish(title), word),
				h("span", { class: "note" }, inEnglish(detail)),
			),
			mark("next"),
		),
	);
}
