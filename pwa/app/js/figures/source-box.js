// Where a table comes from: a file, or what is pasted. At every key it is kept.

import { fill, h } from "../kit/dom.js";
import { button } from "../kit/field.js";

const largest = 8_000_000; // bytes; calc/figures maxText
const shownText = 20_000; // characters in the box: more is slow to draw. Chosen
const calm = 400; // ms without a key before it is read. Chosen

/**
 * sourceBox gives the button, the box, and show, which puts another text there.
 * @param {{text: string, name: string}} first
 * @param {(text: string, name: string) => void} onText told at every key
 * @param {() => void} onCalm told once it is to be read
 * @param {(problem: Problem) => void} onRefuse
 */
export function sourceBox(first, onText, onCalm, onRefuse) {
	/** @type {any} */
	let timer = null;
	const area = h("textarea", {
		id: "figures-text",
		rows: 4,
		spellcheck: "false",
		autocapitalize: "off",
		on: {
			input: () => {
				onText(area.value, "");
				clearTimeout(timer);
				timer = setTimeout(onCalm, calm);
			},
		},
	});
	const file = fileInput((text, name) => {
		onText(text, name);
		show({ text, name });
		onCalm();
	}, onRefuse);
	const place = h("div");
	/** @param {{text: string, name: string}} now */
	const show = ({ text, name }) => {
		const isLong = text.length > shownText;
		area.value = isLong ? "" : text;
		fill(
			place,
			name || isLong
				? h(
						"p",
						{ class: "figures-source" },
						h("strong", null, h("bdi", null, name || "A long text")),
						`, ${text.length} characters`,
					)
				: null,
			isLong || name
				? button("Take another", () => {
						onText("", "");
						show({ text: "", name: "" });
						onCalm();
					})
				: h("div", { class: "field" }, h("label", { for: "figures-text" }, "Or paste it here"), area),
		);
	};
	show(first);
	return {
		element: h("div", null, h("label", { class: "button", for: "figures-file" }, "Choose a file"), file, place),
		show,
		stop: () => clearTimeout(timer),
	};
}

/**
 * @param {(text: string, name: string) => void} onFile @param {(problem: Problem) => void} onRefuse
 */
function fileInput(onFile, onRefuse) {
	const file = h("input", {
		type: "file",
		id: "figures-file",
		accept: ".csv,.txt,.tsv,text/csv,text/plain",
		class: "file-input",
		on: {
			change: async () => {
				const [chosen] = file.files ?? [];
				if (!chosen) return;
				if (chosen.size > largest) onRefuse(tooLarge);
				else onFile(textOf(new Uint8Array(await chosen.arrayBuffer())), chosen.name);
				file.value = "";
			},
		},
	});
	return file;
}

export const tooLarge = {
	title: "The file is too large",
	limit: `${largest / 1e6} million bytes`,
	do: "Keep only the columns of speed and degrees.",
};

/** A file's letters; UTF-16 says so at its beginning. @param {Uint8Array} bytes */
function textOf(bytes) {
	const [a, b] = bytes;
	const coding = a === 0xff && b === 0xfe ? "utf-16le" : a === 0xfe && b === 0xff ? "utf-16be" : "utf-8";
	return new TextDecoder(coding).decode(bytes);
}
