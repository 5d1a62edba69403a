// The card as a page of its own: its QR code is read by a decoder that shares
// nothing with what drew it, and its lines are those of the app's own card.

import { readFile } from "node:fs/promises";
import { openDoor } from "./door.js";
import { after, before, test } from "node:test";
import assert from "node:assert/strict";
import jsqr from "jsqr";

const { call } = await import("../app/js/engine/client.js");
const { cardRows } = await import("../app/js/card/card-rows.js");
const links = new URL("../../testdata/links/", import.meta.url);
const address = "https://garage.example/app/";
const decode = /** @type {typeof jsqr.default} */ (/** @type {any} */ (jsqr).default ?? jsqr);

/** @type {() => Promise<void>} */
let close;
before(async () => {
	close = await openDoor();
});
after(() => close());

/** @param {string} name @returns {Promise<SetupCard>} */
const kept = async (name) => JSON.parse(await readFile(new URL(`${name}.json`, links), "utf8"));

/** The drawing of the code as a bitmap, four pixels a module. @param {string} page */
function bitmap(page) {
	const drawing = /<figure class="qr".*?<\/figure>/s.exec(page)?.[0] ?? "";
	const side = Number(/viewBox="0 0 (\d+) \d+"/.exec(drawing)?.[1]);
	const path = /class="dark" d="([^"]+)"/.exec(drawing)?.[1] ?? "";
	const scale = 4;
	const width = side * scale;
	const pixels = new Uint8ClampedArray(width * width * 4).fill(255);
	for (const [, x, y, run] of path.matchAll(/M(\d+) (\d+)h(\d+)v1h-\d+z/g))
		for (let row = 0; row < scale; row++)
			for (let column = 0; column < Number(run) * scale; column++) {
				const at = ((Number(y) * scale + row) * width + Number(x) * scale + column) * 4;
				pixels.fill(0, at, at + 3);
			}
	return { pixels, width };
}

for (const name of ["v1/least", "v1/four", "v1/full-six", "v2/four", "v3/four"])
	test(`the code on the page of ${name} is read again to the same card`, async () => {
		const card = await kept(name);
		const { page, link } = await call("card.page", { card, address });
		const { pixels, width } = bitmap(page);
		const read = decode(pixels, width, width);
		assert.equal(read?.data, link);
		assert.ok(link.startsWith(`${address}#/card/`));
		const opened = await call("card.open", { fragment: read?.data.split("#/card/")[1] });
		assert.deepEqual(opened.card, card);
	});

test("a page without the asker's words says what the app's card says", async () => {
	for (const name of ["v1/four", "v1/full-six", "v3/four"]) {
		const card = await kept(name);
		const { page } = await call("card.page", { card, address });
		const words = page
			.replace(/<small>.*?<\/small>/gs, "")
			.replace(/<[^>]+>/g, "\n")
			.replace(/\n+/g, "\n")
			.replaceAll("&#39;", "'")
			.replaceAll("&amp;", "&")
			.replaceAll("&lt;", "<");
		for (const { label, text } of cardRows(card).filter((row) => row.text))
			assert.ok(words.includes(`\n${label}\n${text}\n`), `${name}: ${label}: ${text}`);
	}
});

test("what the asker words stands as it was worded", async () => {
	const card = await kept("v1/four");
	const lines = [{ group: "As it was set", label: "Initial timing", text: "8.0° before TDC", note: "measured" }];
	const { page, text } = await call("card.page", { card, address, lines });
	assert.match(page, /Initial timing/);
	assert.doesNotMatch(page, /Static timing/);
	assert.match(text, /^Initial timing: 8\.0° before TDC$/m);
});
