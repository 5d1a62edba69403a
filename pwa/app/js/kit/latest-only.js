// Work that follows a finger: once a frame, one at a time, the last wish wins.

/**
 * latestOnly runs work at most once at a time and once a frame; asked for
 * again meanwhile it runs once more at the end, so the last wish wins.
 * @param {() => Promise<void>} work @param {(problem: any) => void} failed
 */
export function latestOnly(work, failed) {
	let isDue = false;
	let isRunning = false;
	const run = async () => {
		isDue = false;
		isRunning = true;
		try {
			await work();
		} catch (problem) {
			failed(problem);
		}
		isRunning = false;
		if (isDue) requestAnimationFrame(run);
	};
	return () => {
		if (isDue) return;
		isDue = true;
		if (!isRunning) requestAnimationFrame(run);
	};
}
