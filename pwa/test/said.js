// What the app can say: every piece of text in its modules and in the calculations, with where it stands.

import { readdirSync, readFileSync } from "node:fs";
import { join, relative } from "node:path";
import { parsers } from "prettier/plugins/acorn";

const root = new URL("../../", import.meta.url).pathname;

/** @param {string} dir @param {RegExp} wanted @returns {string[]} */
const filesIn = (dir, wanted) =>
	readdirSync(dir, { withFileTypes: true }).flatMap((each) => {
		const path = join(dir, each.name);
		return each.isDirectory() ? filesIn(path, wanted) : wanted.test(each.name) ? [path] : [];
	});

/** Attributes that nobody reads. */
const unread = new Set(["class", "id", "href", "path", "d", "type", "for", "css", "viewBox"]);

/** @param {string} source of a module @returns {string[]} */
function textsOf(source) {
	const found = [];
	const walk = (node) => {
		if (Array.isArray(node)) return node.forEach(walk);
		if (node === null || typeof node !== "object" || typeof node.type !== "string") return;
		if (node.type === "ImportDeclaration") return;
		if (node.type === "Property" && unread.has(node.key.name ?? node.key.value)) return;
		if (node.type === "Literal" && typeof node.value === "string") found.push(node.value);
		if (node.type === "TemplateLiteral") found.push(node.quasis.map(({ value }) => value.cooked).join("…"));
		for (const [key, child] of Object.entries(node)) if (key !== "comments" && key !== "range") walk(child);
	};
	walk(parsers.acorn.parse(source, {}).body);
	return found;
}

/** Of the app; words.js says each term in both kinds of English, and the glossary too. */
export const saidByTheApp = filesIn(join(root, "pwa/app/js"), /\.js$/)
	.filter((path) => !/kit\/words\.js$|help\/glossary\.js$/.test(path))
	.flatMap((path) =>
		textsOf(readFileSync(path, "utf8")).map((text) => ({ where: relative(root, path), text: text.trim() })),
	);

/** Of the calculations: strings of more than one word; what describes a field is for those who program. */
export const saidByCalculations = filesIn(join(root, "calc"), /\.go$/)
	.filter((path) => !/_test\.go$|\/truth\/|\/card\/dictionary\.go$/.test(path))
	.flatMap((path) =>
		readFileSync(path, "utf8")
			.split("\n")
			.filter((line) => !/^\s*\/\/|`json:/.test(line))
			.flatMap((line) => line.match(/"(?:[^"\\]|\\.)*"/g) ?? [])
			.map((text) => ({ where: relative(root, path), text: text.slice(1, -1) }))
			.filter(({ text }) => /\w \w/.test(text)),
	);
