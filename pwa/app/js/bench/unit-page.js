// A distributor by itself: what was found, what comes next, the order of the
// bench, where it is and whose.

import { carOf, fit, handBack, nameOf, takeOut, whereIs } from "./units.js";
import { longest } from "../../made/shapes.js";
import { jobOf } from "../job/job.js";
import { standAndNext } from "../job/next-step.js";
import { beingLookedAt, stateLine } from "../state/state-line.js";
import { onReady } from "../engine/client.js";
import { followGarage } from "../kept/follow.js";
import { garage } from "../kept/garage.js";
import { eventsOf } from "../record/events.js";
import { dayName } from "../record/visits.js";
import { deferral } from "../kit/caution.js";
import { button, nextButton, textField } from "../kit/field.js";
import { fill, h } from "../kit/dom.js";
import { firstAnswer } from "../kit/first-answer.js";
import { foldRest } from "../kit/fold.js";
import { mark } from "../kit/mark.js";
import { offerUndo } from "../kit/undo-bar.js";
import { address } from "../kit/address.js";
import { inEnglish } from "../kit/words.js";

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	const car = /** @type {Doc<Car>} */ (ctx.car);
	const stands = h("p", { class: "verdict-line", role: "status", "aria-busy": "true" }, beingLookedAt());
	const next = h("div");
	const draw = async () => {
		const now = garage.get("car", car.id);
		const found = now ? await standAndNext(now).catch(() => null) : null;
		if (!found || ctx.signal.aborted) return;
		stands.removeAttribute("aria-busy");
		fill(stands, found.state ? stateLine(found.state) : h("span", { class: "note" }, "Nothing is judged yet."));
		fill(next, found.next ? nextButton(found.next.label, found.next.href) : null);
	};
	ctx.signal.addEventListener(
		"abort",
		onReady(() => {
			draw();
		}),
	);
	await firstAnswer(followGarage(ctx.signal, draw));
	const place = h("div");
	let drawn = "";
	const drawPlace = () => {
		const unit = garage.get("distributor", car.id);
		const now = JSON.stringify([
			carOf(car.id)?.id,
			unit?.body.back,
			unit?.deleted,
			garage.cars().map(({ id }) => id),
		]);
		if (now !== drawn && unit && !unit.deleted) fill(place, placeOf(car.id, ctx)); // nothing moves under who types
		drawn = now;
	};
	drawPlace();
	fill(
		root,
		stands,
		next,
		h("p", { class: "note after-form" }, deferral),
		h("h2", { id: "bench-order" }, "The order of the bench"),
		chain(car, ctx),
		h("h2", null, "Where it is"),
		place,
	);
	foldRest(root, "unit", ({ id }) => id === "bench-order");
	ctx.signal.addEventListener("abort", garage.on("change", drawPlace));
}

/** @param {Doc<Car>} car @param {PageContext} ctx */
function chain(car, ctx) {
	const { steps } = jobOf(car, ctx.distributor, ctx.visits);
	const line = (
		/** @type {string} */ href,
		/** @type {string} */ title,
		/** @type {string} */ detail,
		/** @type {Parameters<typeof mark>[0]} */ sign = "next",
	) =>
		h(
			"li",
			null,
			h(
				"a",
				{ href },
				h(
					"span",
					{ class: "chain-text" },
					h("strong", null, inEnglish(title)),
					h("span", { class: "note" }, inEnglish(detail)),
				),
				mark(sign),
			),
		);
	const page = (/** @type {string[]} */ ...rest) => address("car", car.id, ...rest);
	const done = eventsOf(car.id).filter(({ did }) => did).length;
	return h(
		"ol",
		{ class: "chain", role: "list" },
		steps.map(({ href, title, detail, state }) => line(href, title, detail, state === "again" ? "watch" : state)),
		line(page("vacuum"), "Vacuum capsule", "Does it hold, start, stop where it should"),
		line(page("scatter"), "Cylinder by cylinder", "Lobe by lobe on the bench, and why"),
		line(page("do", "phasing"), "Rotor phasing", "Does the rotor stand at its post when it fires"),
		line(page("work"), "Work done", done ? `${done} noted` : "What was replaced, adjusted, cleaned or found"),
		line(page("history"), "History", "What was done and read, day by day; before and after"),
		line(page("figures"), "Figures in and out", "A table from a file or pasted; CSV, files, the library"),
		line(page("photos"), "Photos", "Cap, points, a page of the book"),
		line(page("what-if"), "What if", "Change a spring, a post or the stop on paper first"),
		line(page("card"), "The bench sheet", "For its owner: to print, or to send as a link"),
	);
}

/** @param {string} id @param {PageContext} ctx */
function placeOf(id, ctx) {
	const unit = /** @type {Doc<Distributor>} */ (garage.get("distributor", id));
	const car = carOf(id);
	const isBack = Boolean(unit.body.back);
	return [
		h("p", { class: "lead" }, whereIs(unit), unit.body.back ? `, ${dayName(unit.body.back)}` : null, "."),
		textOf(unit, "owner", "Whose it is"),
		car ? null : textOf(unit, "where", "Where it lies", "A shelf, a box, with whom."),
		car
			? [
					h("a", { class: "button", href: address("car", car.id) }, `To ${car.body.name}`),
					button(`Take it out of ${car.body.name}`, async () => {
						await takeOut(car);
						offerUndo(`${nameOf(unit)} is out of ${car.body.name}.`, () => fit(unit, car).then(() => {}));
					}),
					fitTo(unit, car),
				]
			: [
					fitTo(unit, null),
					button(isBack ? "It is back on the bench" : "Handed back to its owner", () =>
						handBack(id, !isBack),
					),
				],
		car
			? null // a car is never left with a removed one
			: button("Remove from the bench", async () => {
					await garage.remove("distributor", id);
					offerUndo(`${nameOf(unit)} is removed.`, () => garage.restore("distributor", id));
					ctx.go("#/");
				}),
	];
}

/**
 * @param {Doc<Distributor>} unit @param {"owner" | "where"} key @param {string} label @param {string} [note]
 */
function textOf({ id, body }, key, label, note) {
	return textField({
		label,
		name: `unit-${key}`,
		value: body[key] ?? "",
		note,
		maxLength: longest[`distributor.${key}`],
		onInput: (text) => {
			garage
				.update("distributor", id, (/** @type {Distributor} */ now) => {
					now[key] = text;
				})
				.catch(() => {});
		},
	}).element;
}

/**
 * Into which car; what is in it comes on the bench.
 * @param {Doc<Distributor>} unit @param {Doc<Car> | null} from the car it is in
 */
function fitTo(unit, from) {
	const cars = garage.cars().filter(({ id }) => id !== from?.id);
	if (!cars.length) return null;
	return h(
		"div",
		null,
		h("h3", null, from ? "Fit it to another car" : "Fit it to a car"),
		cars.map((car) => {
			const inIt = garage.get("distributor", car.body.distributorId);
			return [
				button(car.body.name, async () => {
					await fit(unit, car);
					offerUndo(`${nameOf(unit)} is in ${car.body.name}.`, async () => {
						await takeOut(/** @type {Doc<Car>} */ (garage.get("car", car.id)));
						if (inIt) await fit(inIt, car);
						if (from) await fit(unit, from);
					});
				}),
				inIt && !inIt.deleted
					? h("p", { class: "note" }, `What is in it now, ${nameOf(inIt)}, comes on the bench.`)
					: null,
			];
		}),
	);
}
