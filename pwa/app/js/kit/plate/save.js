// A figure saved as a picture that stands alone: SVG with everything it needs
// in it, or PNG of the same, at twice its size, drawn on this phone. Always in
// the light colours; with its caption and its key.
import { h, svg } from "../dom.js";
import { button } from "../field.js";
import { fileName, offerFile } from "../file-offer.js";

/** What of a style makes the drawing. */
const looks = [
	"fill",
	"stroke",
	"stroke-width",
	"stroke-dasharray",
	"stroke-linecap",
	"stroke-linejoin",
	"opacity",
	"paint-order",
	"font-family",
	"font-style",
	"font-weight",
	"font-size",
];

const [edge, line, sampleWidth, times] = [10, 22, 42, 2]; // px about the figure, a line of its words; PNG of 2x

/**
 * savers gives the two buttons of a figure.
 * @param {HTMLElement} figure
 */
export function savers(figure) {
	const name = () => fileName(captionOf(figure) || "figure");
	return h(
		"div",
		{ class: "plate-savers" },
		button("Save as SVG", () => offerFile(`${name()}.svg`, standing(figure).text, "image/svg+xml")),
		button("Save as PNG", async () => offerFile(`${name()}.png`, await asPNG(standing(figure)))),
	);
}

/**
 * standing writes the figure as one SVG.
 * @param {HTMLElement} figure
 * @returns {{text: string, width: number, height: number}}
 */
export function standing(figure) {
	const picture = /** @type {SVGSVGElement} */ (figure.querySelector("svg.plate-drawing"));
	const [, , width, height] = (picture.getAttribute("viewBox") ?? "0 0 640 400").split(" ").map(Number);
	const caption = captionOf(figure);
	return inLight(() => {
		const style = getComputedStyle(picture);
		const drawn = withLooks(picture);
		drawn.querySelectorAll(".plate-chosen").forEach((one) => one.remove());
		const words = wordsUnder(figure, caption, width, height, style);
		const total = { width: width + 2 * edge, height: height + 2 * edge + words.height };
		const ground = getComputedStyle(/** @type {Element} */ (picture.parentElement)).backgroundColor;
		const whole = svg(
			"svg",
			{ viewBox: `${-edge} ${-edge} ${total.width} ${total.height}`, ...total },
			svg("title", {}, caption),
			svg("rect", { x: -edge, y: -edge, ...total, fill: ground }),
			...drawn.childNodes,
			...words.lines,
		);
		for (const one of whole.querySelectorAll("*"))
			for (const own of ["class", "aria-hidden", "focusable"]) one.removeAttribute(own);
		return { text: new XMLSerializer().serializeToString(whole), ...total };
	});
}

/** "Fig. 1 The distributor by itself …" @param {HTMLElement} figure */
const captionOf = (figure) =>
	[...(figure.querySelector(".plate-caption")?.childNodes ?? [])].map((part) => part.textContent?.trim()).join(" ");

/**
 * inLight works with the light colours; nothing is painted in between.
 * @template T @param {() => T} work @returns {T}
 */
function inLight(work) {
	const { dataset } = document.documentElement;
	const before = dataset.theme;
	dataset.theme = "light";
	try {
		return work();
	} finally {
		if (before === undefined) delete dataset.theme;
		else dataset.theme = before;
	}
}

/**
 * A copy with its styles written into it.
 * @param {SVGElement} from @returns {SVGElement}
 */
function withLooks(from) {
	const copy = /** @type {SVGElement} */ (from.cloneNode(true));
	const [all, copies] = [from, copy].map((one) => [one, ...one.querySelectorAll("*")]);
	all.forEach((element, index) => {
		const style = getComputedStyle(element);
		for (const look of looks) copies[index].setAttribute(look, style.getPropertyValue(look));
	});
	return copy;
}

/**
 * The caption and the key, beneath the drawing.
 * @param {HTMLElement} figure @param {string} caption @param {number} width @param {number} top
 * @param {CSSStyleDeclaration} style
 */
function wordsUnder(figure, caption, width, top, style) {
	const font = { "font-family": style.fontFamily, "font-size": 14, fill: style.color };
	/** @type {SVGElement[]} */
	const lines = [];
	let y = top + line;
	/** @param {string} text @param {number} x */
	const write = (text, x) => {
		for (const part of broken(text, (width - x) / 7)) {
			lines.push(svg("text", { x, y, ...font }, part)); // 7 px: the mean width of a letter at 14 px
			y += line;
		}
	};
	write(caption, 0);
	for (const item of figure.querySelectorAll(".plate-key li")) {
		const sample = item.querySelector("svg");
		if (sample) {
			const copy = withLooks(sample);
			for (const [name, value] of Object.entries({ x: 0, y: y - 15 })) copy.setAttribute(name, String(value));
			lines.push(copy);
		}
		const number = item.querySelector(".plate-key-number")?.textContent ?? "";
		write(`${number ? `${number}  ` : ""}${item.lastElementChild?.textContent ?? ""}`, sample ? sampleWidth : 0);
	}
	return { lines, height: y - top };
}

/** @param {string} text @param {number} most letters of a line */
function broken(text, most) {
	/** @type {string[]} */
	const lines = [];
	let now = "";
	for (const word of text.split(/\s+/)) {
		if (now && now.length + word.length + 1 > most) {
			lines.push(now);
			now = word;
		} else now = now ? `${now} ${word}` : word;
	}
	return [...lines, now].filter(Boolean);
}

/** @param {{text: string, width: number, height: number}} picture @returns {Promise<Blob>} */
async function asPNG({ text, width, height }) {
	const url = URL.createObjectURL(new Blob([text], { type: "image/svg+xml" }));
	try {
		const image = new Image();
		image.src = url;
		await image.decode();
		const canvas = h("canvas", { width: Math.round(width * times), height: Math.round(height * times) });
		canvas.getContext("2d")?.drawImage(image, 0, 0, canvas.width, canvas.height);
		return await new Promise((done, fail) =>
			canvas.toBlob((blob) => (blob ? done(blob) : fail(new Error("no picture was made"))), "image/png"),
		);
	} finally {
		URL.revokeObjectURL(url);
	}
}
