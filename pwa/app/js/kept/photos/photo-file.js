// Photos in a garage file: as base64 (RFC 4648, section 4), only where they
// are to go along. The server's side is web/garage_file_photos.go.

import { heldPhotos, keepPhoto, largest, photoBytes, photoType } from "./photos.js";
import { digest } from "../digest.js";

/** Bytes of pictures in one file: with base64 and the documents below what a file may have (backup.js). Chosen */
const mostBytes = 40_000_000;
const most = 2_000; // pictures, as the server has it

/** @typedef {{id: string, data: string}} FilePhoto */

/** photosToSend says how many photos fit into one file, the newest first, and how many do not. */
export async function photosToSend() {
	const held = await heldPhotos();
	const going = [];
	let bytes = 0;
	for (const one of held.slice(0, most)) {
		if (bytes + one.bytes > mostBytes) break;
		going.push(one.id);
		bytes += one.bytes;
	}
	return { ids: going, bytes, left: held.length - going.length };
}

/** filePhotos gives them as they stand in the file. @param {string[]} ids @returns {Promise<FilePhoto[]>} */
export async function filePhotos(ids) {
	const photos = [];
	for (const id of ids) {
		const bytes = await photoBytes(id);
		if (bytes) photos.push({ id, data: toBase64(bytes) });
	}
	return photos;
}

/** @param {Uint8Array} bytes */
function toBase64(bytes) {
	const piece = 0x8000; // arguments of one call; chosen, engines differ in how many they take
	let text = "";
	for (let at = 0; at < bytes.length; at += piece) text += String.fromCharCode(...bytes.subarray(at, at + piece));
	return btoa(text);
}

/**
 * readPhotos holds each picture of a file against its id.
 * @param {unknown} list
 * @returns {{photos: Uint8Array<ArrayBuffer>[], wrong: string}} wrong: of the first that is not whole
 */
export function readPhotos(list) {
	if (list === undefined) return { photos: [], wrong: "" };
	if (!Array.isArray(list) || list.length > most)
		return { photos: [], wrong: `there may be a list of ${most} at most` };
	const photos = [];
	for (const [n, one] of list.entries()) {
		const bytes = fromBase64(one?.data);
		const wrong = !bytes
			? "it is not base64"
			: bytes.length > largest
				? "it is larger than 1 MiB"
				: !photoType(bytes)
					? "it is no picture"
					: digest(bytes) !== one.id
						? "it is not what its id says"
						: "";
		if (wrong || !bytes) return { photos: [], wrong: `photo ${n + 1}: ${wrong}` };
		photos.push(bytes);
	}
	return { photos, wrong: "" };
}

/** @param {unknown} text */
function fromBase64(text) {
	if (typeof text !== "string") return null;
	try {
		return Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
	} catch {
		return null;
	}
}

/** takePhotosIn keeps those that are not here, and says how many. @param {Uint8Array<ArrayBuffer>[]} photos */
export async function takePhotosIn(photos) {
	const here = new Set((await heldPhotos()).map(({ id }) => id));
	let added = 0;
	for (const bytes of photos) {
		if (here.has(digest(bytes))) continue;
		await keepPhoto(bytes);
		added++;
	}
	return added;
}
