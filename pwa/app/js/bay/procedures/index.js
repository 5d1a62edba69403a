// All procedures, in the order of the job. Each is data: one engine runs them.

import { idleSpeed, mixture } from "./afterwards.js";
import { capsule, curveOnBench, curveOnCar } from "./curve.js";
import { firstStart } from "./first-start.js";
import { fitDistributor, setPoints } from "./fitting.js";
import { proveTDC, rotation } from "./marks-proved.js";
import { phasing, roadTest, scatter } from "./spread.js";
import { roadTiming } from "./road-timing.js";
import { staticTiming } from "./static-timing.js";
import { statedSpeed, strobeIdle } from "./strobe-timing.js";
import { inEnglish } from "../../kit/words.js";

/** In the English now chosen. @returns {Procedure[]} */
export function procedures() {
	return [
		proveTDC,
		rotation,
		fitDistributor,
		setPoints,
		staticTiming,
		firstStart,
		strobeIdle,
		statedSpeed,
		curveOnCar,
		curveOnBench,
		capsule,
		phasing,
		scatter,
		roadTest,
		roadTiming,
		idleSpeed,
		mixture,
	].map((make) => spoken(make()));
}

/** Its words in the chosen English, whatever its data say. @param {Procedure} procedure @returns {Procedure} */
const spoken = (procedure) => ({
	...procedure,
	title: inEnglish(procedure.title),
	why: inEnglish(procedure.why),
	tools: procedure.tools.map(inEnglish),
	before: procedure.before.map(inEnglish),
	steps: procedure.steps.map((step) => ({
		...step,
		title: inEnglish(step.title),
		...(step.text ? { text: step.text.map(inEnglish) } : {}),
		...(step.onFail ? { onFail: step.onFail.map(inEnglish) } : {}),
		...(step.done ? { done: inEnglish(step.done) } : {}),
		...(step.page ? { page: { ...step.page, label: inEnglish(step.page.label) } } : {}),
		...(step.asks ? { asks: step.asks.map(spokenAsk) } : {}),
	})),
});

/** What it asks; the values are what is kept, the same in either. @param {Ask} ask @returns {Ask} */
const spokenAsk = (ask) => ({
	...ask,
	label: inEnglish(ask.label),
	...(ask.note ? { note: inEnglish(ask.note) } : {}),
	...(ask.options ? { options: ask.options.map((one) => ({ ...one, label: inEnglish(one.label) })) } : {}),
});

/** @param {string} name @returns {Procedure | null} */
export const procedureOf = (name) => procedures().find((each) => each.name === name) ?? null;

/** Which procedure does a step of the order of work. @type {{[step: string]: string}} */
export const procedureFor = {
	points: "points",
	static: "static",
	base: "strobe-idle",
	curve: "curve-car",
	vacuum: "capsule",
	idle: "idle",
	mixture: "mixture",
};
