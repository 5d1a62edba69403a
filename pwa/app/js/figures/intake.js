// A table on its way in: read at every change, asked about, shown, and put where
// it belongs. While something is asked nothing can be stored.

import { asRead, saidOf } from "./as-read.js";
import { askBox, columnsFold } from "./asks.js";
import { putButtons } from "./put-buttons.js";
import { sourceBox } from "./source-box.js";
import { call, engineState } from "../engine/client.js";
import { figuresDraft, newDraft } from "../kept/figures-draft.js";
import { fill, h } from "../kit/dom.js";
import { button, nextButton, problemLine } from "../kit/field.js";

/**
 * @typedef {import("./put-in.js").ReadTable} ReadTable
 * @typedef {import("../kept/figures-draft.js").FiguresDraft} Draft
 */

export class Intake {
	#ctx;
	#draft;
	#asked = 0;
	#source;
	#result = h("div", { class: "figures-result", "aria-live": "polite" });

	/** @param {PageContext} ctx @param {Draft} draft */
	constructor(ctx, draft) {
		this.#ctx = ctx;
		this.#draft = draft;
		this.#source = sourceBox(
			draft,
			(text, name) => this.#take(text, name),
			() => this.read(),
			(problem) => fill(this.#result, problemLine(problem)),
		);
		ctx.signal.addEventListener("abort", this.#source.stop);
	}

	get elements() {
		return [this.#source.element, this.#result];
	}

	/** read asks the engine what the text is, and shows it. */
	async read() {
		const mine = ++this.#asked;
		if (this.#draft.text.trim() === "") return fill(this.#result);
		if (engineState() === "starting") fill(this.#result, starting());
		const found = await tableOf(this.#draft);
		if (mine === this.#asked && !this.#ctx.signal.aborted) this.#draw(found);
	}

	/**
	 * What was read of another text goes at once: nobody is to store it by mistake.
	 * @param {string} text @param {string} name
	 */
	#take(text, name) {
		this.#asked++;
		if (this.#result.hasChildNodes()) fill(this.#result);
		this.#keep({ text, name, answers: {}, place: "" });
	}

	/** @param {Partial<Draft>} change */
	#keep(change) {
		this.#draft = { ...this.#draft, ...change };
		figuresDraft.put(this.#ctx.params.car, this.#draft);
	}

	/** Kept, read again, and the keyboard goes to the next question. @param {Partial<Draft>} change */
	async #say(change) {
		this.#keep(change);
		await this.read();
		document.getElementById("figures-question")?.focus({ preventScroll: true });
	}

	/** @param {{table: ReadTable | null, problem: Problem | null}} found */
	#draw({ table, problem }) {
		const { answers, place } = this.#draft;
		fill(
			this.#result,
			problem ? problemLine(problem) : null,
			table ? this.#parts(table) : null,
			Object.keys(answers).length || place
				? button("Ask all questions again", () => this.#say({ answers: {}, place: "" }))
				: null,
		);
	}

	/** @param {ReadTable} table */
	#parts(table) {
		/** @param {string} id @param {string} answer */
		const answer = (id, answer) => this.#say({ answers: { ...this.#draft.answers, [id]: answer } });
		const putting = {
			ctx: this.#ctx,
			place: this.#draft.place,
			onPlace: (/** @type {"bench" | "car"} */ place) => this.#say({ place }),
			onDone: (/** @type {string} */ words, /** @type {string} */ label, /** @type {string} */ href) =>
				this.#done(words, label, href),
		};
		return [
			...(table.asks.length > 0 ? [askBox(table, answer)] : [...asRead(table), putButtons(table, putting)]),
			...saidOf(table),
			columnsFold(table, answer),
		];
	}

	/**
	 * It is stored: the draft goes, so that a reload does not store it once more. What it gives takes that back.
	 * @param {string} words @param {string} label @param {string} href
	 */
	#done(words, label, href) {
		const stored = this.#draft;
		this.#keep(newDraft());
		this.#source.show(this.#draft);
		fill(this.#result, h("p", { class: "ok-line" }, words), nextButton(label, href));
		return () => {
			this.#keep(stored);
			this.#source.show(stored);
			return this.read();
		};
	}
}

/** @param {Draft} draft */
async function tableOf({ text, hints, answers }) {
	try {
		const table = /** @type {ReadTable} */ (await call("figures.read", { text, hints: { ...hints, answers } }));
		return { table, problem: null };
	} catch (problem) {
		return { table: null, problem: /** @type {Problem} */ (problem) };
	}
}

const starting = () =>
	h(
		"p",
		{ class: "note" },
		"The calculation is starting. Your text is kept. It is read as soon as it is ready. ",
		"You can type the book’s table by hand meanwhile.",
	);
