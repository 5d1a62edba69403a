// What the strobe should say: for this car, its own idle and its own book,
// before the engine is touched.

import { figures } from "../../made/shapes.js";
import { eitherSide, isIn } from "../record/figure-limits.js";
import { engineState, onState } from "../engine/client.js";
import { advanceBands, allowed, bookFigure, corners, totalBands } from "../record/book-band.js";
import { caseOf } from "../record/case.js";
import { garage } from "../kept/garage.js";
import { drafts } from "../kept/drafts.js";
import { chosenLine } from "./chosen-line.js";
import { everyFiveHundred, shownSpeeds, withSpeed } from "./strobe-speeds.js";
import { firstAnswer } from "../kit/first-answer.js";
import { caution } from "../kit/caution.js";
import { curvePlate, redraw } from "../kit/plate/curve-plate.js";
import { button, choice, nextButton, textField } from "../kit/field.js";
import { mark } from "../kit/mark.js";
import { stillStarting } from "../kit/finding/not-yet.js";
import { ratioOf } from "./from-judgement.js";
import { idleAdvance, idleSentence, strobeTable } from "./strobe-table.js";
import { fill, h } from "../kit/dom.js";
import { fold } from "../kit/fold.js";
import { onward } from "../kit/onward.js";
import { address } from "../kit/address.js";
import { parse, parseSpeed, rpm } from "../kit/format.js";
import { followGarage } from "../kept/follow.js";
import { carState, whatToDo } from "../state/car-state.js";
import { bookMissing, refused } from "./cannot-judge.js";

/**
 * @param {HTMLElement} root
 * @param {PageContext} ctx
 */
export async function show(root, ctx) {
	const carId = ctx.params.car;
	const view = viewOf(root);
	const kept = await drafts.get(`strobe/${carId}`).catch(() => null);
	/** @type {{turn: number, speeds: number[] | null}} */
	const state = { turn: 0, speeds: kept?.speeds ?? null };

	/** @param {number[]} speeds */
	function keep(speeds) {
		state.speeds = speeds;
		drafts.put(`strobe/${carId}`, { speeds }).catch(() => {});
		update();
	}

	async function update() {
		const turn = ++state.turn;
		const given = caseOf(carId);
		const missing = bookMissing(given, carId);
		if (missing || !given.spec) return view.only(missing);
		if (given.spec.base === "excluded" && given.spec.baseCrankDeg === undefined) return view.only(askBase(ctx));
		const idle = idleOf(carId);
		const speeds = state.speeds ?? everyFiveHundred(idle, corners(given.spec).at(-1) ?? 4000);
		try {
			const [answer, todo] = await Promise.all([
				answerFor(given.spec, shownSpeeds(idle, speeds), idle),
				todoOf(carId),
			]);
			if (turn === state.turn && !ctx.signal.aborted)
				draw(view, { spec: given.spec, idle, speeds, carId, keep, todo, ...answer });
		} catch (problem) {
			if (turn === state.turn && !ctx.signal.aborted) view.only(refused(/** @type {Problem} */ (problem), carId));
		}
	}

	if (engineState() !== "ready") view.only(stillStarting(engineState(), carId));
	ctx.signal.addEventListener(
		"abort",
		onState(() => update()),
	);
	await firstAnswer(followGarage(ctx.signal, update));
}

/** @param {HTMLElement} root */
function viewOf(root) {
	const rooms = {
		chosen: h("div"),
		idle: h("div"),
		care: h("div", null, care()),
		table: h("div"),
		speeds: h("div"),
		plate: h("div"),
	};
	const next = onward();
	const { chosen, idle, ...below } = rooms;
	const sheet = h("div", { class: "strobe-sheet" }, chosen, idle, next.element, Object.values(below));
	/** @type {{figure: HTMLElement | null}} */
	const drawn = { figure: null };
	return {
		rooms: { ...rooms, next },
		drawn,
		/** @param {HTMLElement | null} what */
		only: (what) => fill(root, what),
		open() {
			if (sheet.parentNode !== root) fill(root, sheet);
		},
	};
}

/** What fails on the car, and so comes first. @param {string} carId */
async function todoOf(carId) {
	const car = garage.get("car", carId);
	return car ? whatToDo(car, await carState(car).catch(() => null)) : null;
}

