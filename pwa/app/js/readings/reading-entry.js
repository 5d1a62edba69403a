// Taking readings with gloves on: speed, degrees, save. What is half typed is
// kept as well, so that a call or a dead battery costs nothing.

import { onReady } from "../engine/client.js";
import { garage } from "../kept/garage.js";
import { drafts } from "../kept/drafts.js";
import { idleIn, speedsToRead } from "./next-speed.js";
import { judgeSet } from "./quick-verdict.js";
import { cylindersOf, idleOf } from "../record/known.js";
import { wantedIn, wantedTaken } from "../record/next-reading.js";
import { draftProblem, editDraft, guidance, isFinished, nextDraft, wantedDraft } from "./reading-draft.js";
import { complete, sheetInUse } from "../record/sheet.js";
import { dayName, placeName, saveReading, setRemoved } from "../record/visits.js";
import { fill, h } from "../kit/dom.js";
import { parse, parseSpeed } from "../kit/format.js";
import { address } from "../kit/address.js";
import { ear } from "../ear/ear.js";
import { button, nextButton, problemLine } from "../kit/field.js";
import { mark, verdictWord } from "../kit/mark.js";
import { ReadingBoard } from "./reading-board.js";
import { readingLog } from "./reading-log.js";
import { offerUndo } from "../kit/undo-bar.js";

/** @typedef {import("./reading-draft.js").Draft} Draft */
/**
 * @typedef {{ctx: PageContext, visit: string, setId: string, onChangeFacts: () => void, end: HTMLElement}}
 *   EntryOptions
 */

const calm = 120; // ms without a key before the figure is judged
const isSideways = matchMedia("(orientation: landscape) and (max-height: 30rem)"); // Save beside the keys: keypad.css

/**
 * readingEntry draws the entry of one set into root.
 * @param {HTMLElement} root
 * @param {EntryOptions} options
 */
export async function readingEntry(root, options) {
	const entry = new ReadingEntry(options);
	await entry.open();
	fill(root, entry.parts());
	const { signal } = options.ctx;
	document.documentElement.classList.add("is-entering");
	signal.addEventListener("abort", () => document.documentElement.classList.remove("is-entering"));
	entry.draw(); // again, now that the fields are on the page and can take the focus
	entry.keepKeysFree();
	signal.addEventListener(
		"abort",
		onReady(() => entry.judge()),
	);
	signal.addEventListener(
		"abort",
		garage.on("change", ({ from, ids }) => {
			if (from !== "here" && ids.has(options.visit) && entry.set) entry.draw();
		}),
	);
}

class ReadingEntry {
	/** @type {Draft} */
	#draft = /** @type {any} */ (null);
	#visit;
	#signal;
	#car;
	#cylinders;
	#setId;
	#sheet;
	#verdictAddress;
	#onChangeFacts;
	#end;
	#speeds;
	/** The car's idle, engine rpm, or null. @type {number | null} */
	#idle;
	/**
	 * The reading that was asked for, until it is taken.
	 * @type {import("../record/next-reading.js").Wanted | undefined}
	 */
	#wanted;
	#isWantedTaken = false;
	/** @type {any} */
	#timer = null;
	#guide = h("p", { class: "guide", "aria-live": "polite" });
	#problem = h("div", { "aria-live": "assertive" });
	#save = h("div", { class: "entry-save" });
	#actions = h("div", { class: "entry-actions" });
	#below = h("div");
	#board;

