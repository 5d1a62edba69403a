// Taking a photo, or choosing some: made small, kept at once, and only then
// asked about.

import { pictureFrom } from "./picture.js";
import { isFull } from "../kept/db.js";
import { keepPhoto } from "../kept/photos/photos.js";
import { addPhoto } from "../record/photos/visit-photos.js";
import { visitOfToday } from "../record/visits.js";
import { address } from "../kit/address.js";
import { fill, h } from "../kit/dom.js";
import { trouble } from "../kit/caution.js";
import { button, nextButton } from "../kit/field.js";

/** @type {Problem} */
const noRoom = {
	title: "Not kept: this phone has no room",
	detail: "All that was kept before is still there.",
	do: "Free some room on the phone. Then take it again.",
};

/** @param {Doc<Car>} car @param {PageContext} ctx */
export function taking(car, ctx) {
	const said = h("div", { class: "photo-said", role: "status", "aria-live": "polite" });
	const input = (/** @type {{[name: string]: unknown}} */ how) => {
		const element = h("input", {
			type: "file",
			accept: "image/*",
			class: "file-input",
			tabindex: -1,
			...how,
			on: {
				change: async () => {
					const files = [...(element.files ?? [])];
					underWay++;
					await takeAll(files, car, ctx, said).finally(() => underWay--);
					element.value = "";
				},
			},
		});
		return element;
	};
	const camera = input({ capture: "environment", "aria-label": "A photo from the camera" });
	const gallery = input({ multiple: true, "aria-label": "Photos on this phone" });
	return [
		nextButton("Take a photo", () => camera.click()),
		camera,
		button("Choose photos on this phone", () => gallery.click()),
		gallery,
		said,
	];
}

let underWay = 0;

/** isTaking says whether photos are just being kept. */
export const isTaking = () => underWay > 0;

/** @param {File[]} files @param {Doc<Car>} car @param {PageContext} ctx @param {HTMLElement} said */
async function takeAll(files, car, ctx, said) {
	/** @type {{name: string, problem: Problem}[]} */
	const wrong = [];
	let last = "";
	for (const [n, file] of files.entries()) {
		fill(said, h("p", { class: "note" }, files.length > 1 ? `Kept: ${n} of ${files.length} …` : "Being kept …"));
		const { id, problem } = await take(file, car);
		if (problem) wrong.push({ name: file.name, problem });
		else last = id;
	}
	fill(
		said,
		wrong.map(({ name, problem }) =>
			trouble({ ...problem, detail: [name, problem.detail].filter(Boolean).join(": ") }),
		),
	);
	if (files.length === 1 && last && !ctx.signal.aborted)
		ctx.go(address("car", car.id, "photos", visitOfToday(car), last));
}

/** The picture first, then what is said of it. @param {File} file @param {Doc<Car>} car */
async function take(file, car) {
	try {
		const { picture, problem } = await pictureFrom(file);
		if (problem) return { id: "", problem };
		const id = await keepPhoto(picture, { takenFor: car.id });
		return { id, problem: await addPhoto(car, id, picture.length) };
	} catch (error) {
		const found = /** @type {any} */ (error);
		return {
			id: "",
			problem: isFull(found)
				? noRoom
				: { title: "Not kept", detail: String(found?.message ?? found), do: "Take it again." },
		};
	}
}
