// A QR code as a drawing: dark on light in every theme, because readers of
// such codes expect it, with the quiet zone the standard asks for.

import { h, svg } from "./dom.js";

/**
 * qrFigure draws the answer of card.qr.
 * @param {{rows: string[], size: number, quietZone: number, leastSideMm: number}} code
 * @param {string} about what it leads to, for those who hear the page
 * @param {string} caption
 */
export function qrFigure(code, about, caption) {
	const side = code.size + 2 * code.quietZone;
	const modules = code.rows
		.flatMap((row, y) =>
			[...row.matchAll(/1+/g)].map(
				(run) => `M${run.index + code.quietZone} ${y + code.quietZone}h${run[0].length}v1h-${run[0].length}z`,
			),
		)
		.join("");
	return h(
		"figure",
		{ class: "qr", css: { "--least": `${Math.ceil(code.leastSideMm)}mm` } },
		svg(
			"svg",
			{ viewBox: `0 0 ${side} ${side}`, role: "img", "aria-label": about, "shape-rendering": "crispEdges" },
			svg("rect", { class: "qr-light", width: side, height: side }),
			svg("path", { class: "qr-dark", d: modules }),
		),
		h("figcaption", { class: "note" }, caption),
	);
}
