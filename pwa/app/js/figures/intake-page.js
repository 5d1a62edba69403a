// Figures in and out: a table from a file or pasted, read, asked about, shown,
// and only then stored; and the way out as CSV and files.

import { Intake } from "./intake.js";
import { outSection } from "./out-section.js";
import { figuresDraft } from "../kept/figures-draft.js";
import { fill, h } from "../kit/dom.js";
import { firstAnswer, patient } from "../kit/first-answer.js";

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	const intake = new Intake(ctx, await figuresDraft.get(ctx.params.car));
	fill(
		root,
		h(
			"p",
			{ class: "lead" },
			"A table of speeds and degrees goes in as it is. It is shown first. It is stored only when you say so.",
		),
		intake.elements,
		outSection(ctx),
	);
	await firstAnswer(intake.read(), patient);
}
