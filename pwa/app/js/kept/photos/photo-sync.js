// Photos go last. Once a round of the documents has ended well, those that the
// server lacks are sent, then those that this phone lacks are fetched, one at a
// time; a document that is changed meanwhile goes first again.

import { awayPhotos, changed, heldPhotos, keepPhoto, photoBytes, photoType } from "./photos.js";
import { digest } from "../digest.js";
import { note } from "./photo-store.js";
import { isFull } from "../db.js";
import { ask, fetchBytes, hasServer, sendBytes } from "../server.js";
import { onSync, syncState, unsent } from "../sync.js";
import { thisPhone } from "../this-phone.js";
import { onlyHere } from "../../kit/platform.js";

const longest = 300_000; // ms; a tab that is at it for longer is asleep. Chosen

const state = { isBusy: false, isFull: false };
/** @type {Date | null} when the documents last agreed, as the last look found it */
let agreed = null;

/** photosHaveNoRoom says whether the phone had no room for a picture that was to be fetched. */
export const photosHaveNoRoom = () => state.isFull;

/** startPhotoSync begins; it follows the rounds of the documents. */
export function startPhotoSync() {
	onSync(() => {
		const { at } = syncState();
		if (at && at !== agreed) syncPhotos();
		agreed = at;
	});
}

/** syncPhotos makes one round. It never fails: the next one tries again. */
export async function syncPhotos() {
	if (!hasServer() || state.isBusy) return;
	state.isBusy = true;
	try {
		await onlyHere("pointsmith.photos", round, longest);
	} catch (error) {
		if (isFull(error)) state.isFull = true;
	} finally {
		state.isBusy = false;
		changed([]);
	}
}

/** A document waits, and could be sent. */
const givesWay = () => unsent() > syncState().refused.length;

async function round() {
	const garage = await nameOfGarage();
	if (!garage) return;
	const held = await heldPhotos();
	const mine = held.filter(({ sentTo }) => sentTo !== garage);
	const away = awayPhotos(held);
	if (!mine.length && !away.length) return;
	const there = new Set(/** @type {string[]} */ ((await ask("GET", "photos")).photos));
	for (const { id } of mine) {
		if (givesWay()) return;
		if (there.has(id) || (await send(id))) await note(id, { sentTo: garage });
	}
	for (const id of away) {
		if (givesWay()) return;
		if (there.has(id)) await bring(id, garage);
	}
	state.isFull = false;
}

/** Which file the server has: after another was put in its place, what was sent is sent again. */
const nameOfGarage = async () => String((await thisPhone.get("feed"))?.garage ?? "").split(".")[0];

/** @param {string} id @returns {Promise<boolean>} whether the server has taken it */
async function send(id) {
	const photo = await photoBytes(id);
	if (!photo) return false;
	try {
		await sendBytes(`photos/${id}`, photo, photoType(photo));
		return true;
	} catch (problem) {
		// it will not have this one; the others may go
		if ([413, 422].includes(/** @type {any} */ (problem)?.status)) return false;
		throw problem;
	}
}

/**
 * What comes is held against its id; what is damaged on the way is fetched again.
 * @param {string} id @param {string} garage
 */
async function bring(id, garage) {
	const photo = await fetchBytes(`photos/${id}`);
	if (digest(photo) === id) await keepPhoto(photo, { sentTo: garage });
}

/**
 * bringPhoto fetches a picture that somebody looks at, and says whether it is here now.
 * @param {string} id
 */
export async function bringPhoto(id) {
	if (!hasServer()) return false;
	try {
		await bring(id, await nameOfGarage());
	} catch (error) {
		if (isFull(error)) state.isFull = true;
	}
	return Boolean(await photoBytes(id));
}
