import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

const css = readFileSync(new URL("../app/css/tokens.css", import.meta.url), "utf8");

/** Relative luminance as WCAG 2 defines it (w3.org/TR/WCAG22, "relative luminance"). */
function luminance(hex) {
	const full = hex.length === 4 ? hex.replace(/[0-9a-f]/g, "$&$&") : hex;
	const [r, g, b] = [1, 3, 5]
		.map((at) => parseInt(full.slice(at, at + 2), 16) / 255)
		.map((c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4));
	return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

/** Contrast ratio of two colours, the same source. */
function contrast(a, b) {
	const [low, high] = [luminance(a), luminance(b)].sort((x, y) => x - y);
	return (high + 0.05) / (low + 0.05);
}

const themes = [...css.matchAll(/\{[^{}]*--paper:[^{}]*\}/g)].map(([block]) =>
	Object.fromEntries([...block.matchAll(/--([\w-]+):\s*(#[0-9a-f]{3,6})/g)].map(([, name, hex]) => [name, hex])),
);

test("contrast is measured as the standard has it", () => {
	assert.equal(contrast("#000", "#fff"), 21);
	assert.ok(Math.abs(contrast("#767676", "#ffffff") - 4.54) < 0.01);
});

test("text stands out 7 to 1 from every ground it is set on, in every theme", () => {
	assert.equal(themes.length, 4); // light, dark by the system, dark, sunlight
	for (const theme of themes) {
		const pairs = [
			["ink", "paper"],
			["ink", "plate"],
			["ink", "tint"],
			["ink-soft", "paper"],
			["ink-soft", "plate"],
			["paper", "ink"],
			["on-signal", "signal"],
		];
		for (const [text, ground] of pairs)
			assert.ok(
				contrast(theme[text], theme[ground]) >= 7,
				`${text} on ${ground}: ${contrast(theme[text], theme[ground]).toFixed(2)}`,
			);
		assert.ok(
			contrast(theme.hair, theme.paper) >= 3,
			`fine lines: ${contrast(theme.hair, theme.paper).toFixed(2)}`,
		);
	}
});
