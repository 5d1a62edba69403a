// A part of a page that stands folded until it is wanted: its title and, where
// there is one, its answer in a line. This phone remembers what was opened. On
// paper everything is open.

import { fill, h } from "./dom.js";
import { inEnglish } from "./words.js";

const kept = "pointsmith.open";
const mostKept = 200; // names; the oldest goes first. Chosen: three times as many as there are folds

/** @returns {string[]} */
function opened() {
	try {
		const list = JSON.parse(localStorage.getItem(kept) ?? "[]");
		return Array.isArray(list) ? list : [];
	} catch {
		return []; // no storage, or not ours: everything stands folded
	}
}

/** @param {string} name @param {boolean} isOpen */
function remember(name, isOpen) {
	const list = opened().filter((one) => one !== name && one !== `-${name}`);
	list.push(isOpen ? name : `-${name}`);
	try {
		localStorage.setItem(kept, JSON.stringify(list.slice(-mostKept)));
	} catch {
		// No storage: it is folded again next time.
	}
}

/**
 * @typedef {object} Head
 * @property {import("./dom.js").Children} title
 * @property {string} [id] of the title
 * @property {import("./dom.js").Children | (() => string)} [answer] what is to be known without opening it
 * @property {"h2" | "h3"} [level] of the title
 * @property {string} [class]
 * @property {boolean} [isOpen] it stands open until someone closes it
 */

/**
 * fold puts content under a title that opens it.
 * @param {string} name of the fold on this phone: "verdict/mend"
 * @param {Head} head
 * @param {...any} content
 */
export function fold(name, { title, id, answer, level = "h2", class: more = "", isOpen: stands = false }, ...content) {
	const isOpen = opened().includes(name) || (stands && !opened().includes(`-${name}`));
	const line = answer ? h("p", { class: "fold-answer" }) : null;
	const say = () => line && fill(line, inEnglish(typeof answer === "function" ? answer() : answer));
	say();
	const details = h(
		"details",
		{ class: `fold ${more}`.trim(), open: isOpen },
		h("summary", null, h("div", null, h(level, { id }, inEnglish(title)), line)),
		h("div", { class: "fold-content" }, content),
	);
	let was = isOpen;
	details.addEventListener("toggle", () => {
		say();
		if (details.open === was || isPrinting) return;
		was = details.open;
		remember(name, was);
	});
	return details;
}

/**
 * folded makes a fold of a section whose first child is its title.
 * @template {HTMLElement | null} T
 * @param {string} name @param {T} section @param {import("./dom.js").Children} [answer] @param {boolean} [isOpen]
 * @returns {HTMLElement | T}
 */
export function folded(name, section, answer, isOpen = false) {
	const title = section?.firstElementChild;
	if (!section || !(title instanceof HTMLHeadingElement)) return section;
	title.remove();
	const level = /** @type {"h2" | "h3"} */ (title.localName === "h3" ? "h3" : "h2");
	const details = fold(name, {
		title: [...title.childNodes],
		id: title.id,
		answer,
		level,
		class: section.className,
		isOpen,
	});
	for (const name of ["id", "aria-busy", "aria-live"])
		if (section.hasAttribute(name)) details.setAttribute(name, section.getAttribute(name) ?? "");
	details.lastElementChild?.append(...section.childNodes);
	return details;
}

/** unfold opens what an element stands in, so that it can be seen. @param {Element} element */
export function unfold(element) {
	for (let at = element.closest("details.fold"); at; at = at.parentElement?.closest("details.fold") ?? null)
		if (at instanceof HTMLDetailsElement) at.open = true;
}

/**
 * foldRest folds everything of a page that stands under a title, from one title to the next.
 * @param {HTMLElement} root @param {string} page @param {(title: HTMLElement) => boolean} [stays] what is left open
 */
export function foldRest(root, page, stays = () => false) {
	for (const title of [...root.querySelectorAll(":scope > h2")]) {
		if (!(title instanceof HTMLElement) || stays(title)) continue;
		const part = document.createElement("section");
		title.before(part);
		for (let next = part.nextElementSibling; next && (next === title || next.localName !== "h2");) {
			part.append(next);
			next = part.nextElementSibling;
		}
		const name = title.id || (title.textContent ?? "").toLowerCase().replace(/\W+/g, "-");
		part.replaceWith(folded(`${page}/${name}`, part));
	}
}

let isPrinting = false;

/** openOnPaper unfolds everything while it is printed. */
export function openOnPaper() {
	/** @type {HTMLDetailsElement[]} */
	let folds = [];
	addEventListener("beforeprint", () => {
		isPrinting = true;
		folds = [
			.../** @type {NodeListOf<HTMLDetailsElement>} */ (document.querySelectorAll("details.fold:not([open])")),
		];
		for (const each of folds) each.open = true;
	});
	addEventListener("afterprint", () => {
		for (const each of folds) each.open = false;
		// a toggle is told later
		setTimeout(() => {
			isPrinting = false;
		}, 100);
	});
}
