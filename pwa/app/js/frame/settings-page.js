// How this phone shows things, where the garage is kept, and taking it along.

import { hasServer } from "../kept/server.js";
import { button, choice, textField } from "../kit/field.js";
import { garageFile } from "../sharing/garage-file.js";
import { garageState } from "../sharing/garage-state.js";
import { notOffline } from "../kit/not-offline.js";
import { fill, h } from "../kit/dom.js";
import { versions } from "./versions.js";
import { choose, keepLinksBegin, linksBegin, linkStartIn, setting } from "../kit/settings.js";

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	fill(
		root,
		looks(ctx),
		linksBeginField(),
		h("h2", null, "Where the garage is"),
		notOffline(),
		await garageState(ctx.signal),
		button("Keep it safe: what to do", "#/keep-safe"),
		h("h2", null, "Take the garage along"),
		await garageFile(),
		h("h2", null, "Versions"),
		await versionLines(),
		button("Fetch the app’s files again", "#/reset"),
	);
}

/** @param {PageContext} ctx */
function looks(ctx) {
	return [
		choice({
			label: "Light",
			name: "theme",
			value: setting("theme"),
			onChange: (value) => choose("theme", value),
			isRow: true,
			options: [
				{ value: "", label: "as the phone" },
				{ value: "light", label: "light" },
				{ value: "dark", label: "dark" },
				{ value: "sunlight", label: "sunlight" },
			],
		}).element,
		choice({
			label: "Size of text",
			name: "text",
			value: setting("text"),
			onChange: (value) => choose("text", value),
			isRow: true,
			options: [
				{ value: "", label: "normal" },
				{ value: "large", label: "large" },
				{ value: "larger", label: "larger" },
			],
		}).element,
		choice({
			label: "Words",
			name: "terms",
			value: setting("terms"),
			isRow: true,
			onChange: (value) => {
				choose("terms", value);
				ctx.go(location.hash);
			},
			options: [
				{ value: "uk", label: "British", note: h("span", { class: "other-english" }, "earth, pinking") },
				{ value: "us", label: "American", note: h("span", { class: "other-english" }, "ground, pinging") },
			],
		}).element,
	];
}

/** Where links to cards begin. */
function linksBeginField() {
	const field = textField({
		label: "Links begin with",
		name: "links-begin",
		value: linksBegin(),
		note: "Where others open this app, such as https://garage.example/app/. Empty: this machine’s address. Kept on this phone.",
		maxLength: 400,
		onInput: (text) => {
			field.setProblem(keepLinksBegin(text) ? linkTrouble(text) : noRoom);
		},
	});
	field.input.setAttribute("autocapitalize", "off");
	field.input.setAttribute("inputmode", "url");
	field.setProblem(linkTrouble(linksBegin()));
	return field.element;
}

const noRoom = {
	problem: "the phone has no room to keep this",
	limit: "some free storage",
	do: "Free some room and change it once more.",
};

/** @param {string} text */
const linkTrouble = (text) =>
	linkStartIn(text) === null
		? {
				problem: `“${text.trim().slice(0, 40)}” is no address that links can begin with`,
				limit: "https://, a name and the folder, without # and ?",
				do: "Copy it from where the app stands. Until then links begin with this machine’s address.",
			}
		: null;

/** @param {string} what @param {string} how */
const line = (what, how) => [h("dt", null, what), h("dd", null, how)];

const there = () => (hasServer() ? "On the server" : "At the web address");

async function versionLines() {
	const list = h("dl", { class: "ruled" }, line("Kept on this phone", "…"), line(there(), "…"));
	versions().then(({ here, server }) => fill(list, line("Kept on this phone", here), line(there(), server)));
	return list;
}
