import assert from "node:assert/strict";
import { test } from "node:test";
import { guidance, nextDraft } from "../app/js/readings/reading-draft.js";
import { bookSpeeds, looksCopied, nextSpeed, speedsToRead } from "../app/js/readings/next-speed.js";
import { emptySheet } from "../app/js/record/sheet.js";

const sheet = {
	...emptySheet(),
	speedUnit: "distributor",
	rows: [
		["1000", "7", "9"],
		["300", "0", "1"],
		["", "", ""],
		["450", "0.5", "2.5"],
	].map(([rpm, min, max]) => ({ rpm, min, max })),
};

test("the book's speeds rise and are turned into the speed that is read", () => {
	assert.deepEqual(bookSpeeds(sheet, "distributor"), [300, 450, 1000]);
	assert.deepEqual(bookSpeeds(sheet, "engine"), [600, 900, 2000]);
	assert.deepEqual(bookSpeeds({ ...sheet, speedUnit: "" }, "engine"), []);
});

test("suggestions rise through the speeds, turn at the top and fall through the same ones", () => {
	const taken = [];
	const order = [];
	let direction = "rising";
	for (let next; (next = nextSpeed([300, 450, 1000], taken, direction, "distributor"));) {
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
	const pair = (rpm, up, down) => [
		{ rpm, deg: up, direction: "rising" },
		{ rpm, deg: down, direction: "falling" },
	];
	assert.equal(looksCopied([...pair(300, 1, 1), ...pair(450, 2, 2), ...pair(700, 5, 5)]), true);
	assert.equal(looksCopied([...pair(300, 1, 1), ...pair(450, 2, 2), ...pair(700, 5, 5.5)]), false);
	assert.equal(looksCopied([...pair(300, 1, 1), ...pair(450, 2, 2)]), false);
});

test("on the car nothing below its idle is suggested, and its idle comes first", () => {
	const six = {
		...emptySheet(),
		speedUnit: "engine",
		rows: [
			["400", "0", "1"],
			["700", "2", "4"],
			["1000", "5", "7"],
			["2000", "14", "17"],
		].map(([rpm, min, max]) => ({ rpm, min, max })),
	};
	const car = { place: "car", speedUnit: "engine" };
	assert.deepEqual(speedsToRead(six, car, 700), [700, 1000, 2000]);
	assert.deepEqual(speedsToRead(six, car, 650), [650, 1000, 2000], "the idle stands for a book speed close to it");
	assert.deepEqual(speedsToRead(six, car, 800), [800, 1000, 2000]);
	assert.deepEqual(speedsToRead(six, { place: "car", speedUnit: "distributor" }, 700), [350, 500, 1000]);
	assert.deepEqual(
		speedsToRead(six, { place: "bench", speedUnit: "engine" }, 700),
		[400, 700, 1000, 2000],
		"a bench goes as slow as it likes",
	);
	assert.deepEqual(speedsToRead(six, car, null), [400, 700, 1000, 2000]);
	const order = [];
	for (
		let next, taken = [], direction = "rising";
		(next = nextSpeed(speedsToRead(six, car, 800), taken, direction, "engine", 800));
		direction = next.direction
	) {
		order.push(`${next.direction} ${next.rpm}: ${next.why}`);
		taken.push({ rpm: next.rpm, direction: next.direction });
	}
	assert.match(order[0], /^rising 800: its idle/);
	assert.equal(order.length, 6);
	assert.match(order[5], /^falling 800: back at its idle/);
});

test("without a book the car begins at its idle and does not go below it", () => {
	assert.equal(nextSpeed([], [], "rising", "engine", 700)?.rpm, 700);
	assert.equal(nextSpeed([], [{ rpm: 1000, direction: "falling" }], "falling", "engine", 700), null);
	assert.equal(nextSpeed([], [{ rpm: 1200, direction: "falling" }], "falling", "engine", 700)?.rpm, 700);
});

test("the draft of a first reading on the car holds its idle, and the guide says so", () => {
	const six = {
		...emptySheet(),
		speedUnit: "engine",
		rows: [
			{ rpm: "400", min: "0", max: "1" },
			{ rpm: "2000", min: "14", max: "17" },
		],
	};
	const set = { id: "s", place: "car", speedUnit: "engine", angleUnit: "crank", base: "included", readings: [] };
	const draft = nextDraft(six, set, undefined, 700);
	assert.equal(draft.rpm, "700");
	assert.equal(
		guidance(draft, speedsToRead(six, set, 700), set, 700).text,
		"Hold 700: its idle. Slower cannot be held on the car.",
	);
});
