import assert from "node:assert/strict";
import { test } from "node:test";
import { layOutPaper } from "./paper-dom.js";

layOutPaper();
const { createElement } = document;
// An input that can be typed into, on top of the paper one.
document.createElement = (/** @type {string} */ name) => {
	const element = /** @type {any} */ (createElement(name));
	Object.assign(element, {
		dataset: {},
		value: "",
		classList: { toggle() {} },
		focus() {},
		scrollIntoView() {},
		dispatchEvent: (/** @type {Event} */ event) => element.fire(event.type),
	});
	return element;
};
const { figureEntry } = await import("../app/js/bay/figure-entry.js");

/** An entry of one figure that stands at kept, with its keys. */
function entryOf(kept) {
	const answers = { deg: kept };
	const entry = figureEntry({
		asks: [{ key: "deg", label: "The mark stands at", kind: "timing", unit: "crank degrees" }],
		answers,
		onChange() {},
		onDone() {},
		name: "test",
	});
	entry.aimFirst();
	const keys = entry.element.all(({ localName }) => localName === "button");
	const press = (...texts) =>
		texts.forEach((text) =>
			keys.find((key) => key.textContent === text || key.getAttribute("aria-label") === text).fire("click"),
		);
	return { answers, press, entry };
}

test("the first digit takes the place of a figure that stood there, the next are added to it", () => {
	const { answers, press } = entryOf("8");
	press("1", "0", ".", "5");
	assert.equal(answers.deg, "10.5");
});

test("a figure begun in this step grows digit by digit", () => {
	const { answers, press } = entryOf("");
	press("1", "2");
	assert.equal(answers.deg, "12");
});

test("step keys, rub-out and the point mend a figure that stood there", () => {
	const plus = entryOf("8");
	plus.press("+½ degrees", "1");
	assert.equal(plus.answers.deg, "8.51");
	const rub = entryOf("12");
	rub.press("Rub out the last digit", "4");
	assert.equal(rub.answers.deg, "14");
	const point = entryOf("10");
	point.press(".", "5");
	assert.equal(point.answers.deg, "10.5");
});

test("a refused figure stays, and the first digit takes its place", () => {
	const { answers, press, entry } = entryOf("");
	press("1", "2", "0");
	assert.ok(entry.refuse("deg", { problem: "too large", limit: "60", do: "Read it again." }));
	assert.equal(answers.deg, "120");
	press("1", "2");
	assert.equal(answers.deg, "12");
});