	/** @param {EntryOptions} options */
	constructor({ ctx, visit, setId, onChangeFacts, end }) {
		this.#end = end;
		this.#visit = visit;
		this.#signal = ctx.signal;
		this.#car = ctx.car?.id ?? "";
		this.#cylinders = cylindersOf({
			car: /** @type {Doc<Car>} */ (ctx.car),
			distributor: ctx.distributor,
			answers: {},
		});
		this.#setId = setId;
		this.#sheet = /** @type {Sheet | undefined} */ (sheetInUse(ctx));
		this.#verdictAddress = address("car", ctx.car?.id ?? "", "verdict");
		this.#onChangeFacts = onChangeFacts;
		this.#idle = idleOf({ car: /** @type {Doc<Car>} */ (ctx.car), distributor: ctx.distributor, answers: {} });
		this.#speeds = speedsToRead(this.#sheet, this.set, this.#idle);
		this.#board = new ReadingBoard(this.set, {
			onChange: (change) => this.#changed(change),
			onEnter: () => this.#keep(),
		});
	}

	get draftKey() {
		return `reading/${this.#setId}`;
	}

	get #doc() {
		return /** @type {Doc<Visit>} */ (garage.get("visit", this.#visit));
	}

	/** The set as it is now. @returns {VisitSet} */
	get set() {
		return /** @type {VisitSet} */ (this.#doc.body.sets.find(({ id }) => id === this.#setId));
	}

	/** open begins with what was half typed, else with the reading that was asked for. */
	async open() {
		const [kept, wanted] = await Promise.all([drafts.get(this.draftKey), wantedIn(this.#setId)]);
		this.#wanted = wanted;
		const isHalfTyped = kept && (kept.editing || String(kept.deg).trim() !== "");
		await this.begin(isHalfTyped || !wanted || wanted.isStatic ? (kept ?? this.next()) : this.next());
	}

	/** next is the reading suggested now. */
	next() {
		if (this.#wanted && !this.#wanted.isStatic) return wantedDraft(this.#wanted, this.#draft?.side ?? "before");
		return nextDraft(this.#sheet, this.set, this.#draft ?? undefined, this.#idle);
	}

	parts() {
		const place = h(
			"p",
			{ class: "place note" },
			`${placeName(this.set)}, ${dayName(this.#doc.body.date)}. `,
			this.set.place === "car" ? [mark("caution"), " Fan and belts turn."] : null,
		);
		return [
			this.#guide,
			this.#board.element,
			this.#problem,
			this.#save,
			this.#actions,
			this.#ear(),
			place,
			this.#below,
		];
	}

	/** keepKeysFree moves the page, when a bar comes or the phone is turned, so that no key lies under Save. */
	keepKeysFree() {
		const fit = () => {
			const lowest = this.#board.lowest();
			if (lowest < 0) return; // the list below is being read
			const room = innerHeight - (isSideways.matches ? 0 : this.#save.offsetHeight);
			scrollTo({ top: Math.max(0, Math.ceil(scrollY + lowest - room)), behavior: "instant" });
		};
		const soon = () => requestAnimationFrame(fit);
		let touched = -Infinity;
		const touch = () => (touched = performance.now());
		addEventListener("pointerdown", touch, { signal: this.#signal, capture: true, passive: true });
		const watch = new ResizeObserver((changes) => {
			// another label of Save, as when a reading is corrected, moves nothing under the finger; 500 ms is chosen
			const isLabel = changes.every(({ target }) => target === this.#save) && performance.now() - touched < 500;
			if (!isLabel) soon();
		});
		for (const each of [document.getElementById("notices"), this.#save]) if (each) watch.observe(each);
		addEventListener("resize", soon, { signal: this.#signal });
		this.#signal.addEventListener("abort", () => watch.disconnect());
	}

	/** On the car the speed of the next reading may be heard instead of typed. */
	#ear() {
		if (this.set.place !== "car" || this.set.speedUnit !== "engine") return null;
		return ear({
			car: this.#car,
			cylinders: this.#cylinders,
			expected: () => parseSpeed(this.#draft.rpm),
			signal: this.#signal,
			onUse: (heard) => {
				this.#changed({ rpm: String(heard), suggested: false });
				this.#board.put({ ...this.#draft, field: "deg" });
			},
		});
	}

	/** @param {Draft} draft */
	async begin(draft) {
		this.#draft = draft;
		await drafts.put(this.draftKey, draft);
		this.draw();
	}

	draw() {
		const { set } = this;
		const isDone = this.#isWantedTaken || isFinished(this.#speeds, set, this.#draft);
		this.#board.put(this.#draft);
		const isEdit = Boolean(this.#draft.editing);
		const save = () => this.#keep();
		fill(
			this.#save,
			isEdit
				? nextButton("Save this correction", save)
				: isDone
					? [nextButton("Read the verdict", this.#verdictAddress), button("Save another reading", save)]
					: nextButton("Save reading", save),
		);
		fill(this.#actions, isEdit ? this.#editActions() : null);
		fill(
			this.#below,
			readingLog({
				set,
				sheet: this.#sheet,
				setId: this.#setId,
				editing: this.#draft.editing,
				onEdit: (reading) => this.#edit(reading),
			}),
			!isDone && complete(set).length >= 3 ? button("Enough read: the verdict", this.#verdictAddress) : null,
			button("How these are read", this.#onChangeFacts),
			this.#end,
		);
		this.judge();
	}

	/** judge shows where the figure lies, once the typing pauses, or what to do. */
	judge() {
		clearTimeout(this.#timer);
		const { rpm, deg, side, direction } = this.#draft;
		if (!this.#sheet || parseSpeed(rpm) === null || parse(deg) === null) return this.#showGuide(null);
		this.#timer = setTimeout(async () => {
			const one = {
				...this.set,
				staticCrankDeg: "",
				readings: [{ id: "draft", rpm, deg, side, direction, at: "" }],
			};
			const found = await judgeSet(/** @type {Sheet} */ (this.#sheet), one).then(
				(verdicts) => verdicts.get(0),
				() => undefined,
			);
			if (this.#draft.deg === deg && this.#draft.rpm === rpm) this.#showGuide(found ?? null);
		}, calm);
	}

	/** @param {import("./quick-verdict.js").QuickVerdict | null} found */
	#showGuide(found) {
		if (found)
			return fill(
				this.#guide,
				mark(found.verdict),
				h("span", null, h("strong", null, verdictWord(found.verdict)), `: ${found.text}`),
			);
		const { mark: shape, text } = guidance(
			this.#draft,
			this.#speeds,
			this.set,
			idleIn(this.#sheet, this.set, this.#idle),
		);
		fill(this.#guide, mark(shape), h("span", null, text));
	}

	/** @param {Partial<Draft>} change */
	#changed(change) {
		this.#draft = { ...this.#draft, ...change };
		if (!("field" in change)) fill(this.#problem); // going to the field that is wrong leaves the message
		drafts.put(this.draftKey, this.#draft);
		this.judge();
	}

	async #keep() {
		const found = draftProblem(this.#draft);
		fill(this.#problem, found ? problemLine(found) : null);
		if (found) return this.#board.aim(found.field === "rpm" ? "rpm" : "deg");
		const { rpm, deg, side, direction, editing } = this.#draft;
		await saveReading(this.#visit, this.#setId, {
			id: editing || garage.newId(),
			rpm,
			deg,
			side,
			direction,
			at: new Date().toISOString(),
		}).catch(() => {});
		await this.#forgetWanted(Number(parseSpeed(rpm)), direction);
		await this.begin(this.next());
	}

	/**
	 * Once a reading is saved none is asked for any more: another changes what would decide. It counts as the one
	 * asked for to two in a hundred of its speed: no engine is held closer (common practice).
	 * @param {number} rpm @param {Draft["direction"]} direction
	 */
	async #forgetWanted(rpm, direction) {
		const wanted = this.#wanted;
		if (!wanted || wanted.isStatic) return;
		this.#wanted = undefined;
		this.#isWantedTaken = direction === wanted.direction && Math.abs(rpm - wanted.rpm) <= 0.02 * wanted.rpm;
		await wantedTaken(this.#setId);
	}

	/** @param {Reading} reading */
	#edit(reading) {
		this.begin(editDraft(reading));
		this.#board.element.scrollIntoView({ block: "start" });
	}

	#editActions() {
		return [
			button("Remove this reading", () => this.#remove(this.#draft.editing)),
			button("Leave it as it was", () => this.begin(this.next())),
		];
	}

	/** @param {string} id */
	async #remove(id) {
		const reading = this.set.readings.find((each) => each.id === id);
		await setRemoved(this.#visit, this.#setId, id, true);
		await this.begin(this.next());
		offerUndo(`The reading of ${reading?.deg}° at ${reading?.rpm} is removed.`, async () => {
			await setRemoved(this.#visit, this.#setId, id, false);
			this.draw();
		});
	}
}