/** @param {Spec} spec @param {number[]} asked @param {number | null} idle */
async function answerFor(spec, asked, idle) {
	const [table, book, atIdle] = await Promise.all([
		asked.length ? totalBands(spec, asked) : [],
		bookFigure(spec, "total", asked.at(-1)),
		idle === null ? [] : advanceBands(spec, [idle]),
	]);
	return { table, book, advance: atIdle[0] };
}

/**
 * @param {ReturnType<typeof viewOf>} view
 * @param {{spec: Spec, idle: number | null, speeds: number[], carId: string, keep: (speeds: number[]) => void, table:
 *   BandAnswer[], book: BookFigure, advance: BandAnswer | undefined, todo: {action: string, href: string} | null}} all
 */
function draw(view, { spec, idle, speeds, carId, keep, table, book, advance, todo }) {
	const { rooms, drawn } = view;
	view.open();
	const atIdle = table.find((row) => row.engineRPM === idle);
	fill(rooms.chosen, chosenLine(carId));
	fill(rooms.idle, atIdle ? idleWords(spec.baseCrankDeg, atIdle, advance) : askIdle(carId));
	if (!atIdle) rooms.next.to();
	else if (todo)
		rooms.next.to(todo.action, todo.href); // what fails comes before more readings
	else rooms.next.to("Next: readings", address("car", carId, "readings"));
	fill(rooms.table, strobeTable(table, idle, { spec, rows: corners(spec) }));
	if (!rooms.speeds.hasChildNodes()) fill(rooms.speeds, speedChooser());
	/** @type {any} */ (rooms.speeds.firstChild).show(speeds, keep, () =>
		everyFiveHundred(idle, corners(spec).at(-1) ?? 4000),
	);
	const input = plateInput(spec, book, table, atIdle);
	if (drawn.figure) redraw(drawn.figure, input);
	else {
		drawn.figure = curvePlate(input);
		fill(rooms.plate, fold("strobe/figure", { title: "The figure" }, drawn.figure));
	}
}

/** @param {number | undefined} base @param {BandAnswer} band @param {BandAnswer | undefined} advance */
function idleWords(base, band, advance) {
	const more = idleAdvance(base, band, advance);
	return h(
		"section",
		{ class: "idle-words" },
		h("p", { class: "hero-summary" }, idleSentence(base, band, advance)),
		more ? h("p", null, more) : null,
	);
}

/**
 * @param {Spec} spec
 * @param {BookFigure} book
 * @param {BandAnswer[]} table
 * @param {BandAnswer | undefined} atIdle
 * @returns {PlateInput}
 */
function plateInput(spec, book, table, atIdle) {
	const idle = atIdle && allowed(atIdle);
	return {
		number: 1,
		title: "What the book asks of this engine: total timing before TDC, vacuum off.",
		axis: {
			quantity: "total",
			baseCrankDeg: spec.baseCrankDeg ?? null,
			driveRatio: ratioOf(spec),
			maxRPM: table.at(-1)?.engineRPM,
		},
		bands: book.rows,
		range: book.range,
		points: [],
		curves: [],
		callouts: idle
			? [{ number: 1, engineRPM: atIdle.engineRPM, crankDeg: (idle.least + idle.most) / 2, text: "your idle" }]
			: [],
	};
}

function care() {
	return caution("before the strobe is used", [
		"Strobe light makes fan, belts and pulleys look still. Keep hands, leads, sleeves, hair and phone out of their line. An electric fan can start by itself.",
		"High tension throws the hand: clip the lead on with the engine stopped. With a pacemaker, leave this to others.",
		"Doors open, exhaust gas kills. Handbrake on, out of gear, chocked. High speeds 20 seconds at most, standing aside.",
	]);
}

/** The car's own idle, from its facts. @param {string} carId */
function idleOf(carId) {
	const speed = parseSpeed(garage.get("car", carId)?.body.facts.idleSpeed?.value);
	return speed !== null && speed >= 200 && speed <= 3000 ? speed : null;
}

/** @param {string} carId */
function askIdle(carId) {
	let typed = "";
	const use = () => {
		const speed = parseSpeed(typed);
		if (speed === null || speed < 200 || speed > 3000)
			return field.setProblem({
				field: "idleSpeed",
				problem: typed.trim()
					? `“${typed.trim().slice(0, 24)}” is not an idle speed`
					: "no idle speed is typed",
				limit: "200 to 3000 engine rpm",
				do: "Type what the tachometer shows at warm idle.",
			});
		const car = garage.get("car", carId);
		if (car)
			garage.put("car", carId, {
				...car.body,
				facts: {
					...car.body.facts,
					idleSpeed: { value: typed.trim(), unit: "engine rpm", source: "", note: "" },
				},
			});
	};
	const field = textField({
		label: "At what speed does this engine idle?",
		name: "idle",
		value: "",
		unit: "engine rpm",
		isNumber: true,
		note: "Then the table begins with what your strobe should say there.",
		onInput: (text) => {
			typed = text;
		},
		onEnter: use,
	});
	return h("section", { class: "ask-idle" }, field.element, nextButton("Use this idle speed", use));
}

