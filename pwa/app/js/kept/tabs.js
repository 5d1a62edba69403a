// The other tabs of this phone that show the app.

import { hasBroadcast } from "../kit/platform.js";

/**
 * @typedef {{docs?: {kind: Kind, id: string}[], fact?: string, photos?: string[]}} Message docs: stored by the other
 *   tab; fact: the key of a fact about this phone that it has changed; photos: ids of pictures that came
 */

/** @type {BroadcastChannel | null} */
let channel = null;
const messages = new EventTarget();

/**
 * hear calls fn with what another tab tells; without channels in the browser, never.
 * @param {(message: Message) => void} fn
 */
export function hear(fn) {
	messages.addEventListener("message", (event) => fn(/** @type {CustomEvent} */ (event).detail));
	if (channel || !hasBroadcast) return;
	channel = new BroadcastChannel("pointsmith.garage");
	channel.onmessage = ({ data }) => messages.dispatchEvent(new CustomEvent("message", { detail: data }));
}

/** tell tells the other tabs, once this one listens itself. @param {Message} message */
export function tell(message) {
	channel?.postMessage(message);
}
