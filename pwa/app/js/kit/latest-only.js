// Work that follows a finger: once a frame, one at a time, the last wish wins.

/**
 * latestOnly runs work at most once at a time and once a frame; asked for
 * again meanwhile it runs once more at the end, so the last wish wins. What it
 * gives back ends when the work asked for is done.
 * @param {() => Promise<void>} work @param {(problem: any) => void} failed
 */
export function latestOnly(work, failed) {
	/** @type {(() => void)[]} */
	let waiting = [];
	let isRunning = false;
	const run = async () => {
		const done = waiting;
		waiting = [];
		isRunning = true;
		try {
			await work();
		} catch (problem) {
			failed(problem);
		}
		isRunning = false;
		for (const each of done) each();
		if (waiting.length) requestAnimationFrame(run);
	};
	return () =>
		new Promise((/** @type {(value: void) => void} */ done) => {
			if (waiting.push(done) === 1 && !isRunning) requestAnimationFrame(run);
		});
}
