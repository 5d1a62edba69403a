// Taking readings with gloves on: speed, degrees, save. What is half typed is
// kept as well, so that a call or a dead battery costs nothing.

import { onReady } from "../calc/client.js";
import { garage } from "../data/garage.js";
import { bookSpeeds, nextSpeed } from "../data/next-speed.js";
import { judgeSet } from "../data/quick-verdict.js";
import { complete } from "../data/sheet.js";
import { saveReading, setRemoved, placeName, dayName } from "../data/visits.js";
import { fill, h } from "../lib/dom.js";
import { parse, parseSpeed } from "../lib/format.js";
import { address } from "../lib/routes.js";
import { button, nextButton, problemLine } from "./field.js";
import { mark, verdictWord } from "./marks.js";
import { readingBoard } from "./reading-board.js";
import { readingLog } from "./reading-log.js";
import { offerUndo } from "./undo-bar.js";

/** @typedef {{rpm: string, deg: string, side: "before" | "after", direction: "rising" | "falling", field: "rpm" | "deg", suggested: boolean, editing: string}} Draft */

/** @type {Draft} */
const blank = { rpm: "", deg: "", side: "before", direction: "rising", field: "rpm", suggested: false, editing: "" };

/**
 * readingEntry draws the entry of one set into root.
 * @param {HTMLElement} root
 * @param {{ctx: PageContext, visit: string, setId: string, onChangeFacts: () => void}} options
 */
export async function readingEntry(root, { ctx, visit, setId, onChangeFacts }) {
	const draftKey = `reading/${setId}`;
	const car = /** @type {Doc<Car>} */ (ctx.car);
	const sheet = ctx.distributor?.body.sheet;
	const setNow = () => /** @type {VisitSet} */ ((/** @type {Doc<Visit>} */ (garage.get("visit", visit))).body.sets.find(({ id }) => id === setId));
	const kept = await garage.draft(draftKey);
	/** @type {Draft} */
	let draft = kept ?? suggest({ ...blank }, sheet, setNow());
	const first = setNow();
	const speeds = bookSpeeds(sheet, first.speedUnit);
	const guide = h("p", { class: "guide", "aria-live": "polite" });
	const problem = h("div", { "aria-live": "assertive" });
	const actions = h("div", { class: "entry-actions" });
	const below = h("div");

	const board = readingBoard(first, {
		onChange(change) {
			draft = { ...draft, ...change };
			fill(problem);
			garage.setDraft(draftKey, draft).catch(() => {});
			judge();
		},
		onEnter: () => save(),
	});
	const judge = quickJudge(() => draft, setNow, sheet, (found) => fill(guide, found
		? [mark(found.verdict), h("span", null, h("strong", null, verdictWord(found.verdict)), `: ${found.text}`)]
		: guideText(draft, speeds, setNow())));

	async function save() {
		const found = readingProblem(draft);
		fill(problem, found ? problemLine(found) : null);
		if (found) return board.aim(found.field === "rpm" ? "rpm" : "deg");
		const { rpm, deg, side, direction } = draft;
		await saveReading(visit, setId, { id: draft.editing || garage.newId(), rpm, deg, side, direction, at: new Date().toISOString() }).catch(() => {});
		await begin(suggest({ ...blank, direction, side }, sheet, setNow()));
	}
	/** @param {Draft} next */
	async function begin(next) {
		draft = next;
		await garage.setDraft(draftKey, draft).catch(() => {});
		draw();
	}
	/** @param {Reading} reading */
	const edit = (reading) => {
		begin({ rpm: reading.rpm, deg: reading.deg, side: reading.side, direction: reading.direction, field: "deg", suggested: false, editing: reading.id });
		board.element.scrollIntoView({ block: "start" });
	};
	const remove = async (/** @type {string} */ id) => {
		const reading = setNow().readings.find((each) => each.id === id);
		await setRemoved(visit, setId, id, true);
		await begin(suggest({ ...blank, direction: draft.direction, side: draft.side }, sheet, setNow()));
		offerUndo(`The reading of ${reading?.deg}° at ${reading?.rpm} is removed.`, async () => { await setRemoved(visit, setId, id, false); draw(); });
	};
	const draw = () => {
		const set = setNow();
		board.put(draft);
		fill(actions, draft.editing
			? [nextButton("Save this correction", save), button("Remove this reading", () => remove(draft.editing)), button("Leave it as it was", () => begin(suggest({ ...blank, direction: draft.direction }, sheet, set)))]
			: isFinished(speeds, set, draft)
				? [nextButton("Read the verdict", address("car", car.id, "verdict")), button("Save another reading", save)]
				: nextButton("Save reading", save));
		fill(below, readingLog({ set, sheet, setId, onEdit: edit, editing: draft.editing }),
			!isFinished(speeds, set, draft) && complete(set).length >= 3 ? button("Enough read: the verdict", address("car", car.id, "verdict")) : null,
			button("Change how these are read", onChangeFacts));
		judge();
	};
	const day = dayName((/** @type {Doc<Visit>} */ (garage.get("visit", visit))).body.date);
	const place = h("p", { class: "place note" }, `${placeName(first)}, ${day}. `, first.place === "car" ? [mark("caution"), " Fan and belts turn."] : null);
	fill(root, guide, board.element, problem, actions, place, below);
	document.documentElement.classList.add("is-entering");
	ctx.signal.addEventListener("abort", () => document.documentElement.classList.remove("is-entering"));
	draw();
	ctx.signal.addEventListener("abort", onReady(judge));
	ctx.signal.addEventListener("abort", garage.on("change", (change) => { if (change.from !== "here" && change.id === visit && setNow()) draw(); }));
}

