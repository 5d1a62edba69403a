import assert from "node:assert/strict";
import { test } from "node:test";
import { btdc, num, parse, parseSpeed, rpm, short, signed } from "../app/js/kit/format.js";

test("parse reads numbers as mechanics type them", () => {
	const cases = [
		["7.5", 7.5],
		["7,5", 7.5],
		[" 12 ", 12],
		[".5", 0.5],
		["−4", -4],
		["-4.25", -4.25],
		["–4", -4],
		["+3", 3],
		["1/2", 0.5],
		["7 1/2", 7.5],
		["7½", 7.5],
		["½", 0.5],
		["-1/4", -0.25],
		["0", 0],
		["8.", 8],
	];
	for (const [text, value] of cases) assert.equal(parse(text), value, text);
});

test("parse gives null for what is no finite number", () => {
	for (const text of [
		"",
		"   ",
		"NaN",
		"Infinity",
		"1e3",
		"0x10",
		"7-9",
		"12a",
		"1/0",
		"--4",
		"1.2.3",
		"9".repeat(30),
		null,
		undefined,
		{},
	]) {
		assert.equal(parse(text), null, String(text));
	}
});

test("parse never gives a negative zero", () => {
	assert.ok(Object.is(parse("-0"), 0));
});

test("parseSpeed takes a comma or a space before three digits as thousands, parse does not", () => {
	assert.equal(parseSpeed("1,500"), 1500);
	assert.equal(parseSpeed("1 500"), 1500);
	assert.equal(parseSpeed("1500"), 1500);
	assert.equal(parseSpeed("1,5"), 1.5);
	assert.equal(parse("1,500"), 1.5);
});

test("numbers are shown with a true minus sign and never as NaN", () => {
	assert.equal(num(-4.26, 1), "−4.3");
	assert.equal(num(-0.01, 1), "0.0");
	assert.equal(num(NaN, 1), "–");
	assert.equal(num(undefined, 1), "–");
	assert.equal(signed(2.5), "+2.5");
	assert.equal(signed(0.001), "0.0");
	assert.equal(rpm(12000), "12\u202f000");
	assert.equal(rpm(800.4), "800");
	assert.equal(short(7), "7");
	assert.equal(short(7.25), "7.25");
	assert.equal(short(10), "10");
	assert.equal(short(1 / 3), "0.33");
});

test("a crank angle always says before or after TDC", () => {
	assert.equal(btdc(8), "8.0° before TDC");
	assert.equal(btdc(-4.3), "4.3° after TDC");
	assert.equal(btdc(-0.04), "0.0° at TDC");
});
