// Before and after: two runs over one another on one figure, in words what lies
// between them, and every speed side by side. The second run may be of another
// car or distributor.

import { bookFor, inWords, layOver, ratioFor } from "./two-runs.js";
import { garage } from "../kept/garage.js";
import { caseOf } from "../record/case.js";
import { changesBetween, runTitle, runsOf } from "../record/runs.js";
import { complete } from "../record/sheet.js";
import { enoughReadings } from "../record/judged-sets.js";
import { followGarage } from "../kept/follow.js";
import { address } from "../kit/address.js";
import { trouble } from "../kit/caution.js";
import { fill, h } from "../kit/dom.js";
import { nextButton, selectField } from "../kit/field.js";
import { fold } from "../kit/fold.js";
import { num, rpm, signed } from "../kit/format.js";
import { inEnglish } from "../kit/words.js";
import { curvePlate } from "../kit/plate/curve-plate.js";
import { figureRows } from "../kit/plate/rows.js";

/** @typedef {import("../record/runs.js").Run} Run */
/** @typedef {{id: string, name: string, runs: Run[], spec: Spec | null}} Owner a car or a distributor, and its runs */

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	let drawn = "";
	await followGarage(ctx.signal, async () => {
		const mine = ownerOf(ctx.params.car);
		const beside = ctx.params.of && ctx.params.of !== mine.id ? ownerOf(ctx.params.of) : mine;
		const now = JSON.stringify([mine, beside]);
		if (now === drawn) return;
		drawn = now;
		draw(root, ctx, mine, beside);
	});
}

/** @param {string} id @returns {Owner} */
function ownerOf(id) {
	const visits = garage.visits({ carId: id });
	return { id, name: garage.get("car", id)?.body.name ?? "", runs: runsOf(visits), spec: caseOf(id).spec };
}

/** @param {HTMLElement} root @param {PageContext} ctx @param {Owner} mine @param {Owner} beside */
function draw(root, ctx, mine, beside) {
	const { one, other } = chosen(ctx.params, mine, beside);
	if (!mine.runs.length || (beside === mine && mine.runs.length < 2)) return fill(root, tooFew(mine));
	const go = (/** @type {{one?: string, other?: string, of?: string}} */ change) => {
		const now = { one: one?.set.id ?? "-", other: other?.set.id ?? "-", of: beside.id, ...change };
		ctx.go(address("car", mine.id, "compare", now.one, now.other, now.of));
	};
	const pickers = [
		runPicker("First run", mine, one, (id) => go({ one: id })),
		runPicker("Second run", beside, other, (id) => go({ other: id })),
		ownerPicker(mine, beside, (id) => go({ of: id, other: "-" })),
	];
	fill(
		root,
		one && other ? laid(mine, beside, one, other) : h("p", { class: "lead" }, "Choose two runs."),
		fold("compare/which", { title: "Which two", isOpen: true }, pickers),
	);
}

/**
 * Where none is chosen: the newest curve, and before it the newest of the same place with a change between.
 * @param {{[name: string]: string}} params @param {Owner} mine @param {Owner} beside
 */
function chosen(params, mine, beside) {
	const find = (/** @type {Owner} */ owner, /** @type {string | undefined} */ id) =>
		owner.runs.find(({ set }) => set.id === id);
	const curves = (/** @type {Owner} */ owner) => owner.runs.filter(isCurve).reverse();
	const [newest] = [...curves(beside), ...beside.runs.toReversed()];
	const other = find(beside, params.other) ?? newest;
	const earlier = curves(mine).filter((run) => run !== other && run.set.place === other?.set.place);
	const one =
		find(mine, params.one) ??
		(beside === mine ? earlier.find(({ changes }) => changes < (other?.changes ?? 0)) : undefined) ??
		earlier[0] ??
		mine.runs.filter((run) => run !== other).at(-1);
	return { one, other };
}

/** @param {Run} run */
const isCurve = ({ set }) => complete(set).length >= enoughReadings;

/** @param {Owner} mine */
const tooFew = ({ id, runs }) =>
	h(
		"div",
		null,
		trouble({
			title: runs.length ? "One run only" : "Nothing is read yet",
			do: runs.length
				? "Note the work that is done, read again, and both stand here."
				: "Read it first, on the bench or on the car.",
		}),
		nextButton("To the readings", address("car", id, "readings")),
	);

