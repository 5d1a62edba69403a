// Questions to a worker and its answers: id → promise. The worker answers in
// turn. Where it crashes or sticks at one, it is started again and asked again;
// the one it stuck at is given up the second time.

const patience = 20_000; // ms for one answer; the slowest method takes about a second on a desktop machine

/**
 * @typedef {{id: number, method: string, input: unknown, resolve: (value: any) => void, reject: (problem: Problem) =>
 *   void, tries: number}} Question
 */

export class Messenger {
	/** @type {Map<number, Question>} */
	#open = new Map();
	/** @type {any} */
	#worker = null;
	#last = 0;
	/** @type {any} of the question that the worker is at */
	#timer = null;
	#makeWorker;
	#onState;

	/** "starting", "ready" or "failed" */
	state = "starting";
	/** why it failed, in words */
	why = "";

	/**
	 * @param {() => any} makeWorker
	 * @param {(state: string) => void} onState
	 */
	constructor(makeWorker, onState) {
		this.#makeWorker = makeWorker;
		this.#onState = onState;
		this.#start();
	}

	/**
	 * ask gives the output of a method, or fails with its problem. Where the
	 * worker cannot answer at all the problem has `unanswered: true`.
	 * @param {string} method
	 * @param {unknown} input
	 * @returns {Promise<any>}
	 */
	ask(method, input) {
		return new Promise((resolve, reject) => {
			if (this.state === "failed") return reject(unanswered(this.why));
			const question = { id: ++this.#last, method, input, resolve, reject, tries: 0 };
			this.#open.set(question.id, question);
			if (this.state === "ready") this.#send(question);
		});
	}

	/** isAtWork is true while it starts and while a question is open. */
	get isAtWork() {
		return this.state === "starting" || this.#open.size > 0;
	}

	#start() {
		this.#become("starting");
		try {
			this.#worker = this.#makeWorker();
		} catch (error) {
			this.#fail(String(error));
			return;
		}
		this.#worker.onmessage = (/** @type {MessageEvent} */ event) => this.#hear(event.data);
		this.#worker.onerror = (/** @type {ErrorEvent} */ event) =>
			this.#fail(event.message || "the calculation engine could not be loaded");
	}

	/** @param {any} data */
	#hear(data) {
		if (data.ready === true) {
			this.#become("ready");
			for (const question of this.#open.values()) this.#send(question);
			this.#time();
		} else if (data.ready === false) {
			this.#fail(data.why);
		} else if (data.crashed) {
			this.#restart(data.crashed);
		} else {
			const question = this.#open.get(data.id);
			if (!question) return;
			this.#open.delete(question.id);
			this.#time();
			if (data.ok) question.resolve(data.value);
			else question.reject(data.value);
		}
	}

	/** @param {Question} question */
	#send({ id, method, input }) {
		this.#worker.postMessage({ id, method, input });
		if (this.#open.size === 1) this.#time();
	}

	/** What waits its turn is not late. */
	#time() {
		clearTimeout(this.#timer);
		if (this.#open.size > 0)
			this.#timer = setTimeout(() => this.#restart("the calculation took too long"), patience);
	}

	/** @param {string} why */
	#restart(why) {
		clearTimeout(this.#timer);
		this.#worker.terminate();
		const [stuck] = this.#open.values();
		if (stuck && ++stuck.tries >= 2) {
			this.#open.delete(stuck.id);
			stuck.reject(unanswered(why));
		}
		this.#start();
	}

	/** @param {string} why */
	#fail(why) {
		clearTimeout(this.#timer);
		this.#worker?.terminate?.();
		this.why = why;
		this.#become("failed");
		for (const question of this.#open.values()) question.reject(unanswered(why));
		this.#open.clear();
	}

	/** @param {string} state */
	#become(state) {
		this.state = state;
		this.#onState(state);
	}
}

/** @param {string} why @returns {Problem & {unanswered: true}} */
function unanswered(why) {
	return {
		unanswered: true,
		title: "No calculation here",
		detail: why,
		do: "Reload the app. What you typed is saved.",
	};
}
