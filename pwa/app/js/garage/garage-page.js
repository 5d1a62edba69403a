// The garage: every car with its last verdict and what comes next.

import { addCar } from "./cars.js";
import { addDemo, demos } from "./demo.js";
import { garage } from "../kept/garage.js";
import { hasServer } from "../kept/server.js";
import { syncNow, syncState } from "../kept/sync.js";
import { jobOf } from "../job/job.js";
import { carRow } from "./car-row.js";
import { addUnitForm, benchList, isSought } from "../bench/bench-list.js";
import { button, nextButton, textField } from "../kit/field.js";
import { garageNotices } from "./garage-notices.js";
import { offerUndo } from "../kit/undo-bar.js";
import { fill, h } from "../kit/dom.js";
import { firstAnswer } from "../kit/first-answer.js";
import { address } from "../kit/address.js";
import { notOffline } from "../kit/not-offline.js";
import { nameForm } from "../record/name-form.js";
import { inEnglish } from "../kit/words.js";

const manyCars = 6; // above this a search is worth its space
const mostRows = 20; // cars, and distributors, shown at once: more are asked for, or found by name. Chosen

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	// a phone that holds nothing may be new in a full garage: its list is not to push the page down when it comes
	if (hasServer() && syncState().rounds === 0 && garage.isEmpty()) await firstAnswer(syncNow());
	let [sought, isAll] = ["", false];
	const list = h("div", { class: "car-list" });
	const search = h("div");
	const rest = h("div");
	const bench = h("div");
	let drawn = "";
	const draw = () => {
		const cars = garage.cars();
		const now = JSON.stringify([sought, isAll, inBrief(cars)]);
		if (now === drawn) return; // such as a revision from the server: what is open or half typed here stays
		drawn = now;
		const most = isAll ? Infinity : mostRows;
		const showAll = () => {
			isAll = true;
			draw();
		};
		drawList(list, cars, { sought, most, showAll, ctx });
		fill(bench, benchList({ sought, most, showAll }));
		if (cars.length + garage.units().length > manyCars && !search.hasChildNodes()) {
			fill(
				search,
				textField({
					label: "Find by name or owner",
					name: "search",
					value: sought,
					onInput: (text) => {
						sought = text;
						draw();
					},
				}).element,
			);
		}
		fill(rest, demoOffer(ctx, [...cars, ...garage.units()]), removed("car"), removed("distributor"));
	};
	draw();
	fill(
		root,
		notOffline(),
		garageNotices(ctx.signal),
		search,
		list,
		bench,
		await addForm(ctx),
		await addUnitForm(ctx),
		rest,
		openCard(),
		h(
			"section",
			{ class: "demo-offer" },
			h("h2", null, "Without a meter"),
			button("Dead at the roadside", "#/roadside"),
		),
	);
	const off = garage.on("change", draw);
	ctx.signal.addEventListener("abort", off);
}

/** A card that someone sent. */
function openCard() {
	return h(
		"section",
		{ class: "demo-offer" },
		h("h2", null, "A card from someone"),
		h("p", null, "A setup link or a card’s file. It is shown first. It is stored only when you say so."),
		button("Open a setup link", "#/card"),
		button("Library of curves", "#/library"),
	);
}

/** When what the list shows was last changed. @param {Doc<Car>[]} cars */
function inBrief(cars) {
	const removed = ["car", "distributor"].map((kind) =>
		garage.removed(/** @type {Kind} */ (kind)).map(({ id }) => id),
	);
	return [removed, [...garage.units(), ...cars].map(({ id }) => [id, garage.version(id)])];
}

/**
 * @param {HTMLElement} list
 * @param {Doc<Car>[]} cars
 * @param {{sought: string, most: number, showAll: () => void, ctx: PageContext}} how
 */
function drawList(list, cars, { sought, most, showAll, ctx }) {
	if (cars.length === 0) return fill(list, garage.units().length ? null : h("p", { class: "lead" }, "No car yet."));
	const found = cars.filter(({ body }) => isSought(sought, body));
	const lastWorkedOn = cars[0];
	fill(
		list,
		found.length === 0 ? h("p", { class: "note" }, "No car by that name.") : null,
		h(
			"ul",
			{ class: "ruled", role: "list" },
			found
				.slice(0, most)
				.map((car) => carRow(car, { isNext: car.id === lastWorkedOn.id, onRemove: remove, go: ctx.go })),
		),
		found.length > most ? button(`All ${found.length} cars`, showAll) : null,
	);
}

/** @param {Doc<Car>} car */
async function remove(car) {
	await garage.remove("car", car.id);
	offerUndo(`${car.body.name} is removed.`, () => garage.restore("car", car.id));
}

/** @param {PageContext} ctx */
async function addForm(ctx) {
	let isHunted = false;
	const { element, add } = await nameForm({
		label: "Name of the car",
		name: "car-name",
		draftKey: "new-car",
		what: "this car",
		make: addCar,
		then(id) {
			if (isHunted) return ctx.go(address("car", id, "hunt"));
			const car = garage.get("car", id);
			const unit = car && garage.get("distributor", car.body.distributorId);
			ctx.go(car ? jobOf(car, unit, []).next.href : address("car", id));
		},
	});
	return h(
		"section",
		{ class: "add-car" },
		h("h2", null, "Add a car"),
		element,
		garage.cars().length === 0 ? nextButton("Add this car", add) : button("Add this car", add),
		button("It runs badly", async () => {
			isHunted = true;
			await add();
			isHunted = false;
		}),
	);
}

/** The invented cars that are not in the garage. @param {PageContext} ctx @param {AnyDoc[]} cars all that is here */
function demoOffer(ctx, cars) {
	const absent = demos.filter(({ carId }) => !cars.some(({ id }) => id === carId));
	const [first, ...others] = demos;
	const hasNone = absent.length === demos.length;
	if (absent.length === 0) return null;
	const offer = (/** @type {typeof first} */ demo, /** @type {string} */ label) => [
		h("p", null, h("strong", null, demo.name), `. ${inEnglish(demo.about)}`),
		button(label, async () => ctx.go(address("car", await addDemo(demo)))),
	];
	return h(
		"section",
		{ class: "demo-offer" },
		hasNone
			? [
					h("h2", null, cars.length === 0 ? "Or look round first" : "The demo car"),
					offer(first, "Put it in the garage"),
				]
			: null,
		h(
			"details",
			{ class: "more-demos" },
			h("summary", null, "More invented cars"),
			(hasNone ? others : absent)
				.filter((demo) => absent.includes(demo))
				.map((demo) => offer(demo, `Put in the ${demo.name}`)),
		),
	);
}

/** @param {"car" | "distributor"} kind */
function removed(kind) {
	const all = garage.removed(kind);
	if (all.length === 0) return null;
	return h(
		"details",
		{ class: "removed" },
		h("summary", null, `Removed ${kind}s (${all.length})`),
		h(
			"ul",
			{ class: "ruled", role: "list" },
			all.map(({ id, body }) =>
				h(
					"li",
					{ class: "removed-car" },
					h("span", null, body.name),
					h(
						"button",
						{ type: "button", class: "button slim", on: { click: () => garage.restore(kind, id) } },
						"Bring back",
						h("span", { class: "vh" }, ` ${body.name}`),
					),
				),
			),
		),
	);
}
