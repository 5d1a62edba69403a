// "Next" without a button: any tap, space, enter, an arrow, a foot pedal, the
// keys of a headset or of the volume where the browser gives them.

const forward = new Set([
	" ",
	"Spacebar",
	"Enter",
	"ArrowRight",
	"ArrowDown",
	"PageDown",
	"MediaTrackNext",
	"MediaPlayPause",
	"AudioVolumeUp",
	"AudioVolumeDown",
	"VolumeUp",
	"VolumeDown",
]);
const backward = new Set(["ArrowLeft", "ArrowUp", "PageUp", "MediaTrackPrevious"]);
const typing = "input[type=text], textarea, select";

/**
 * wayOf says what a key means: next, back, or nothing. In a field the keys
 * that type or move there are left to it.
 * @param {string} key @param {boolean} isInField @param {boolean} isOnControl a button or link has the keyboard
 * @returns {"next" | "back" | ""}
 */
export function wayOf(key, isInField, isOnControl) {
	if (isOnControl && (key === "Enter" || key === " " || key === "Spacebar")) return "";
	if (isInField && (key.startsWith("Arrow") || key === "Enter")) return "";
	return forward.has(key) ? "next" : backward.has(key) ? "back" : "";
}

/**
 * handsFree listens until the signal aborts.
 * @param {HTMLElement} root taps anywhere in it mean next
 * @param {{next: () => void, back: () => void}} on
 * @param {AbortSignal} signal
 */
export function handsFree(root, on, signal) {
	document.addEventListener(
		"keydown",
		(event) => {
			if (event.repeat || event.ctrlKey || event.altKey || event.metaKey) return;
			const at = /** @type {HTMLElement | null} */ (event.target instanceof HTMLElement ? event.target : null);
			const way = wayOf(
				event.key,
				!!at?.matches(typing),
				!!at?.closest("button, a[href], summary, input[type=radio]"),
			);
			if (way === "") return;
			event.preventDefault();
			on[way]();
		},
		{ signal },
	);
	root.addEventListener(
		"click",
		(event) => {
			const at = /** @type {Element} */ (event.target);
			if (!at.closest("button, a, input, label, summary, select, textarea, .keypad, .display")) on.next();
		},
		{ signal },
	);
	listenToHeadset(on, signal);
}

/** @param {{next: () => void, back: () => void}} on @param {AbortSignal} signal */
function listenToHeadset(on, signal) {
	const session = navigator.mediaSession;
	if (!session?.setActionHandler) return;
	/** @type {[MediaSessionAction, () => void][]} */
	const keys = [
		["nexttrack", on.next],
		["play", on.next],
		["pause", on.next],
		["previoustrack", on.back],
	];
	for (const [action, fn] of keys) {
		try {
			session.setActionHandler(action, fn);
			signal.addEventListener("abort", () => session.setActionHandler(action, null));
		} catch {
			// This browser does not know that key.
		}
	}
}