/** @param {Owner} mine @param {Owner} beside @param {Run} one @param {Run} other */
function laid(mine, beside, one, other) {
	const first = { set: one.set, spec: mine.spec, name: one.name };
	const second = { set: other.set, spec: beside.spec, name: other.name };
	const found = layOver(first, second);
	if (!found)
		return trouble({
			title: "These two cannot be laid over one another",
			detail: "One is total timing, the other is advance alone, and no base is known.",
			do: "Enter the book’s base, or choose two runs of one place.",
		});
	const book = bookFor(first, found);
	return [
		h("p", { class: "lead", role: "status" }, `${inEnglish(inWords(found))} Thick line: the second run.`),
		beside === mine ? between(mine, one, other) : h("p", { class: "note" }, `The second run is of ${beside.name}.`),
		taken(found),
		curvePlate({
			title: `${found.quantity === "advance" ? "Advance above base" : "Total timing before TDC"}: ${one.name}, and ${other.name}${book.length ? ", against the book" : ""}.`,
			axis: {
				quantity: found.quantity,
				driveRatio: ratioFor(first),
				baseCrankDeg: mine.spec?.baseCrankDeg ?? null,
			},
			bands: book,
			points: [],
			curves: [
				{ kind: "found", name: `first: ${one.name}`, points: found.one.points },
				{ kind: "fitted", name: `second: ${other.name}`, points: found.other.points },
			],
		}),
		fold(
			"compare/speeds",
			{ title: "Speed by speed", answer: `${found.gaps.length} speed${found.gaps.length === 1 ? "" : "s"}` },
			table("while the speed rises", found.gaps),
			found.falling.length ? table("while the speed falls", found.falling) : null,
		),
	];
}

/** A base that had to be put in or taken off is said. @param {import("./two-runs.js").Laid} laid */
function taken({ one, other }) {
	const said = [...new Set([one.taken, other.taken].filter(Boolean))];
	return said.length ? h("p", { class: "note" }, inEnglish(`Brought together by the ${said.join(", ")}.`)) : null;
}

/** @param {Owner} mine @param {Run} one @param {Run} other */
function between({ id }, one, other) {
	const done = changesBetween(garage.visits({ carId: id }), one, other);
	if (!done.length)
		return h(
			"p",
			{ class: "note" },
			"No work is noted between them. ",
			h("a", { href: address("car", id, "work") }, "Note it"),
		);
	const words = done.map(({ what }) => inEnglish(what)).join("; ");
	return h("p", null, h("strong", null, "Done between them: "), `${words}.`);
}

/** @param {string} how @param {import("./two-runs.js").Gap[]} gaps */
const table = (how, gaps) =>
	h(
		"div",
		{ class: "table-room", tabindex: 0, role: "region", "aria-label": inEnglish(`Crank degrees ${how}`) },
		figureRows({
			caption: inEnglish(`Crank degrees ${how}`),
			heads: ["engine rpm", "first", "second", "change"],
			rows: gaps.map(({ engineRPM, one, other }) => [rpm(engineRPM), num(one), num(other), signed(other - one)]),
			class: "ruled",
		}),
	);

/** @param {string} label @param {Owner} owner @param {Run | undefined} at @param {(id: string) => void} choose */
const runPicker = (label, { runs }, at, choose) =>
	selectField({
		label,
		options: runs.toReversed().map((run) => ({ value: run.set.id, text: runTitle(run) })),
		value: at?.set.id ?? "",
		onChange: choose,
	});

/** @param {Owner} mine @param {Owner} beside @param {(id: string) => void} choose */
function ownerPicker(mine, beside, choose) {
	const others = [...garage.cars(), ...garage.units()]
		.filter(({ id }) => id !== mine.id)
		.map(({ id, body }) => ({ value: id, text: body.name || "no name" }));
	if (!others.length) return null;
	return selectField({
		label: "The second run is of",
		options: [{ value: mine.id, text: mine.name }, ...others],
		value: beside.id,
		onChange: choose,
	});
}
