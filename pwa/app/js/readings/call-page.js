// Two people: the one with the strobe calls degrees, the other enters. What to
// hold stands large enough to be read across the engine; the rest is for the
// one who types.

import { garage } from "../kept/garage.js";
import { drafts } from "../kept/drafts.js";
import { speedsToRead } from "./next-speed.js";
import { judgeSet } from "./quick-verdict.js";
import { cylindersOf, idleOf } from "../record/known.js";
import { draftProblem, isFinished, nextDraft } from "./reading-draft.js";
import { complete, sheetInUse } from "../record/sheet.js";
import { saveReading, startSet, updateSet } from "../record/visits.js";
import { trouble } from "../kit/caution.js";
import { ear } from "../ear/ear.js";
import { unlessStopped, whenAllowed } from "./engine-stop.js";
import { carCaution } from "./reading-start.js";
import { button, nextButton, problemLine } from "../kit/field.js";
import { mark, verdictWord } from "../kit/mark.js";
import { ReadingBoard } from "./reading-board.js";
import { speak } from "../kit/spoken.js";
import { fill, h } from "../kit/dom.js";
import { parseSpeed, rpm } from "../kit/format.js";
import { address } from "../kit/address.js";
import { inEnglish } from "../kit/words.js";

/** @typedef {import("./reading-draft.js").Draft} Draft */

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	const car = /** @type {Doc<Car>} */ (ctx.car);
	const { visit, set } = ctx.params;
	if (!visit) return showBefore(root, car, ctx);
	const found = /** @type {Doc<Visit> | null} */ (garage.get("visit", visit))?.body.sets.find(
		({ id, removed }) => id === set && !removed,
	);
	if (!found)
		return fill(root, trouble({ title: "These readings are not on this phone", do: "Begin again from the job." }));
	const enter = () => new Calling(root, ctx, visit, set).begin();
	return whenAllowed(root, car, enter);
}

/** @param {HTMLElement} root @param {Doc<Car>} car @param {PageContext} ctx */
function showBefore(root, car, ctx) {
	const begin = async () => {
		const begun = await startSet(car, "car");
		await updateSet(begun.visit, begun.set, (each) => {
			each.vacuum = "off";
		});
		ctx.go(address("car", car.id, "call", begun.visit, begun.set));
	};
	fill(
		root,
		unlessStopped(car, () => [
			carCaution(),
			h("p", { class: "note" }, "Vacuum pipe off and plugged. Crank degrees."),
			h("div", { class: "at-foot" }, nextButton("We have read the caution: begin", begin)),
		]),
		h(
			"p",
			{ class: "lead" },
			inEnglish(
				"One holds the strobe and the speed, and calls the degrees. The other says what to hold, and enters.",
			),
		),
	);
}

class Calling {
	/** @type {Draft} */
	#draft = /** @type {any} */ (null);
	#hold = h("div", { class: "call-hold" });
	#last = h("p", { class: "call-last", "aria-live": "polite" });
	#problem = h("div", { "aria-live": "assertive" });
	#save = h("div", { class: "entry-save" });
	#below = h("div");
	#board;

	/** @param {HTMLElement} root @param {PageContext} ctx @param {string} visit @param {string} setId */
	constructor(root, ctx, visit, setId) {
		this.root = root;
		this.ctx = ctx;
		this.visit = visit;
		this.setId = setId;
		this.car = /** @type {Doc<Car>} */ (ctx.car);
		this.sheet = /** @type {Sheet | undefined} */ (sheetInUse(ctx));
		this.idle = idleOf({ car: this.car, distributor: ctx.distributor, answers: {} });
		this.speeds = speedsToRead(this.sheet, this.set, this.idle);
		this.#board = new ReadingBoard(this.set, {
			onChange: (change) => this.#changed(change),
			onEnter: () => this.#keep(),
		});
	}

	get key() {
		return `reading/${this.setId}`;
	}

	/** @returns {VisitSet} */
	get set() {
		return /** @type {any} */ (garage.get("visit", this.visit)).body.sets.find(
			(/** @type {VisitSet} */ { id }) => id === this.setId,
		);
	}

	async begin() {
		this.#draft = (await drafts.get(this.key)) ?? nextDraft(this.sheet, this.set, undefined, this.idle);
		fill(
			this.root,
			this.#hold,
			this.#last,
			this.#board.element,
			this.#problem,
			this.#save,
			this.#below,
			this.#ear(),
		);
		document.documentElement.classList.add("is-entering");
		this.ctx.signal.addEventListener("abort", () => document.documentElement.classList.remove("is-entering"));
		this.#draw();
		this.#call();
	}

	/** The speed of the next reading may be heard instead of typed. */
	#ear() {
		const given = { car: this.car, distributor: this.ctx.distributor, answers: {} };
		return ear({
			car: this.car.id,
			cylinders: cylindersOf(given),
			expected: () => parseSpeed(this.#draft.rpm),
			signal: this.ctx.signal,
			onUse: (heard) => {
				this.#changed({ rpm: String(heard), suggested: false });
				this.#board.put({ ...this.#draft, field: "deg" });
			},
		});
	}

	#draw() {
		const isDone = isFinished(this.speeds, this.set, this.#draft);
		this.#board.put(this.#draft);
		this.#showHold();
		const ordinary = button("Ordinary entry", address("car", this.car.id, "readings", this.visit, this.setId));
		fill(
			this.#save,
			isDone
				? nextButton("Read the verdict", address("car", this.car.id, "verdict"))
				: nextButton("Save reading", () => this.#keep()),
		);
		fill(this.#below, ordinary);
	}

	#showHold() {
		const { rpm: speed, direction } = this.#draft;
		fill(
			this.#hold,
			h("p", { class: "call-word" }, mark(direction), speed ? `Hold, ${direction}` : "Type the speed you hold"),
			h("p", { class: "call-number figures" }, speed ? rpm(Number(speed)) : "–"),
		);
	}

	#call() {
		if (this.#draft.rpm) speak(`Hold ${this.#draft.rpm}, ${this.#draft.direction}`);
	}

	/** @param {Partial<Draft>} change */
	#changed(change) {
		this.#draft = { ...this.#draft, ...change };
		fill(this.#problem);
		drafts.put(this.key, this.#draft);
		if ("rpm" in change || "direction" in change) this.#showHold();
	}

	async #keep() {
		const found = draftProblem(this.#draft);
		if (found) {
			fill(this.#problem, problemLine(found));
			return this.#board.aim(found.field === "rpm" ? "rpm" : "deg");
		}
		const { rpm: speed, deg, side, direction, editing } = this.#draft;
		await saveReading(this.visit, this.setId, {
			id: editing || garage.newId(),
			rpm: speed,
			deg,
			side,
			direction,
			at: new Date().toISOString(),
		}).catch(() => {});
		this.#draft = nextDraft(this.sheet, this.set, this.#draft, this.idle);
		await drafts.put(this.key, this.#draft);
		fill(this.#last, `${deg}° at ${rpm(Number(speed))} is saved.`);
		this.#draw();
		speak(`${deg} degrees.`);
		this.#call();
		this.#judgeLast();
	}

	async #judgeLast() {
		if (!this.sheet) return;
		const verdicts = await judgeSet(this.sheet, this.set).catch(() => null);
		const index = complete(this.set).length - 1;
		const found = verdicts?.get(index);
		if (found)
			fill(
				this.#last,
				mark(found.verdict),
				h(
					"span",
					null,
					h("strong", null, verdictWord(found.verdict)),
					` ${complete(this.set)[index].deg}° at ${rpm(complete(this.set)[index].rpm)}: ${found.text}`,
				),
			);
	}
}
