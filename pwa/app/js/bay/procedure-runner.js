// The one engine of all procedures: shows a step, takes what it asks, judges
// it, and goes on. Where it stands is kept at every key.

import { onReady } from "../engine/client.js";
import { garage } from "../kept/garage.js";
import { commitStep, setOf } from "./procedure-commit.js";
import { figureOf } from "./procedure-figures.js";
import { cylindersOf, idleOf } from "../record/known.js";
import { judgeStep } from "./procedure-judges.js";
import { goesOnLive, hasFigures, inTheWay, keepRun, mayBeBlocked, objection, stepsFor } from "./procedure-run.js";
import { standing } from "../safety/standing.js";
import { fill, h } from "../kit/dom.js";
import { holdStill } from "../kit/hold-still.js";
import { address } from "../kit/address.js";
import { choose, setting } from "../kit/settings.js";
import { ear } from "../ear/ear.js";
import { button, problemLine } from "../kit/field.js";
import { figureEntry } from "./figure-entry.js";
import { handsFree } from "./hands.js";
import { clockWords, stepClock } from "./hold-clock.js";
import { largeStep } from "./large-step.js";
import { stepActions } from "./step-actions.js";
import { liveIgnition } from "./live-ignition.js";
import { hasVoice, hush, speak } from "../kit/spoken.js";
import { cautionsOf, openCautions, pass } from "./step-cautions.js";
import { great, progress, stepText, stepTitle, verdictRoom } from "./step-view.js";

const calm = 150; // ms without a key before a figure is judged

export class ProcedureRunner {
	/** @type {Outcome | null} */
	outcome = null;
	/** @type {ReturnType<typeof setTimeout> | undefined} */
	#timer;
	#isGoing = false;
	#isBlocked = false;
	/** @type {ReturnType<typeof largeStep> | null} what a tap does in the large view */
	#large = null;
	/** the step whose cautions were read, so that its figures are asked */
	#read = "";
	/** the step whose figures somebody has begun to type */
	#inHand = "";
	#problem = h("div", { "aria-live": "assertive" });
	#verdict = verdictRoom();
	#figure = h("div");
	#actions = h("div", { class: "step-actions" });

	/**
	 * @param {HTMLElement} root @param {PageContext} ctx @param {Procedure} procedure @param {Run} run
	 */
	constructor(root, ctx, procedure, run) {
		this.root = root;
		this.ctx = ctx;
		this.procedure = procedure;
		this.run = run;
		this.steps = stepsFor(procedure, run.answers);
		this.at = Math.max(
			0,
			this.steps.findIndex(({ id }) => id === run.step),
		);
	}

	get car() {
		return /** @type {Doc<Car>} */ (this.ctx.car);
	}
	get step() {
		return this.steps[this.at];
	}
	get isLarge() {
		return setting("view") === "large";
	}
	get isLast() {
		return this.at === this.steps.length - 1;
	}
	/** Whether its cautions are read first, before the figures it asks: no screen has room for both. */
	readsFirst() {
		const { step, run } = this;
		const isLong = openCautions(step, run).length > 0 || goesOnLive(step);
		return isLong && hasFigures(step) && this.#read !== step.id && !step.asks?.some(({ key }) => run.answers[key]);
	}
	/** What the button says after which the figures are asked. */
	begins() {
		this.#read = this.step.id;
		this.draw();
		scrollTo(0, 0);
	}
	get given() {
		return {
			car: /** @type {Doc<Car>} */ (garage.get("car", this.car.id) ?? this.car),
			distributor: this.ctx.distributor ? garage.get("distributor", this.ctx.distributor.id) : null,
			answers: this.run.answers,
		};
	}

	/** What stands in the way of this step, or null. */
	blocked() {
		return inTheWay(this.step, standing(this.car.id));
	}

