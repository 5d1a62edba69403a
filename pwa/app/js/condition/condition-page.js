// The condition checks before any setting, in the order that wastes least
// time: is the engine fit to tune, is the distributor fit to set, then the
// electrics. One check is open at a time; the page comes back to it.

import { engineState, onState } from "../engine/client.js";
import { carIn, phaseOf, phases, resultsOf, shownOrder, standing } from "./condition.js";
import { electricsOf, keepFactOf, unitDocuments } from "../record/car-electrics.js";
import { garage } from "../kept/garage.js";
import { drafts } from "../kept/drafts.js";
import { beginAnew, factsOf, keepFact, workedOn } from "../record/visit-facts.js";
import { dayName, today } from "../record/visits.js";
import { firstAnswer } from "../kit/first-answer.js";
import { deferral, trouble } from "../kit/caution.js";
import { checkLine } from "./check-line.js";
import { watchButton } from "../safety/coil-watch-bar.js";
import { button, nextButton } from "../kit/field.js";
import { heroWord } from "../kit/finding/hero-word.js";
import { stillStarting } from "../kit/finding/not-yet.js";
import { fill, h } from "../kit/dom.js";
import { holdStill } from "../kit/hold-still.js";
import { fold } from "../kit/fold.js";
import { latestOnly } from "../kit/latest-only.js";
import { address } from "../kit/address.js";
import { inEnglish } from "../kit/words.js";
import { ask } from "../engine/ask.js";

/** @typedef {ReturnType<typeof checkLine>} Line */

/** The checks of a distributor that lies on the bench. @param {ConditionList["checks"][number]} check */
const isOfBench = ({ group, place }) => group === "distributor" && place !== "car";

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	const { facts } = unitDocuments(ctx.params.car);
	const electrics = electricsOf(facts.car, facts.distributor);
	const draw = async () => {
		try {
			const all = /** @type {ConditionList} */ (await ask("condition.list", { car: carIn(electrics) }));
			const list = garage.isUnit(ctx.params.car) ? { ...all, checks: all.checks.filter(isOfBench) } : all;
			if (!ctx.signal.aborted) await work(root, ctx, list, electrics);
		} catch (problem) {
			if (!ctx.signal.aborted) fill(root, trouble(/** @type {Problem} */ (problem)));
		}
	};
	if (engineState() !== "ready") fill(root, stillStarting(engineState(), ctx.params.car));
	await firstAnswer(draw());
}

/**
 * @param {HTMLElement} root
 * @param {PageContext} ctx
 * @param {ConditionList} list
 * @param {import("../record/car-electrics.js").Electrics} electrics
 */
async function work(root, ctx, list, electrics) {
	const carId = ctx.params.car;
	const draftKey = `condition/${carId}`;
	const kept = await drafts.get(draftKey).catch(() => null);
	const hero = h("div", { class: "room-hero" });
	const onward = h("div", { class: "onward" });
	/** @type {Line[]} */
	const lines = [];
	const opened = (/** @type {Line} */ line) => {
		closeOthers(line, lines);
		drafts.put(draftKey, { open: line.check.id }).catch(() => {});
		wayOn();
	};
	const refresh = latestOnly(
		() => judge(carId, list, electrics, lines, hero, wayOn),
		(problem) => fill(hero, trouble(problem)),
	);
	const keeping = keepingOf(ctx, refresh);
	const shown = shownOrder(list.checks);
	lines.push(
		...list.checks.map((check) =>
			checkLine(check, shown.indexOf(check) + 1, keeping, (isOpen) => {
				const line = lines.find((one) => one.check === check);
				if (isOpen && line) opened(line);
				else wayOn();
			}),
		),
	);
	const step = (/** @type {Line} */ line) => {
		line.element.open = true;
		line.open();
		opened(line);
		requestAnimationFrame(() => {
			line.element.scrollIntoView({ block: "start" });
			line.element.querySelector("summary")?.focus({ preventScroll: true });
		});
	};
	function wayOn() {
		const at = lines.findIndex((line) => line.element.open);
		const isDue = (/** @type {Line} */ line) => ["due", "begun"].includes(line.element.dataset.stands ?? "due");
		const next = [...lines.slice(at + 1), ...lines.slice(0, Math.max(at, 0))].find(isDue);
		const next1 = next
			? nextButton(
					at < 0
						? `${lines.some((line) => !isDue(line)) ? "Go on" : "Begin"}: ${next.check.title.toLowerCase()}`
						: `Next: ${next.check.title.toLowerCase()}`,
					() => step(next),
				)
			: afterwards(carId);
		fill(at < 0 ? onward : lines[at].foot, next1);
		for (const room of [onward, ...lines.map((line) => line.foot)]) if (room !== next1.parentNode) fill(room);
	}
	ctx.signal.addEventListener("abort", onState(refresh));
	const left = lines.find((line) => line.check.id === kept?.open);
	// The answer stands above all else: nothing is laid out before it is there.
	await judge(carId, list, electrics, lines, hero, wayOn).catch((problem) => fill(hero, trouble(problem)));
	if (ctx.signal.aborted) return;
	layOut(root, ctx, list, lines, hero, onward);
	if (left) comeBackTo(left, ctx.signal);
}

