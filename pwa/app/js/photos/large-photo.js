// One photo, large: what is on it, a note, and taking it out.

import { shownPhoto } from "./shown-photo.js";
import { longest } from "../../made/shapes.js";
import { onPhotos } from "../kept/photos/photos.js";
import { bringPhoto } from "../kept/photos/photo-sync.js";
import { garage } from "../kept/garage.js";
import { changePhoto, megabytes, shownPhotos, subjectName, subjects } from "../record/photos/visit-photos.js";
import { dayName } from "../record/visits.js";
import { address } from "../kit/address.js";
import { trouble } from "../kit/caution.js";
import { fill, h } from "../kit/dom.js";
import { button, choice, textField } from "../kit/field.js";
import { firstAnswer } from "../kit/first-answer.js";
import { offerUndo } from "../kit/undo-bar.js";

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function largePhoto(root, { params, go, signal }) {
	const { car, visit, photo: id } = params;
	const all = address("car", car, "photos");
	const body = garage.get("visit", visit)?.body;
	const photo = body && shownPhotos(body).find((one) => one.id === id);
	if (!photo) {
		return fill(
			root,
			trouble({ title: "This photo is not in the garage of this phone", do: "Look among all of them." }),
			button("All photos", all),
		);
	}
	const frame = shownPhoto({
		id,
		name: [subjectName(photo), photo.note].filter(Boolean).join(": "),
		isLarge: true,
		signal,
	});
	const away = h("p", { class: "note photo-where" });
	const draw = async () => {
		const isHere = await frame.draw();
		fill(
			away,
			isHere
				? `${dayName(body.date)} · ${megabytes(Number(photo.bytes))}`
				: "Not on this phone yet. It comes when the server answers.",
		);
		return isHere;
	};
	signal.addEventListener("abort", onPhotos(draw));
	await firstAnswer(draw());
	fill(
		root,
		frame.element,
		away,
		form(visit, photo),
		button("All photos", all),
		button("Take it out", () => takeOut(visit, id, () => go(all))),
	);
	if (!(await frame.draw()) && (await bringPhoto(id))) draw();
}

/** @param {string} visit @param {Photo} photo */
function form(visit, photo) {
	const change = (/** @type {(photo: Photo) => void} */ edit) => changePhoto(visit, photo.id, edit).catch(() => {});
	return [
		choice({
			label: "What is on it",
			name: "photo-of",
			value: photo.of,
			isRow: true,
			options: subjects,
			onChange: (of) =>
				change((now) => {
					now.of = of;
				}),
		}).element,
		textField({
			label: "Note",
			name: "photo-note",
			value: photo.note,
			maxLength: longest["photo.note"],
			onInput: (text) => {
				change((now) => {
					now.note = text;
				});
			},
		}).element,
	];
}

/**
 * The way back is offered on the page that follows.
 * @param {string} visit @param {string} id @param {() => void} leave
 */
async function takeOut(visit, id, leave) {
	await changePhoto(visit, id, (photo) => {
		photo.removed = true;
	});
	const undo = () =>
		changePhoto(visit, id, (photo) => {
			delete photo.removed;
		}).then(() => {});
	addEventListener("hashchange", () => offerUndo("The photo is taken out.", undo), { once: true });
	leave();
}
