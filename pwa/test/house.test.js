import assert from "node:assert/strict";
import { existsSync, readFileSync, readdirSync, statSync } from "node:fs";
import { dirname, join, relative } from "node:path";
import { test } from "node:test";
import { fileURLToPath } from "node:url";

const app = fileURLToPath(new URL("../app/", import.meta.url));
const js = join(app, "js");

/** @returns {string[]} every file under a folder, but not what go generate leaves */
function filesUnder(folder) {
	return readdirSync(folder).flatMap((name) => {
		const path = join(folder, name);
		if (statSync(path).isDirectory()) return name === "wasm" ? [] : filesUnder(path);
		return [path];
	});
}

const scripts = filesUnder(js).filter((path) => path.endsWith(".js"));
const read = (path) => readFileSync(path, "utf8");
const importsOf = (path) => [...read(path).matchAll(/^import\s[^"]*?"([^"]+)";|^import "([^"]+)";|^} from "([^"]+)";/gm)].map((found) => found[1] ?? found[2] ?? found[3]);

test("every import leads to a file of ours, by a relative path", () => {
	for (const path of scripts) {
		for (const target of importsOf(path)) {
			assert.ok(target.startsWith("."), `${relative(app, path)} imports ${target}`);
			assert.ok(existsSync(join(dirname(path), target)), `${relative(app, path)} imports ${target}`);
		}
	}
});

test("imports point one way: pages to elements to data and calculation to lib", () => {
	const rank = { lib: 0, platform: 1, settings: 1, data: 2, calc: 2, procedures: 2, elements: 3, offline: 3, place: 3, pages: 4, main: 5, "first-paint": 5 };
	const rankOf = (path) => rank[relative(js, path).split("/")[0].replace(/\.js$/, "")];
	for (const path of scripts) {
		assert.notEqual(rankOf(path), undefined, `${relative(app, path)} lies in no room`);
		for (const target of importsOf(path)) {
			const to = join(dirname(path), target);
			assert.ok(rankOf(to) <= rankOf(path), `${relative(app, path)} must not import ${relative(app, to)}`);
		}
	}
});

test("nothing typed can become markup or script, and nothing needs a looser policy", () => {
	const forbidden = /\.innerHTML|\.outerHTML|insertAdjacentHTML|document\.write|\beval\(|new Function|setAttribute\("style"|\bstyle: "/;
	for (const path of scripts) assert.doesNotMatch(read(path), forbidden, relative(app, path));
	const page = read(join(app, "index.html"));
	assert.doesNotMatch(page, / style=| on[a-z]+=|<script>|<style|https?:/);
});

test("what index.html names is there, and every style sheet is named", () => {
	const page = read(join(app, "index.html"));
	const named = [...page.matchAll(/(?:href|src)="([^"#]+)"/g)].map(([, path]) => path);
	for (const path of named) if (path !== "manifest.webmanifest") assert.ok(existsSync(join(app, path)), path); // the manifest is made by the server
	for (const sheet of readdirSync(join(app, "css"))) assert.ok(named.includes(`css/${sheet}`), sheet);
});

test("files stay under 400 lines", () => {
	for (const path of filesUnder(app).filter((each) => /\.(js|css|html)$/.test(each))) assert.ok(read(path).split("\n").length < 400, relative(app, path));
});
