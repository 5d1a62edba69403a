// Questions to a worker and its answers: id → promise. A worker that crashes
// is started again once and asked again what it had not answered.

const patience = 20_000; // ms for one answer; the slowest method takes about a second on a desktop machine

/**
 * @typedef {{id: number, method: string, input: unknown, resolve: (value: any) => void, reject: (problem: Problem) =>
 *   void, timer?: any, tries: number}} Question
 */

export class Messenger {
	/** @type {Map<number, Question>} */
	#open = new Map();
	/** @type {any} */
	#worker = null;
	#last = 0;
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
		} else if (data.ready === false) {
			this.#fail(data.why);
		} else if (data.crashed) {
			this.#restart(data.crashed);
		} else {
			const question = this.#open.get(data.id);
			if (!question) return;
			this.#close(question);
			if (data.ok) question.resolve(data.value);
			else question.reject(data.value);
		}
	}

	/** @param {Question} question */
	#send(question) {
		question.tries++;
		clearTimeout(question.timer);
		question.timer = setTimeout(() => this.#restart("the calculation took too long"), patience);
		this.#worker.postMessage({ id: question.id, method: question.method, input: question.input });
	}

	/** @param {string} why */
	#restart(why) {
		this.#worker.terminate();
		for (const question of [...this.#open.values()]) {
			clearTimeout(question.timer);
			if (question.tries >= 2) {
				this.#close(question);
				question.reject(unanswered(why));
			}
		}
		this.#start();
	}

	/** @param {string} why */
	#fail(why) {
		this.#worker?.terminate?.();
		this.why = why;
		this.#become("failed");
		for (const question of [...this.#open.values()]) {
			this.#close(question);
			question.reject(unanswered(why));
		}
	}

	/** @param {Question} question */
	#close(question) {
		clearTimeout(question.timer);
		this.#open.delete(question.id);
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
