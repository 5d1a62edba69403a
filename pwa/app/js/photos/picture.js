// A file from the camera or the gallery made into the small picture that is
// kept. Drawn anew, it carries nothing of where and by what it was taken.

import { fileTrouble, squeezed } from "./scaling.js";

/** @type {Problem} */
const noPicture = {
	title: "This is no picture that the browser can open",
	limit: "JPEG, PNG or WebP",
	do: "Take a photo here, or choose another file.",
};

/**
 * pictureFrom gives the picture, or what is wrong with the file.
 * @param {File} file
 * @returns {Promise<{picture: Uint8Array<ArrayBuffer>, problem: null} | {picture: null, problem: Problem}>}
 */
export async function pictureFrom(file) {
	const wrong = fileTrouble(file);
	if (wrong) return { picture: null, problem: wrong };
	const opened = await createImageBitmap(file).catch(() => null);
	if (!opened) return { picture: null, problem: noPicture };
	try {
		const made = await squeezed(opened, (size, quality) => encoded(opened, size, quality));
		if (made) return { picture: new Uint8Array(await made.arrayBuffer()), problem: null };
	} finally {
		opened.close();
	}
	return { picture: null, problem: { title: "This picture cannot be made small enough", do: "Take it again." } };
}

/**
 * @param {ImageBitmap} picture @param {{width: number, height: number}} size @param {number} quality
 * @returns {Promise<Blob | null>}
 */
function encoded(picture, { width, height }, quality) {
	const canvas = document.createElement("canvas");
	Object.assign(canvas, { width, height });
	const pen = canvas.getContext("2d");
	if (!pen) return Promise.resolve(null);
	pen.imageSmoothingQuality = "high";
	pen.fillStyle = "#fff"; // paper, where the picture lets it through
	pen.fillRect(0, 0, width, height);
	pen.drawImage(picture, 0, 0, width, height);
	return new Promise((done) => canvas.toBlob(done, "image/jpeg", quality));
}
