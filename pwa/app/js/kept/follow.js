// Drawing again when the garage changes.

import { garage } from "./garage.js";

/**
 * followGarage calls draw now and after every change of the garage, until the
 * signal aborts. Changes that come together are drawn once.
 * @template T
 * @param {AbortSignal} signal @param {() => T} draw
 * @returns {T}
 */
export function followGarage(signal, draw) {
	let isDue = false;
	const off = garage.on("change", () => {
		if (isDue) return;
		isDue = true;
		setTimeout(() => {
			isDue = false;
			if (!signal.aborted) draw();
		}, 30);
	});
	signal.addEventListener("abort", off);
	return draw();
}