	/** begin draws the step; what it gives ends when the figure that the step is about stands there too. */
	begin() {
		const { signal } = this.ctx;
		const isWhole = this.draw();
		this.judge();
		signal.addEventListener(
			"abort",
			onReady(() => {
				this.judge();
				this.#showFigure();
			}),
		);
		signal.addEventListener("abort", () => {
			hush();
			clearTimeout(this.#timer);
			document.documentElement.classList.remove("is-large");
		});
		signal.addEventListener(
			"abort",
			garage.on("change", () => {
				if (!mayBeBlocked(this.step)) return;
				if (this.#large) return this.#redrawLarge(this.#large);
				if (Boolean(this.blocked()) === this.#isBlocked) this.#drawActions();
				else this.draw();
			}),
		);
		handsFree(document.body, { next: () => this.#handsNext(), back: () => this.#handsBack() }, signal);
		this.say();
		return isWhole;
	}

	/**
	 * What stands in the way has changed: the large step stays at the screen it is at.
	 * @param {ReturnType<typeof largeStep>} large
	 */
	#redrawLarge(large) {
		const was = this.#isBlocked;
		this.#isBlocked = Boolean(this.blocked());
		if (was || this.#isBlocked) large.redraw();
	}

	draw() {
		this.root.dataset.step = this.step.id;
		document.documentElement.classList.toggle("is-large", this.isLarge);
		if (this.isLarge) {
			this.#large = largeStep(this);
			this.#isBlocked = Boolean(this.blocked());
			return Promise.resolve();
		}
		this.#large = null;
		const { step } = this;
		const isReading = this.readsFirst();
		const entry = step.asks && !isReading ? this.entry() : null;
		// figures are typed on one screen with what they are about: all else gives way
		this.root.classList.toggle("types-figures", entry !== null && hasFigures(step));
		this.root.classList.toggle("asks", Boolean(entry || step.figure || clockWords(step)) || goesOnLive(step));
		// its place is kept, so that nothing moves when it comes
		this.#verdict.element.classList.toggle("is-due", Boolean(step.judge));
		this.#drawActions();
		this.#isBlocked = Boolean(this.blocked());
		const title = stepTitle(step);
		fill(
			this.root,
			progress(this.procedure.title, this.at, this.steps.length, this.#isBlocked ? null : step.engine),
			this.#isBlocked ? this.#actions : null, // what must be put back comes before the step
			cautionsOf(step, this.run, step.asks && hasFigures(step) && !isReading),
			title,
			step.figure ? this.#figure : null,
			entry && hasFigures(step) ? null : liveIgnition(this.car, step, this.procedure.title, this.ctx.signal),
			stepClock(step, this.ctx.signal),
			entry?.element ?? null,
			this.#problem,
			this.#verdict.element,
			entry ? this.ear() : null,
			stepText(step, entry !== null),
			this.#isBlocked ? null : this.#actions,
			this.#below(),
		);
		entry?.aimFirst();
		this.#comesToHand(title);
		return this.#showFigure();
	}

	/**
	 * "Next" stays on the screen from when the step has been seen: nobody is to pass a caution to something unread.
	 * @param {HTMLElement} title
	 */
	#comesToHand(title) {
		this.#actions.classList.remove("is-at-hand");
		const seen = new IntersectionObserver(
			(entries) => {
				if (!entries.some(({ isIntersecting }) => isIntersecting)) return;
				this.#actions.classList.add("is-at-hand");
				seen.disconnect();
			},
			{ threshold: 1, rootMargin: "0px 0px -100px 0px" },
		); // the height of the bar
		seen.observe(title);
		this.ctx.signal.addEventListener("abort", () => seen.disconnect());
	}

	/** The asks of the step, to be put on the page. @param {Ask[]} [asks] @param {() => void} [onDone] */
	entry(asks = this.step.asks ?? [], onDone = () => void this.next()) {
		const entry = figureEntry({
			asks,
			answers: this.run.answers,
			name: `${this.procedure.name}-${this.step.id}`,
			onDone,
			onChange: () => this.#changed(),
		});
		this.lastEntry = entry;
		for (const event of ["pointerdown", "keydown"])
			entry.element.addEventListener(event, () => (this.#inHand = this.step.id), { capture: true });
		return entry;
	}

	/** A speed may be heard instead of typed. @param {Ask[]} [asks] */
	ear(asks = this.step.asks ?? []) {
		const speed = asks.find(({ kind }) => kind === "speed");
		if (!speed) return null;
		return ear({
			car: this.car.id,
			cylinders: cylindersOf(this.given),
			expected: () => idleOf(this.given),
			signal: this.ctx.signal,
			onUse: (heard) => this.lastEntry?.put(speed.key, String(heard)),
		});
	}

	get verdictElement() {
		return this.#verdict.element;
	}
	get problemElement() {
		return this.#problem;
	}

	#changed() {
		fill(this.#problem);
		this.run.step = this.step.id;
		keepRun(this.car.id, this.procedure.name, this.run);
		this.judge();
		if (this.step.figure) this.#showFigure();
	}

	/** judge shows the live verdict, once the typing pauses. */
	judge() {
		const { step } = this;
		if (!step.judge) return;
		clearTimeout(this.#timer);
		this.#timer = setTimeout(() => this.judgeNow(), calm);
	}

	async judgeNow() {
		const { step } = this;
		if (!step.judge) return null;
		try {
			this.outcome = await judgeStep(step, this.given);
			this.#verdict.show(this.outcome, step);
		} catch (problem) {
			this.outcome = null;
			this.#verdict.refuse(/** @type {Problem} */ (problem));
		}
		return this.outcome;
	}

	/** A figure that comes late, from an engine that was still waking, moves no key under a finger. */
	async #showFigure() {
		const { step } = this;
		if (!step.figure) return;
		const figure = await this.figure();
		const show = () => fill(this.#figure, great(figure));
		if (this.#inHand === step.id && this.lastEntry) holdStill(this.lastEntry.element, show);
		else show();
	}

	/** The figure the step is about, or null. */
	figure() {
		return this.step.figure ? figureOf(this.step.figure, this.given).catch(() => null) : Promise.resolve(null);
	}

	#drawActions() {
		if (this.isLarge) return this.blocked() ? this.#large?.redraw() : undefined;
		fill(this.#actions, stepActions(this));
	}

	#below() {
		const isSpoken = setting("voice") === "on";
		const voice =
			hasVoice() || isSpoken
				? button(isSpoken ? "Stop reading aloud" : "Read the steps aloud", () => {
						choose("voice", isSpoken ? "" : "on");
						this.draw();
						this.say();
					})
				: null;
		return h(
			"div",
			{ class: "step-below" },
			button("Large type, for busy hands", () => {
				choose("view", "large");
				this.draw();
			}),
			voice,
			button("All steps of this work", address("car", this.car.id, "do", this.procedure.name)),
		);
	}

	/** say reads the step aloud, where that is wanted. */
	async say() {
		if (setting("voice") !== "on") return;
		const figure = await this.figure();
		speak([this.step.title, figure ? `${figure.value} ${figure.words}` : ""].filter(Boolean).join(". "));
	}

	/** next confirms the step and goes on, unless something is missing or in the way. */
	async next() {
		if (this.#isGoing || this.blocked()) return;
		const bad = objection(this.step, this.run.answers);
		if (bad) return this.refuse(bad);
		this.#isGoing = true;
		try {
			clearTimeout(this.#timer);
			const outcome = await this.judgeNow();
			await commitStep(this.car, this.procedure, this.step, this.run, outcome).catch(() => {});
			pass(this.step, this.run);
			if (this.ctx.signal.aborted) return;
			// and stays on its way: a second tap before the next step is drawn confirms nothing twice
			await this.#goOn();
		} catch (error) {
			this.#isGoing = false;
			throw error;
		}
	}

	async #goOn() {
		if (this.isLast) {
			await keepRun(this.car.id, this.procedure.name, undefined);
			choose("view", "");
			return this.#go(address("car", this.car.id));
		}
		const current = this.step.id;
		this.steps = stepsFor(this.procedure, this.run.answers);
		const following = this.steps[this.steps.findIndex(({ id }) => id === current) + 1];
		await this.#goTo(following);
	}

	/** To another page, unless the person has gone elsewhere meanwhile. @param {string} hash */
	#go(hash) {
		if (!this.ctx.signal.aborted) this.ctx.go(hash);
	}

	async back() {
		if (this.at > 0) await this.#goTo(this.steps[this.at - 1]);
	}

	/** @param {ProcedureStep} step */
	async #goTo(step) {
		this.run.step = step.id;
		await keepRun(this.car.id, this.procedure.name, this.run);
		this.#go(address("car", this.car.id, "do", this.procedure.name, step.id));
	}

	async openReadings() {
		const place = /** @type {"bench" | "car"} */ (this.step.readings);
		const { visit, set } = await setOf(this.car, this.run, place);
		await keepRun(this.car.id, this.procedure.name, this.run);
		this.#go(address("car", this.car.id, "readings", visit, set));
	}

	/** refuse says what is not answered, or cannot be. @param {import("./procedure-run.js").Objection} bad */
	refuse({ key, ...found }) {
		if (!this.lastEntry?.refuse(key, found)) {
			fill(this.#problem, problemLine(found));
			this.#problem.scrollIntoView({ block: "center" });
		}
		speak(found.do);
	}

	#handsNext() {
		if (this.#large) this.#large.next();
	}

	#handsBack() {
		if (this.#large) this.#large.back();
	}
}
