// The ruled scales round a figure: crank degrees at the left, distributor
// degrees at the right, engine rpm and beneath it distributor rpm.
import { svg } from "../dom.js";

/**
 * @typedef {import("./layout.js").Layout} Layout
 */

/** @param {PlateInput} input @param {Layout} layout @returns {SVGElement[]} */
export function axes(input, layout) {
	return [
		frame(layout),
		...zero(input, layout),
		...crankScale(input, layout),
		...distScale(layout),
		...speedScales(input, layout),
	];
}

/** @param {Layout} layout */
function frame({ field }) {
	return svg("rect", { class: "plate-frame", x: field.x, y: field.y, width: field.width, height: field.height });
}

/**
 * @param {string} words @param {number} x @param {number} y
 * @param {"start" | "middle" | "end"} anchor @param {number} font @param {string} [look]
 */
function words(words, x, y, anchor, font, look = "plate-words") {
	return svg("text", { class: look, x, y, "text-anchor": anchor, "font-size": font }, words);
}

/** TDC, or no advance: the firm line everything is counted from. @param {PlateInput} input @param {Layout} layout */
function zero(input, { field, y, font }) {
	if (y.lo >= 0) return [];
	const at = y.at(0);
	const line = svg("path", { class: "plate-zero", d: `M${field.x} ${at}H${field.x + field.width}` });
	if (input.axis.quantity !== "total") return [line];
	const end = field.x + field.width - 6;
	return [
		line,
		words("before TDC", end, at - 5, "end", font, "plate-words plate-halo"),
		words("after TDC", end, at + font + 2, "end", font, "plate-words plate-halo"),
	];
}

/** @param {PlateInput} input @param {Layout} layout */
function crankScale(input, { field, y, font, degTicks, degMinor }) {
	const teeth = degMinor
		.map((d) => `M${field.x} ${y.at(d)}h-4`)
		.concat(degTicks.map((d) => `M${field.x} ${y.at(d)}h-8`));
	const total = input.axis.quantity === "total";
	return [
		svg("path", { class: "plate-tooth", d: teeth.join("") }),
		...degTicks.map((d) =>
			words(String(Math.abs(d)), field.x - 11, y.at(d) + font * 0.35, "end", font, "plate-figure"),
		),
		words("crank degrees", 2, font, "start", font, "plate-words"),
		words(total ? "before TDC" : "of advance", 2, font * 2.2, "start", font, "plate-words"),
	];
}

/** @param {Layout} layout */
function distScale({ field, y, font, width, distTicks }) {
	if (!distTicks.length) return [];
	const edge = field.x + field.width;
	return [
		svg("path", { class: "plate-tooth", d: distTicks.map((t) => `M${edge} ${y.at(t.crankDeg)}h8`).join("") }),
		...distTicks.map((t) =>
			words(String(t.distDeg), edge + 11, y.at(t.crankDeg) + font * 0.35, "start", font, "plate-figure"),
		),
		words("distributor", width - 2, font, "end", font, "plate-words"),
		words("degrees", width - 2, font * 2.2, "end", font, "plate-words"),
	];
}

/** @param {PlateInput} input @param {Layout} layout */
function speedScales(input, { field, x, font, rpmTicks, rpmMinor }) {
	const ratio = input.axis.driveRatio ?? 2;
	const foot = field.y + field.height;
	const line = font * 1.25;
	const second = foot + line * 2 + 12;
	const minor = rpmMinor.map((r) => `M${x.at(r)} ${foot}v4`);
	const major = rpmTicks.map((r) => `M${x.at(r)} ${foot}v8`);
	const lower = rpmTicks.map((r) => `M${x.at(r)} ${second}v7`);
	const figures = rpmTicks.flatMap((r) => [
		words(String(r), x.at(r), foot + 9 + font, "middle", font, "plate-figure"),
		words(String(Math.round(r / ratio)), x.at(r), second + 8 + font, "middle", font, "plate-figure"),
	]);
	const middle = field.x + field.width / 2;
	return [
		svg("path", {
			class: "plate-tooth",
			d: [...minor, ...major, ...lower, `M${field.x} ${second}h${field.width}`].join(""),
		}),
		...figures,
		words("engine rpm", middle, foot + 7 + font + line, "middle", font),
		words("distributor rpm", middle, second + 6 + font + line, "middle", font),
	];
}
