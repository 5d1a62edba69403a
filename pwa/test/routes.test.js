import assert from "node:assert/strict";
import { existsSync } from "node:fs";
import { test } from "node:test";
import { address } from "../app/js/kit/address.js";
import { match, routes } from "../app/js/frame/routes.js";

test("every address of the plan finds its page and its parts", () => {
	const cases = [
		["", "garage", {}],
		["#/", "garage", {}],
		["#/car/abc", "car", { car: "abc" }],
		["#/car/abc/facts", "facts", { car: "abc" }],
		["#/car/abc/readings", "readings", { car: "abc" }],
		["#/car/abc/readings/v1", "readings", { car: "abc", visit: "v1" }],
		["#/car/abc/readings/v1/s1/", "readings", { car: "abc", visit: "v1", set: "s1" }],
		["#/car/abc/what-if", "what-if", { car: "abc" }],
		["#/help", "help", {}],
		["#/help/offline", "help", { topic: "offline" }],
		["#/join/ABCD1234", "join", { code: "ABCD1234" }],
		["#/join", "join", {}],
		["#/kept", "kept", {}],
		["#/kept/car/a/b", "kept", { kind: "car", id: "a", revision: "b" }],
		["#/reset", "reset", {}],
		["#/car/abc/card", "card", { car: "abc" }],
		["#/card", "setup-link", {}],
		["#/card/AQ-_", "setup-link", { fragment: "AQ-_" }],
	];
	for (const [hash, name, params] of cases) {
		const found = match(hash);
		assert.equal(found?.route.name, name, hash);
		assert.deepEqual(found?.params, params, hash);
	}
});

test("an address that leads nowhere finds nothing, however it is spelt", () => {
	for (const hash of ["#/nowhere", "#/car", "#/card/a/b", "#/car/abc/nowhere", "#/car/abc/facts/more", "#/%E0%A4%A"])
		assert.equal(match(hash), null, hash);
});

test("an address made from parts is read back", () => {
	assert.deepEqual(match(address("help", "a b/ü"))?.params, { topic: "a b/ü" });
});

test("every route has a page to show", () => {
	for (const { name, room } of routes)
		assert.ok(existsSync(new URL(`../app/js/${room}/${name}-page.js`, import.meta.url)), name);
});
