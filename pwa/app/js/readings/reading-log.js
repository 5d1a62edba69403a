// The readings taken so far: one line a speed, rising and falling side by
// side. A tap on a figure corrects it.

import { drafts } from "../kept/drafts.js";
import { looksCopied } from "./next-speed.js";
import { judgeSet } from "./quick-verdict.js";
import { complete } from "../record/sheet.js";
import { fill, h } from "../kit/dom.js";
import { num, rpm } from "../kit/format.js";
import { button } from "../kit/field.js";
import { mark } from "../kit/mark.js";

/**
 * readingLog draws the table.
 * @param {{set: VisitSet, sheet: Sheet | undefined, setId: string, editing: string, onEdit: (reading: Reading) =>
 *   void}} options
 */
export function readingLog({ set, sheet, setId, editing, onEdit }) {
	const taken = complete(set);
	if (taken.length === 0) return null;
	const speeds = [...new Set(taken.map((reading) => reading.rpm))].sort((a, b) => a - b);
	/** @type {Map<string, HTMLElement>} */
	const marks = new Map();
	/** @param {number} speed @param {"rising" | "falling"} direction */
	const cell = (speed, direction) =>
		h(
			"td",
			null,
			taken
				.filter((reading) => reading.rpm === speed && reading.direction === direction)
				.map((reading) => {
					const verdict = h("span", { class: "log-mark" });
					marks.set(reading.id, verdict);
					const raw = set.readings.find(({ id }) => id === reading.id);
					return h(
						"button",
						{
							type: "button",
							class: "log-cell figures",
							"aria-current": reading.id === editing ? "true" : null,
							"aria-label": `Correct ${num(reading.deg)} at ${speed}, ${direction}`,
							on: {
								click: () => {
									if (raw) onEdit(raw);
								},
							},
						},
						verdict,
						num(Math.abs(reading.deg)),
						reading.deg < 0 ? h("small", null, " after") : null,
					);
				}),
		);
	const table = h(
		"table",
		{ class: "log" },
		h("caption", null, `Readings, ${set.angleUnit} degrees. Tap one to correct it.`),
		h(
			"thead",
			null,
			h(
				"tr",
				null,
				h("th", { scope: "col" }, h("small", null, set.speedUnit), h("br"), "rpm"),
				h("th", { scope: "col" }, mark("rising"), " rising"),
				h("th", { scope: "col" }, mark("falling"), " falling"),
			),
		),
		h(
			"tbody",
			null,
			speeds.map((speed) =>
				h(
					"tr",
					null,
					h("th", { scope: "row", class: "figures" }, rpm(speed)),
					cell(speed, "rising"),
					cell(speed, "falling"),
				),
			),
		),
	);
	if (sheet)
		judgeSet(sheet, set).then(
			(verdicts) => putMarks(verdicts, taken, marks),
			() => {},
		);
	return [
		h("section", { class: "log-section" }, h("h2", null, count(taken.length)), table),
		looksCopied(taken) ? copiedQuestion(setId) : null,
	];
}

/** @param {number} n */
const count = (n) => (n === 1 ? "1 reading saved" : `${n} readings saved`);

/**
 * @param {Map<number, import("./quick-verdict.js").QuickVerdict>} verdicts
 * @param {{id: string}[]} taken
 * @param {Map<string, HTMLElement>} marks
 */
function putMarks(verdicts, taken, marks) {
	for (const [index, { verdict, text }] of verdicts) {
		const place = marks.get(taken[index]?.id ?? "");
		if (place && verdict !== "unknown")
			fill(place, mark(verdict), h("span", { class: "vh" }, `${verdict}, ${text}: `));
	}
}

/** @param {string} setId */
function copiedQuestion(setId) {
	const key = `not-copied/${setId}`;
	const place = h("div");
	drafts.get(key).then((answered) => {
		if (answered) return;
		fill(
			place,
			h(
				"aside",
				{ class: "boxed" },
				h("p", null, mark("watch"), " ", h("strong", null, "Rising and falling are alike at every speed.")),
				h(
					"p",
					null,
					"Friction hardly ever allows that. Was one column copied from the other? If so, correct or remove it.",
				),
				button("No: both were measured", () => {
					drafts.put(key, true);
					fill(place);
				}),
			),
		);
	});
	return place;
}