/** @param {string} carId */
const afterwards = (carId) =>
	garage.isUnit(carId)
		? nextButton("On to the points", address("car", carId, "points"))
		: nextButton("On to the volts", address("car", carId, "volts"));

/** What was opened stays under the finger. @param {Line} line @param {Line[]} lines */
function closeOthers({ element }, lines) {
	holdStill(element, () => {
		for (const other of lines) if (other.element !== element) other.element.open = false;
	});
}

/** Opens the check that was left open last time. @param {Line} line @param {AbortSignal} signal */
function comeBackTo(line, signal) {
	line.element.open = true;
	line.open();
	requestAnimationFrame(() => {
		if (!signal.aborted && scrollY < 10) line.element.scrollIntoView({ block: "start" });
	});
}

/** Where a check is gone into deeper. @type {{[check: string]: {page: string, label: string}}} */
const deeper = {
	B11: { page: "volts", label: "Walk the whole feed with the meter" },
	B24: { page: "volts", label: "Walk the whole feed with the meter" },
	B15: { page: "condenser", label: "More on the condenser" },
	B20: { page: "vacuum", label: "More on the capsule" },
	B26: { page: "spark", label: "What this coil can give" },
};

/** @param {PageContext} ctx @param {() => void} refresh @returns {import("./check-line.js").CheckKeeping} */
function keepingOf(ctx, refresh) {
	const carId = ctx.params.car;
	const of = (/** @type {string} */ group) => {
		const { car } = unitDocuments(carId);
		return group === "distributor"
			? { kind: /** @type {const} */ ("distributor"), id: car.body.distributorId }
			: { kind: /** @type {const} */ ("car"), id: carId };
	};
	return {
		facts: () => factsOf(garage.visits({ carId }), "check"),
		limits: (group) => unitDocuments(carId).facts[of(group).kind],
		keep(key, change) {
			keepFact(unitDocuments(carId).car, "check", key, change);
			refresh();
		},
		keepLimit(group, key, change) {
			keepFactOf(of(group).kind, of(group).id, key, change);
			refresh();
		},
		more: ({ id }) => (id in deeper ? button(deeper[id].label, address("car", carId, deeper[id].page)) : null),
		watch: (check) => watchButton(unitDocuments(carId).car.body.name, check.title.toLowerCase(), ctx.signal),
	};
}

/**
 * @param {string} carId
 * @param {ConditionList} list
 * @param {import("../record/car-electrics.js").Electrics} electrics
 * @param {Line[]} lines
 * @param {HTMLElement} hero
 * @param {() => void} wayOn
 */
