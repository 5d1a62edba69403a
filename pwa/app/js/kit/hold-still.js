// Changes above what somebody has under the finger.

/**
 * holdStill makes a change and leaves an element where it is on the screen. What it gives does so once more, for what
 * takes its height later.
 * @param {Element} held
 * @param {() => void} change
 */
export function holdStill(held, change) {
	const top = held.getBoundingClientRect().top;
	change();
	const back = () => scrollBy({ top: held.getBoundingClientRect().top - top, behavior: "instant" });
	back();
	return back;
}