/**
 * suggest fills in the next speed.
 * @param {Draft} draft @param {Sheet | undefined} sheet @param {VisitSet} set
 * @returns {Draft}
 */
function suggest(draft, sheet, set) {
	const next = nextSpeed(bookSpeeds(sheet, set.speedUnit), complete(set), draft.direction, set.speedUnit);
	if (!next) return { ...draft, rpm: "", field: "rpm" };
	return { ...draft, rpm: String(next.rpm), direction: next.direction, suggested: true, field: "deg" };
}

/** @param {Draft} draft @param {number[]} speeds @param {VisitSet} set */
function guideText(draft, speeds, set) {
	/** @param {Parameters<typeof mark>[0]} shape @param {string} text */
	const line = (shape, text) => [mark(shape), h("span", null, text)];
	if (draft.editing) return line("partly", `Correcting the reading at ${draft.rpm}, ${draft.direction}.`);
	if (isFinished(speeds, set, draft)) return line("done", "All of the book’s speeds are read, rising and falling.");
	const next = nextSpeed(speeds, complete(set), draft.direction, set.speedUnit);
	if (!draft.suggested || !next) return speeds.length > 0 ? "Type the speed." : "No book speeds yet: type the speed you hold.";
	return line(draft.direction, `Hold ${draft.rpm}: ${next.direction === draft.direction && isTurn(set, draft) ? "the highest is read, now let the speed fall" : next.why}.`);
}

/** @param {VisitSet} set @param {Draft} draft */
function isTurn(set, draft) {
	return draft.direction === "falling" && !complete(set).some(({ direction }) => direction === "falling");
}

/** @param {number[]} speeds @param {VisitSet} set @param {Draft} draft */
function isFinished(speeds, set, draft) {
	const taken = complete(set);
	const hasAll = (/** @type {string} */ way) => speeds.every((speed) => taken.some(({ rpm, direction }) => direction === way && Math.abs(rpm - speed) < 1));
	return speeds.length > 0 && draft.rpm === "" && hasAll("rising") && hasAll("falling");
}

/** @param {Draft} draft @returns {FieldProblem | null} */
function readingProblem({ rpm, deg }) {
	const speed = parseSpeed(rpm);
	if (speed === null) return { field: "rpm", problem: rpm.trim() ? `“${rpm}” is not a speed` : "no speed is typed", limit: "turns per minute, above 0", do: "Type the speed you held." };
	if (speed <= 0 || speed > 12_000) return { field: "rpm", problem: `${rpm} rpm cannot be read at`, limit: "above 0, up to 12 000", do: "Correct the speed. The degrees are kept." };
	const angle = parse(deg);
	if (angle === null) return { field: "deg", problem: deg.trim() ? `“${deg}” is not a number of degrees` : "no degrees are typed", limit: "a number, 0 too", do: "Type what you read at this speed." };
	if (Math.abs(angle) > 60) return { field: "deg", problem: `${deg} degrees cannot be a reading`, limit: "60", do: "Correct the degrees." };
	return null;
}

/**
 * quickJudge gives a function that passes on the verdict on the reading being
 * entered, once the typing pauses, or null while there is none.
 * @param {() => Draft} draftNow @param {() => VisitSet} setNow @param {Sheet | undefined} sheet
 * @param {(found: import("../data/quick-verdict.js").QuickVerdict | null) => void} show
 */
function quickJudge(draftNow, setNow, sheet, show) {
	/** @type {any} */
	let timer = null;
	return () => {
		clearTimeout(timer);
		const { rpm, deg, side, direction } = draftNow();
		if (!sheet || parseSpeed(rpm) === null || parse(deg) === null) return show(null);
		timer = setTimeout(async () => {
			const one = { ...setNow(), staticCrankDeg: "", readings: [{ id: "draft", rpm, deg, side, direction, at: "" }] };
			const found = await judgeSet(sheet, one).then((verdicts) => verdicts.get(0), () => undefined);
			if (draftNow().deg === deg && draftNow().rpm === rpm) show(found ?? null);
		}, 120);
	};
}
