// Photos as the pages see them: kept here first, and found by what the visits
// say of them. A picture never changes; its id is made of its bytes.

import { digest } from "../digest.js";
import * as store from "./photo-store.js";
import { garage } from "../garage.js";
import { hear, tell } from "../tabs.js";
import { roomLeft } from "../../kit/platform.js";

/** The most bytes of a picture, as the server has it (store.MaxPhoto). */
export const largest = 1 << 20;

const events = new EventTarget();

/**
 * @typedef {object} PhotoUse
 * @property {number} count pictures on this phone
 * @property {number} bytes of all of them
 * @property {number} unsent not known to be on a server
 * @property {number} away named in a visit and not on this phone
 * @property {number | null} room bytes that the browser would still take; null where it does not say
 */

/**
 * keepPhoto keeps a picture on this phone and gives its id.
 * @param {Uint8Array} photo @param {{sentTo?: string, takenFor?: string}} [from] the garage it came from, or the car it
 *   was taken for: until namedPhoto it is one of strayPhotos
 */
export async function keepPhoto(photo, from) {
	const id = digest(photo);
	await store.put(id, photo, from);
	changed([id]);
	return id;
}

/** namedPhoto says that a visit names a picture now. @param {string} id */
export const namedPhoto = (id) => store.note(id, { takenFor: "" });

/**
 * strayPhotos lists what was kept for a car and never got into a visit: the app was closed in between.
 * @param {string} car
 */
export const strayPhotos = async (car) => (await store.held()).filter(({ takenFor }) => takenFor === car);

/** photo gives a picture as the browser shows it, or null. @param {string} id */
export async function photo(id) {
	const bytes = await store.get(id);
	return bytes ? new Blob([bytes], { type: photoType(bytes) }) : null;
}

/** photoBytes gives a picture, or undefined. @param {string} id */
export const photoBytes = (id) => store.get(id);

/** heldPhotos lists what is here, the newest first. */
export const heldPhotos = async () => (await store.held()).sort((a, b) => (a.at < b.at ? 1 : -1));

/** awayPhotos lists the ids that visits name and that are not here. @param {store.Held[]} held */
export function awayPhotos(held) {
	const here = new Set(held.map(({ id }) => id));
	const named = garage.photographed().flatMap(({ body }) => body.photos ?? []);
	return [...new Set(named.filter(({ id, removed }) => !removed && !here.has(id)).map(({ id }) => id))];
}

/** photoUse says what the pictures take. @returns {Promise<PhotoUse>} */
export async function photoUse() {
	const held = await store.held();
	return {
		count: held.length,
		bytes: held.reduce((sum, { bytes }) => sum + bytes, 0),
		unsent: held.filter(({ sentTo }) => !sentTo).length,
		away: awayPhotos(held).length,
		room: await roomLeft(),
	};
}

/**
 * photoType tells by its first bytes what a picture is, as the server does; "" of anything else.
 * @param {Uint8Array} bytes
 */
export function photoType(bytes) {
	const begins = (/** @type {number[]} */ ...head) => head.every((byte, n) => bytes[n] === byte);
	const word = (/** @type {number} */ at) => String.fromCharCode(...bytes.subarray(at, at + 4));
	if (begins(0xff, 0xd8, 0xff)) return "image/jpeg";
	if (begins(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a)) return "image/png";
	return word(0) === "RIFF" && word(8) === "WEBP" ? "image/webp" : "";
}

/** onPhotos calls fn when a picture has come, from here or elsewhere. @param {() => void} fn */
export function onPhotos(fn) {
	hearOthers();
	events.addEventListener("photos", fn);
	return () => events.removeEventListener("photos", fn);
}

/** changed tells pages and other tabs of pictures. @param {string[]} ids */
export function changed(ids) {
	events.dispatchEvent(new Event("photos"));
	tell({ photos: ids });
}

let isListening = false;

/** Other tabs are heard from the first page on that wants to know. */
function hearOthers() {
	if (isListening) return;
	isListening = true;
	hear(({ photos }) => {
		if (photos) events.dispatchEvent(new Event("photos"));
	});
}
