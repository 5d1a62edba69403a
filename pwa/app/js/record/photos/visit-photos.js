// Photos in the visits: which there are, what is on them, and how much room
// they take, in words. The pictures themselves are in kept/photos.

import { garage } from "../../kept/garage.js";
import { namedPhoto } from "../../kept/photos/photos.js";
import { visitOfToday } from "../visits.js";
import { asWritten } from "../../kit/format.js";
import { firstCapital } from "../../kit/words.js";

/** @typedef {{visit: string, date: string, photo: Photo}} DatedPhoto */

const most = 100; // of one visit, as its shape has it (cmd/internal/shape)

/** What may be on a photo. @type {{value: Photo["of"], label: string}[]} */
export const subjects = [
	{ value: "cap", label: "cap or rotor" },
	{ value: "points", label: "points" },
	{ value: "mark", label: "timing mark" },
	{ value: "book", label: "page of the book" },
	{ value: "other", label: "something else" },
];

/** subjectName says what is on a photo. @param {Photo} photo */
export function subjectName({ of }) {
	const name = subjects.find(({ value }) => value === of)?.label ?? "";
	return of && of !== "other" ? firstCapital(name) : "Photo";
}

/** @param {Visit} body */
export const shownPhotos = (body) => (body.photos ?? []).filter(({ removed }) => !removed);

/** photosOf lists the photos of a car or a distributor, the newest first. @param {string} id @returns {DatedPhoto[]} */
export const photosOf = (id) =>
	garage
		.visits({ carId: id })
		.flatMap(({ id: visit, body }) => shownPhotos(body).map((photo) => ({ visit, date: body.date, photo })))
		.sort((a, b) => asWritten(b.date, a.date) || asWritten(b.photo.at, a.photo.at));

/** photoCount: "2 photos". @param {number} n */
export const photoCount = (n) => `${n} photo${n === 1 ? "" : "s"}`;

/**
 * addPhoto notes a picture, which has to be kept by now, in today's visit. The same picture again is the one that is
 * there.
 * @param {Doc<Car>} car @param {string} id @param {number} bytes
 * @returns {Promise<Problem | null>}
 */
export async function addPhoto(car, id, bytes) {
	const visit = visitOfToday(car);
	const photo = { id, of: /** @type {const} */ (""), note: "", at: new Date().toISOString(), bytes: String(bytes) };
	/** @type {Problem | null} */
	let problem = null;
	await garage.update("visit", visit, (/** @type {Visit} */ body) => {
		const photos = body.photos ?? [];
		const same = photos.find((one) => one.id === id);
		if (same) delete same.removed;
		else if (photos.length < most) body.photos = [...photos, photo];
		else
			problem = {
				title: "This day has no room for another photo",
				limit: `${most} photos a day`,
				do: "Go on tomorrow.",
			};
	});
	if (!problem) await namedPhoto(id);
	return problem;
}

/**
 * changePhoto changes what is said of a photo.
 * @param {string} visit @param {string} id @param {(photo: Photo) => void} edit
 */
export const changePhoto = (visit, id, edit) =>
	garage.update("visit", visit, (/** @type {Visit} */ body) => {
		const found = body.photos?.find((photo) => photo.id === id);
		if (found) edit(found);
	});

/** megabytes: "0.3 MB". @param {number} bytes */
export const megabytes = (bytes) =>
	bytes >= 1e9 ? `${(bytes / 1e9).toFixed(1)} GB` : `${Math.max(0.1, bytes / 1e6).toFixed(1)} MB`;

/**
 * useWords says what the photos take.
 * @param {import("../../kept/photos/photos.js").PhotoUse} use @param {boolean} hasServer
 */
export function useWords({ count, bytes, unsent, away, room }, hasServer) {
	if (!count && !away) return "No photos yet.";
	return [
		count ? `${photoCount(count)} on this phone, ${megabytes(bytes)}.` : "None on this phone.",
		hasServer && unsent ? `${unsent} not sent yet.` : "",
		away ? `${away} not here yet.` : "",
		room === null ? "" : `The browser has room for ${megabytes(room)} more.`,
	]
		.filter(Boolean)
		.join(" ");
}
