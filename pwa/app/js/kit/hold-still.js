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
	const back = () => {
		// what was drawn anew itself has no place to be held at
		if (held.isConnected) scrollBy({ top: held.getBoundingClientRect().top - top, behavior: "instant" });
	};
	back();
	return back;
}

/**
 * inPlace draws what stands above without moving what somebody is typing in.
 * @param {HTMLElement} root @param {() => void} drawAbove
 */
export function inPlace(root, drawAbove) {
	const held = root.contains(document.activeElement) ? /** @type {Element} */ (document.activeElement) : null;
	if (!held) return drawAbove();
	const back = holdStill(held, drawAbove);
	requestAnimationFrame(() => requestAnimationFrame(back)); // a plate takes its height a frame later
}
