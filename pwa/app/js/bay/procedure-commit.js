// What a confirmed step leaves behind: facts, readings, events of the order of
// work, the restore list.

import { parse } from "../kit/format.js";
import { coilWatch } from "../safety/coil-watch.js";
import { garage } from "../kept/garage.js";
import { undoneBy } from "./procedure-run.js";
import { saveReading, startSet, updateSet } from "../record/visits.js";
import { standing, undo } from "../safety/standing.js";
import { timing } from "../record/answers.js";
import { keepVisitFacts } from "../record/visit-facts.js";
import { noteEvent } from "../record/events.js";

/**
 * commitStep keeps everything of a step; it resolves when the phone has it.
 * @param {Doc<Car>} car
 * @param {Procedure} procedure
 * @param {ProcedureStep} step
 * @param {Run} run
 * @param {Outcome | null} outcome
 */
export async function commitStep(car, procedure, step, run, outcome) {
	const { answers } = run;
	await keepAnswers(car, step, answers);
	if (step.keeps) await keepReading(car, step, run);
	await undo(car, undoneBy(step, answers));
	watchTheCoil(car, procedure, step);
	const stands = new Set(standing(car.id).map(({ id }) => id));
	const restored = (step.restores ?? []).filter((id) => stands.has(id));
	if (restored.length) await noteEvent(car, { restored });
	if (step.changes) await noteEvent(car, { changed: step.changes, what: procedure.title });
	if (step.records && outcome && procedure.judges)
		await noteEvent(car, { step: procedure.judges, verdict: outcome.verdict, what: outcome.text });
}

/**
 * The coil watch counts while the ignition is on with the engine still.
 * @param {Doc<Car>} car
 * @param {Procedure} procedure
 * @param {ProcedureStep} step
 */
function watchTheCoil(car, procedure, step) {
	if (step.undoes?.includes("ignition-on")) coilWatch.begin(car.body.name, procedure.title, car.id);
	if (step.restores?.includes("ignition-on")) coilWatch.end();
}

/** @param {Doc<Car>} car @param {ProcedureStep} step @param {{[key: string]: string}} answers */
async function keepAnswers(car, step, answers) {
	/** @type {{[key: string]: Fact}} */
	const facts = {};
	for (const one of step.asks ?? []) {
		const value = (answers[one.key] ?? "").trim();
		if (value === "" || !one.fact) continue;
		const fact = {
			value,
			unit:
				one.kind === "timing"
					? `crank degrees ${answers[`${one.key}.side`] || "before"} TDC`
					: (one.unit ?? ""),
			source: /** @type {Source} */ ("measured"),
			note: "",
		};
		facts[one.fact] = fact;
		if (one.lasting) await keepLasting(car, one.lasting, one.fact, fact);
	}
	if (Object.keys(facts).length) await keepVisitFacts(car, facts);
}

/** @param {Doc<Car>} car @param {"car" | "distributor"} of @param {string} key @param {Fact} fact */
async function keepLasting(car, of, key, fact) {
	const id = of === "car" ? car.id : car.body.distributorId;
	if (!garage.get(of, id)) return;
	await garage.update(of, id, (body) => {
		if (body.facts?.[key]?.value !== fact.value)
			body.facts = { ...body.facts, [key]: { ...fact, note: body.facts?.[key]?.note ?? "" } };
	});
}

/**
 * keepReading puts a timing that was read among the readings of the visit;
 * the same step read again takes its place.
 * @param {Doc<Car>} car @param {ProcedureStep} step @param {Run} run
 */
async function keepReading(car, step, run) {
	const { answers } = run;
	const keeps = /** @type {{rpm: string, deg: string}} */ (step.keeps);
	if (parse(answers[keeps.deg]) === null) return;
	const place = await setOf(car, run);
	const side = answers[`${keeps.deg}.side`] === "after" ? "after" : "before";
	if (keeps.rpm === "") {
		await updateSet(place.visit, place.set, (set) => {
			set.staticCrankDeg = answers[keeps.deg].trim();
			set.staticSide = side;
		});
		return;
	}
	if (parse(answers[keeps.rpm]) === null || timing(answers, keeps.deg) === null) return;
	await saveReading(place.visit, place.set, {
		id: `${place.set}`.slice(0, 12) + step.id.replace(/[^a-z0-9]/g, "").padEnd(8, "0"),
		rpm: answers[keeps.rpm].trim(),
		deg: answers[keeps.deg].trim(),
		side,
		direction: "rising",
		at: new Date().toISOString(),
	});
}

/**
 * setOf gives the set of readings of this run, begun at the first one.
 * @param {Doc<Car>} car @param {Run} run @param {"bench" | "car"} [place]
 */
export async function setOf(car, run, place = "car") {
	const kept = run.sets?.[place]?.split("/");
	if (kept && garage.get("visit", kept[0])) return { visit: kept[0], set: kept[1] };
	const begun = await startSet(car, place);
	await updateSet(begun.visit, begun.set, (set) => {
		if (place === "car") set.vacuum = "off";
	});
	run.sets = { ...run.sets, [place]: `${begun.visit}/${begun.set}` };
	return begun;
}
