// How many lines each function of a module has, read with the parser that the
// formatter brings along.

import { parsers } from "prettier/plugins/acorn";

/**
 * functionLengths names every function by what it is called or kept as; a nameless one is "", and counts with the
 * function around it only.
 * @param {string} source of a module
 * @returns {{name: string, lines: number}[]}
 */
export function functionLengths(source) {
	const found = [];
	const lineOf = (offset) => source.slice(0, offset).split("\n").length;
	const walk = (node, name) => {
		if (Array.isArray(node)) return node.forEach((each) => walk(each, ""));
		if (node === null || typeof node !== "object" || typeof node.type !== "string") return;
		if (/^(FunctionDeclaration|FunctionExpression|ArrowFunctionExpression)$/.test(node.type)) {
			const [from, to] = node.range;
			found.push({ name: node.id?.name ?? name, lines: lineOf(to) - lineOf(from) + 1 });
		}
		for (const [key, child] of Object.entries(node)) {
			if (key === "comments" || key === "range") continue;
			walk(child, nameGiven(node, key));
		}
	};
	walk(parsers.acorn.parse(source, {}).body, "");
	return found;
}

/** The name that a node gives to what it holds. */
function nameGiven(node, key) {
	if (node.type === "VariableDeclarator" && key === "init") return node.id.name ?? "";
	if (/^(Property|MethodDefinition|PropertyDefinition)$/.test(node.type) && key === "value")
		return node.key.name ?? String(node.key.value ?? "");
	return "";
}
