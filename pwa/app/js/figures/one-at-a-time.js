// A button that stores: a second tap while the first is at work does nothing.

/** oneAtATime lets work run by itself. @param {() => Promise<unknown>} work @returns {() => void} */
export function oneAtATime(work) {
	let isBusy = false;
	return async () => {
		if (isBusy) return;
		isBusy = true;
		await Promise.resolve(work()).finally(() => {
			isBusy = false;
		});
	};
}
