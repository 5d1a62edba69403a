// Photos of a car or a distributor, day by day: taken, looked at, taken out.

import { largePhoto } from "./large-photo.js";
import { isTaking, taking } from "./taking.js";
import { shownPhoto } from "./shown-photo.js";
import { onPhotos, photoUse, strayPhotos } from "../kept/photos/photos.js";
import { photosHaveNoRoom } from "../kept/photos/photo-sync.js";
import { followGarage } from "../kept/follow.js";
import { hasServer } from "../kept/server.js";
import { dayName } from "../record/visits.js";
import { addPhoto, photoCount, photosOf, subjectName, useWords } from "../record/photos/visit-photos.js";
import { address } from "../kit/address.js";
import { fill, h } from "../kit/dom.js";
import { button } from "../kit/field.js";
import { firstAnswer } from "../kit/first-answer.js";
import { fold } from "../kit/fold.js";
import { trouble } from "../kit/caution.js";
import { inEnglish } from "../kit/words.js";

/** What stands open: two screens of it. Judgement. */
const most = { photos: 12, days: 3 };

/** @typedef {import("../record/photos/visit-photos.js").DatedPhoto} DatedPhoto */
/** @typedef {ReturnType<typeof shownPhoto>} Frame */

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	const car = /** @type {Doc<Car>} */ (ctx.car);
	if (ctx.params.photo) return largePhoto(root, ctx);
	const [days, use] = [h("div", { class: "photo-days" }), h("div", { class: "photo-use" })];
	const say = async () => fill(use, await strays(car, say), await useLines());
	/** @type {Map<string, Frame>} by visit and photo: drawn once, whatever comes and goes beside them */
	const frames = new Map();
	let [drawn, current] = ["", new AbortController()];
	const draw = async () => {
		const photos = photosOf(car.id);
		const now = JSON.stringify(photos);
		if (now === drawn) return;
		drawn = now;
		current.abort();
		current = new AbortController();
		ctx.signal.addEventListener("abort", () => current.abort());
		frames.clear();
		fill(days, dayByDay(car, photos, frames, current.signal));
		await drawOpen(frames);
	};
	await firstAnswer(Promise.all([say(), followGarage(ctx.signal, draw)]));
	fill(root, taking(car, ctx), days, h("h2", { class: "vh" }, "Room"), use);
	ctx.signal.addEventListener(
		"abort",
		onPhotos(() => {
			drawOpen(frames);
			say();
		}),
	);
}

/** One after the other: many at once would keep a finger waiting. @param {Map<string, Frame>} frames */
async function drawOpen(frames) {
	for (const { element, draw } of [...frames.values()]) {
		const inside = element.closest("details.fold");
		if (!(inside instanceof HTMLDetailsElement) || inside.open) await draw();
	}
}

/** @param {Doc<Car>} car @param {DatedPhoto[]} photos @param {Map<string, Frame>} frames @param {AbortSignal} signal */
function dayByDay(car, photos, frames, signal) {
	if (!photos.length)
		return h(
			"p",
			{ class: "note" },
			"None yet. The cap, the points, the mark, a page of the book: as you find them.",
		);
	const lastDay = [...new Set(photos.map(({ date }) => date))][most.days];
	const open = photos.slice(0, most.photos).filter(({ date }) => !lastDay || date > lastDay);
	const rest = photos.slice(open.length);
	const all = (/** @type {DatedPhoto[]} */ some, /** @type {"h2" | "h3"} */ level) =>
		[...new Set(some.map(({ date }) => date))].map((date) => [
			h(level, { class: "photo-day" }, date ? dayName(date) : "No date"),
			h(
				"ul",
				{ class: "photo-grid", role: "list" },
				some.filter((one) => one.date === date).map((one) => cell(car, one, frames, signal)),
			),
		]);
	if (!rest.length) return all(open, "h2");
	const more = fold("photos/earlier", { title: "Earlier", answer: photoCount(rest.length) }, all(rest, "h3"));
	more.addEventListener("toggle", () => drawOpen(frames));
	return [...all(open, "h2"), more].flat();
}

/** @param {Doc<Car>} car @param {DatedPhoto} dated @param {Map<string, Frame>} frames @param {AbortSignal} signal */
function cell(car, { visit, date, photo }, frames, signal) {
	const name = inEnglish(subjectName(photo));
	const frame = shownPhoto({ id: photo.id, name: "", signal });
	frames.set(`${visit}/${photo.id}`, frame);
	return h(
		"li",
		null,
		h(
			"a",
			{
				href: address("car", car.id, "photos", visit, photo.id),
				"aria-label": [name, photo.note, dayName(date)].filter(Boolean).join(", "),
			},
			frame.element,
			h("span", { class: "photo-name" }, name),
		),
	);
}

/**
 * Kept, and in no visit. They are put in by a tap: a page that is opened changes nothing.
 * @param {Doc<Car>} car @param {() => void} done
 */
async function strays(car, done) {
	const found = await strayPhotos(car.id).catch(() => []);
	if (!found.length || isTaking()) return null;
	return [
		h("p", null, `${photoCount(found.length)} kept, and not put in: the app was closed in between.`),
		button(`Put ${found.length === 1 ? "it" : "them"} in`, async () => {
			for (const { id, bytes } of found) await addPhoto(car, id, bytes);
			done();
		}),
	];
}

async function useLines() {
	const use = await photoUse().catch(() => null);
	return [
		h("p", { class: "note" }, use ? useWords(use, hasServer()) : "The phone’s store of photos does not answer."),
		photosHaveNoRoom() && use?.away
			? trouble({
					title: "This phone has no room for more photos",
					detail: `${use.away} stay on the server.`,
					do: "Free some room on the phone. They come then.",
				})
			: null,
	];
}