async function judge(carId, list, electrics, lines, hero, wayOn) {
	const { visits, facts: of } = unitDocuments(carId);
	const facts = factsOf(visits, "check");
	const results = resultsOf(list.checks, facts, of);
	const judged = /** @type {ConditionJudgement} */ (await ask("condition.judge", { car: carIn(electrics), results }));
	const stands = list.checks.map((check) => standing(check, judged.results, facts));
	lines.forEach((line, index) => line.judge(judged.results, stands[index]));
	const count = (/** @type {string[]} */ ...which) => stands.filter((one) => which.includes(one)).length;
	const counts = [
		[count("pass"), "pass"],
		[count("watch"), "watch"],
		[count("fail"), "fail"],
		[count("skipped"), "skipped"],
		[count("due", "begun", "unknown"), "still open"],
	];
	fill(
		hero,
		h(
			"section",
			{ class: `hero is-${judged.verdict}`, "aria-labelledby": "hero-word", "aria-live": "polite" },
			heroWord("The checks", judged.verdict, judged.verdict === "unknown" ? "not all done" : ""),
			h(
				"p",
				{ class: "hero-summary" },
				results.length
					? inEnglish(garage.isUnit(carId) && judged.verdict === "unknown" ? soFar : judged.summary)
					: "Nothing is checked yet. No setting can cure wear. Check this before you change a setting.",
			),
			results.length
				? h(
						"p",
						{ class: "note figures" },
						counts
							.filter(([n]) => n)
							.map(([n, word]) => `${n} ${word}`)
							.join(", "),
					)
				: null,
		),
		onPaper(judged, list),
	);
	wayOn();
}

const soFar = "No check is bad so far. Not all are done."; // the calculation counts the engine's checks too

/**
 * What was found, for paper: on the screen it stands in each check.
 * @param {ConditionJudgement} judged
 * @param {ConditionList} list
 */
function onPaper({ results }, { checks }) {
	const numbers = new Map(shownOrder(checks).map(({ id }, index) => [id, index + 1]));
	return h(
		"ul",
		{ class: "on-paper", "aria-hidden": "true" },
		results.map((one) =>
			h(
				"li",
				null,
				h("strong", null, inEnglish(`${numbers.get(one.check)} ${one.title}: `)),
				one.verdict,
				". ",
				inEnglish(one.text),
				one.source ? ` (${inEnglish(one.source)})` : null,
			),
		),
	);
}

/**
 * @param {HTMLElement} root
 * @param {PageContext} ctx
 * @param {ConditionList} list
 * @param {Line[]} lines
 * @param {HTMLElement} hero
 * @param {HTMLElement} onward
 */
function layOut(root, ctx, list, lines, hero, onward) {
	const carId = ctx.params.car;
	const { car, visits } = unitDocuments(carId);
	const visit = workedOn(visits, "check");
	const assumed = garage.isUnit(carId) ? [] : list.assumed.map(plainly); // of an engine, all of it
	fill(
		root,
		hero,
		onward,
		assumed.length
			? h(
					"div",
					{ class: "boxed" },
					h("p", null, h("strong", null, "Not said of this car")),
					h(
						"ul",
						null,
						assumed.map((line) => h("li", null, inEnglish(line))),
					),
					button("Enter it under Facts", address("car", carId, "facts")),
				)
			: null,
		h(
			"p",
			{ class: "note" },
			`Cold and engine off, unless the check says otherwise. Limits are rules of thumb, each with its source. Its own figure beats them. ${deferral}`,
		),
		phases.map((phase) => {
			const here = lines.filter(({ check }) => phaseOf(check) === phase).map(({ element }) => element);
			const list = h("div", { class: "check-list" }, here);
			return here.length
				? fold(`condition/${phase}`, { title: phase, answer: `${here.length} checks` }, list)
				: null;
		}),
		visit
			? h("p", { class: "note after-form" }, `These results belong to the visit of ${dayName(visit.body.date)}.`)
			: null,
		visit && visit.body.date !== today()
			? button("Start a new set today; the old results stay in their visit", async () => {
					beginAnew(car, "check");
					await drafts.put(`condition/${carId}`, undefined).catch(() => {});
					scrollTo(0, 0);
					show(root, ctx);
				})
			: null,
	);
}

/** What the calculation says it has taken, in the words of the screen. @param {string} line */
function plainly(line) {
	const [path, rest] = line.split(" not given: ");
	const name = {
		"car.nominalV": "System voltage",
		"car.ballasted": "Ballast or none",
		"car.altitudeM": "Height above the sea",
	}[path];
	return name ? `${name} not known: ${rest}.` : line;
}