/** Without the book's static figure no total can be told: ask for it here. @param {PageContext} ctx */
function askBase(ctx) {
	const answer = { size: "", side: /** @type {"before" | "after" | ""} */ ("") };
	const use = () => {
		const size = parse(answer.size);
		const limit = figures["sheet.baseCrankDeg"];
		if (size === null || size < 0 || !isIn(answer.side === "after" ? -size : size, limit))
			return field.setProblem({
				field: "baseCrankDeg",
				problem: answer.size.trim()
					? `“${answer.size.trim().slice(0, 24)}” is not a static figure`
					: "no static figure is typed",
				limit: eitherSide(limit),
				do: "Type the degrees alone and choose the side below.",
			});
		if (!answer.side)
			return sides.setProblem({
				field: "baseSide",
				problem: "the side of TDC is not chosen",
				limit: "before or after",
				do: "Choose the side the book gives.",
			});
		const car = garage.get("car", ctx.params.car);
		const distributor = car ? garage.get("distributor", car.body.distributorId) : null;
		if (distributor)
			garage.put("distributor", distributor.id, {
				...distributor.body,
				sheet: { ...distributor.body.sheet, baseCrankDeg: answer.size.trim(), baseSide: answer.side },
			});
	};
	const field = textField({
		label: "The book’s static timing",
		name: "base",
		value: "",
		unit: "crank degrees",
		isNumber: true,
		note: "The book’s table does not hold the base, so it is needed to say what the strobe should read.",
		onInput: (text) => {
			answer.size = text;
			field.setProblem(null);
		},
	});
	const sides = choice({
		label: "Which side of TDC?",
		name: "base-side",
		value: "",
		isRow: true,
		options: [
			{ value: "before", label: "before TDC" },
			{ value: "after", label: "after TDC" },
		],
		onChange: (side) => {
			answer.side = /** @type {"before" | "after"} */ (side);
			sides.setProblem(null);
		},
	});
	return h(
		"section",
		{ class: "ask-base" },
		h("h2", null, "The base is not known yet"),
		field.element,
		sides.element,
		nextButton("Use this figure", use),
	);
}

/** Add and remove speeds. What is being typed stays while the table is drawn again. */
function speedChooser() {
	/** @type {{speeds: number[], keep: (speeds: number[]) => void, quick: () => number[]}} */
	const now = { speeds: [], keep: () => {}, quick: () => [] };
	const list = h("ul", { class: "speed-list", role: "list" });
	const said = h("p", { class: "field-problem", role: "status" });
	let typed = "";
	const add = () => {
		const { speeds, problem } = withSpeed(now.speeds, typed);
		fill(said, problem);
		if (problem) return;
		typed = field.input.value = "";
		now.keep(speeds);
	};
	const field = textField({
		label: "Add a speed",
		name: "speed",
		value: "",
		unit: "engine rpm",
		isNumber: true,
		onInput: (text) => {
			typed = text;
			fill(said);
		},
		onEnter: add,
	});
	const element = h(
		"details",
		{ class: "speed-chooser" },
		h("summary", null, "Choose the speeds"),
		field.element,
		said,
		button("Add this speed", add),
		button("Every 500 rpm", () => now.keep(now.quick())),
		list,
	);
	return Object.assign(element, {
		/** @param {number[]} speeds @param {(speeds: number[]) => void} keep @param {() => number[]} quick */
		show(speeds, keep, quick) {
			Object.assign(now, { speeds, keep, quick });
			fill(
				list,
				speeds.map((speed) =>
					h(
						"li",
						null,
						h(
							"button",
							{
								type: "button",
								class: "button slim",
								on: { click: () => keep(now.speeds.filter((one) => one !== speed)) },
							},
							mark("remove"),
							h("span", { class: "vh" }, "Remove "),
							h("span", { class: "figures" }, rpm(speed)),
						),
					),
				),
			);
		},
	});
}
