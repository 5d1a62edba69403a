// How small a photo is made. Pure: what encodes is handed in.

/** What is kept of a photo, and what is taken. */
export const limits = {
	side: 1600, // pixels of the long side; a page of a book can still be read. Judgement
	least: 320, // pixels; smaller it shows nothing. Judgement
	bytes: 400_000, // of the picture that is kept. Judgement: 2,500 of them in a gigabyte
	file: 25_000_000, // bytes of a file that is opened; phone cameras make 2 to 12 million (common practice)
};
const qualities = [0.8, 0.7, 0.6, 0.5]; // JPEG; below that writing grows fringes. Common practice
const step = 0.75; // of a side, once quality alone does not do. Judgement

/**
 * fitted gives the size with its long side no longer than most; never larger than it is.
 * @param {{width: number, height: number}} size @param {number} [most]
 */
export function fitted({ width, height }, most = limits.side) {
	const scale = Math.min(1, most / Math.max(width, height));
	return { width: Math.max(1, Math.round(width * scale)), height: Math.max(1, Math.round(height * scale)) };
}

/**
 * squeezed encodes with less quality, then smaller, until it fits; null where it never does.
 * @template {{size: number}} T
 * @param {{width: number, height: number}} size of the picture as it came
 * @param {(size: {width: number, height: number}, quality: number) => Promise<T | null>} encode
 * @returns {Promise<T | null>}
 */
export async function squeezed(size, encode) {
	for (let side = limits.side; side >= limits.least; side = Math.round(side * step)) {
		for (const quality of qualities) {
			const made = await encode(fitted(size, side), quality);
			if (made && made.size <= limits.bytes) return made;
		}
	}
	return null;
}

/**
 * fileTrouble refuses a file before it is opened.
 * @param {{size: number}} file @returns {Problem | null}
 */
export function fileTrouble({ size }) {
	if (size > limits.file)
		return {
			title: `This file is too large: ${Math.round(size / 1e6)} MB`,
			limit: `${limits.file / 1e6} MB`,
			do: "Take a photo here, or choose a smaller file.",
		};
	return size ? null : { title: "This file is empty", do: "Choose another one, or take a photo here." };
}
