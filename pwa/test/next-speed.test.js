import assert from "node:assert/strict";
import { test } from "node:test";
import { bookSpeeds, looksCopied, nextSpeed } from "../app/js/data/next-speed.js";
import { emptySheet } from "../app/js/data/sheet.js";

const sheet = { ...emptySheet(), speedUnit: "distributor", rows: [["1000", "7", "9"], ["300", "0", "1"], ["", "", ""], ["450", "0.5", "2.5"]].map(([rpm, min, max]) => ({ rpm, min, max })) };

test("the book's speeds rise and are turned into the speed that is read", () => {
	assert.deepEqual(bookSpeeds(sheet, "distributor"), [300, 450, 1000]);
	assert.deepEqual(bookSpeeds(sheet, "engine"), [600, 900, 2000]);
	assert.deepEqual(bookSpeeds({ ...sheet, speedUnit: "" }, "engine"), []);
});

test("suggestions rise through the speeds, turn at the top and fall through the same ones", () => {
	const taken = [];
	const order = [];
	let direction = "rising";
	for (let next; (next = nextSpeed([300, 450, 1000], taken, direction, "distributor")); ) {
		order.push(`${next.direction} ${next.rpm}`);
		taken.push({ rpm: next.rpm, direction: next.direction });
		direction = next.direction;
	}
	assert.deepEqual(order, ["rising 300", "rising 450", "rising 1000", "falling 1000", "falling 450", "falling 300"]);
});

test("without a book the next step is common practice and says so", () => {
	assert.equal(nextSpeed([], [], "rising", "engine"), null);
	const next = nextSpeed([], [{ rpm: 1000, direction: "rising" }], "rising", "engine");
	assert.equal(next.rpm, 1500);
	assert.match(next.why, /common practice/);
	assert.equal(nextSpeed([], [{ rpm: 400, direction: "falling" }], "falling", "engine"), null);
});

test("three pairs alike and none different look copied, one difference clears it", () => {
	const pair = (rpm, up, down) => [{ rpm, deg: up, direction: "rising" }, { rpm, deg: down, direction: "falling" }];
	assert.equal(looksCopied([...pair(300, 1, 1), ...pair(450, 2, 2), ...pair(700, 5, 5)]), true);
	assert.equal(looksCopied([...pair(300, 1, 1), ...pair(450, 2, 2), ...pair(700, 5, 5.5)]), false);
	assert.equal(looksCopied([...pair(300, 1, 1), ...pair(450, 2, 2)]), false);
});
