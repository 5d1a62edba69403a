// Which distributor on the shelf fits this car's book: the nearest first, with
// the smallest change and what to find out before.

import { inWhichCar, mayChange, shelfInput } from "./shelf.js";
import { nameOf } from "./units.js";
import { ask } from "../engine/ask.js";
import { onReady } from "../engine/client.js";
import { garage } from "../kept/garage.js";
import { drafts } from "../kept/drafts.js";
import { followGarage } from "../kept/follow.js";
import { address } from "../kit/address.js";
import { trouble } from "../kit/caution.js";
import { fill, h } from "../kit/dom.js";
import { button, choice, nextButton, problemLine } from "../kit/field.js";
import { firstAnswer, patient } from "../kit/first-answer.js";
import { fold } from "../kit/fold.js";
import { working } from "../kit/finding/working.js";
import { inEnglish } from "../kit/words.js";

const shownAtOnce = 3; // the rest is folded. Chosen: one screen

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	const car = /** @type {Doc<Car>} */ (ctx.car);
	const key = `fits/${car.id}`;
	const may = /** @type {{[key: string]: string}} */ ({ ...(await drafts.get(key).catch(() => null)) });
	const found = h("div");
	let drawn = "";
	const draw = async () => {
		const input = shelfInput(/** @type {Doc<Car>} */ (garage.get("car", car.id)), may);
		const now = JSON.stringify(input);
		if (now === drawn) return;
		drawn = now;
		if (!input) return fill(found, nothingToCompare(ctx));
		try {
			const answer = await ask("shelf.nearest", input);
			if (!ctx.signal.aborted) fill(found, ranking(answer));
		} catch (problem) {
			if (!ctx.signal.aborted) fill(found, problemLine(/** @type {Problem} */ (problem)));
		}
	};
	const limits = fold(
		"fits/may",
		{ title: "What may be changed" },
		mayChange.map(
			({ key: name, label }) =>
				choice({
					label,
					name: `may-${name}`,
					value: may[name] ?? "yes",
					isRow: true,
					options: [
						{ value: "yes", label: "yes" },
						{ value: "no", label: "no" },
					],
					onChange(value) {
						may[name] = value;
						drafts.put(key, may).catch(() => {});
						draw();
					},
				}).element,
		),
	);
	fill(root, found, limits);
	const again = () => {
		drawn = "";
		draw();
	};
	ctx.signal.addEventListener("abort", onReady(again)); // it may have been asked before there was an engine
	await firstAnswer(followGarage(ctx.signal, draw), patient);
}

/** @param {PageContext} ctx */
function nothingToCompare({ car, distributor }) {
	const isEmpty = !garage.units().some(({ id }) => id !== distributor?.id);
	return [
		isEmpty
			? trouble({ title: "Nothing on the shelf", do: "Take a distributor on the bench and read it there first." })
			: trouble({
					title: "The book is not known",
					do: "Enter the book’s figures: the shelf is held against them.",
				}),
		isEmpty
			? nextButton("To the garage", "#/")
			: nextButton("Enter the book’s figures", address("car", /** @type {Doc<Car>} */ (car).id, "book")),
	];
}

/** @param {any} answer of shelf.nearest */
function ranking({ ranked, refused, leftOff, summary, working: lines, sources }) {
	const [first] = ranked;
	const [near, far] = [ranked.slice(0, shownAtOnce), ranked.slice(shownAtOnce)];
	return [
		h("p", { class: "lead", role: "status" }, inEnglish(withNames(summary, [...ranked, ...refused]))),
		first ? nextButton(`To ${unitName(first.id)}`, address("unit", first.id)) : button("To the bench", "#/"),
		near.map(donor),
		far.length
			? fold("fits/far", { title: "Farther off", answer: `${far.length + leftOff} more` }, far.map(donor))
			: null,
		refused.length
			? fold(
					"fits/refused",
					{
						title: "Refused",
						isOpen: !first,
						answer: refused.length === 1 ? "1 refused, and why" : `${refused.length} refused, and why`,
					},
					h(
						"ul",
						{ class: "ruled done-between", role: "list" },
						refused.map((/** @type {any} */ { id, because }) =>
							h("li", null, h("strong", null, unitName(id)), ": ", inEnglish(because)),
						),
					),
				)
			: null,
		working("the shelf", lines, sources),
	];
}

/** One that may serve. @param {any} one of ranked */
function donor({ id, rank, inBookShare, standing, steps, findOutFirst, why }) {
	const car = inWhichCar(id);
	const share = `${Math.round(100 * inBookShare)} in 100`;
	const answer =
		standing === "unknown"
			? "too little is known"
			: `${share} in the book, ${standing === "as-it-is" ? "as it is" : "after the change"}`;
	return h(
		"section",
		{ class: "donor" },
		h("h2", null, `${rank}. `, h("a", { href: address("unit", id) }, unitName(id))),
		h("p", null, h("strong", null, inEnglish(answer)), car ? `. It is in ${car} now.` : null),
		findOutFirst.length ? list("Find out first", findOutFirst) : null,
		steps.length
			? fold("fits/steps", { title: "What to do", level: "h3", answer: `${steps.length} steps` }, ordered(steps))
			: null,
		h("p", { class: "note" }, inEnglish(why)),
	);
}

/** @param {string} title @param {string[]} lines */
const list = (title, lines) => [h("h3", null, title), ordered(lines)];

/** @param {string[]} lines */
const ordered = (lines) =>
	h(
		"ol",
		{ class: "ways" },
		lines.map((line) => h("li", null, inEnglish(line))),
	);

/** @param {string} id */
function unitName(id) {
	const unit = garage.get("distributor", id);
	return unit ? nameOf(unit) : id;
}

/** The calculation knows them by their ids. @param {string} text @param {{id: string}[]} all */
const withNames = (text, all) => all.reduce((said, { id }) => said.replaceAll(id, () => unitName(id)), text);
