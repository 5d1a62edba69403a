// The vacuum capsule of one car as the calculation takes it: what the code
// says, what was read, whether it holds.

import { parse } from "../kit/format.js";
import { driveOf } from "../record/car-electrics.js";
import { garage } from "../kept/garage.js";
import { factText } from "../record/known.js";
import { convert } from "../kit/units.js";
import { ask } from "../engine/ask.js";
import { capsuleMost, isLeftOut } from "./capsule-doubts.js";

/** @typedef {import("../record/known.js").Given} Given */
/**
 * @typedef {{n: number, vacuum: string, vacuumUnit: string, deg: string, degUnit: string, direction: "rising" |
 *   "falling"}} CapsuleRow
 */

/** Rows on the page; more than any capsule needs. Chosen. */
export const mostRows = 12;

/**
 * capsuleVisit is the newest visit in which a capsule was tried.
 * @param {string} carId @returns {Doc<Visit> | null}
 */
export function capsuleVisit(carId) {
	return (
		garage
			.visits({ carId })
			.find(({ body }) => Object.keys(body.facts ?? {}).some((key) => key.startsWith("capsule."))) ?? null
	);
}

/** @param {Facts} facts of a visit @returns {CapsuleRow[]} */
export function capsuleRows(facts) {
	return Array.from({ length: mostRows }, (_, i) => {
		const [vacuum, deg] = [facts[`capsule.${i + 1}.vacuum`], facts[`capsule.${i + 1}.deg`]];
		return {
			n: i + 1,
			vacuum: vacuum?.value ?? "",
			vacuumUnit: vacuum?.unit || "inHg",
			deg: deg?.value ?? "",
			degUnit: deg?.unit || "crank degrees",
			direction: /** @type {"rising" | "falling"} */ (
				deg?.note === "falling" || vacuum?.note === "falling" ? "falling" : "rising"
			),
		};
	});
}

/**
 * capsuleInput makes what vacuum.judge takes; null while neither readings nor
 * a leak test are there. A figure that cannot be is left out, and the page
 * marks its field.
 * @param {Given} given @param {Facts} facts of the visit
 */
export function capsuleInput(given, facts) {
	const readings = capsuleRows(facts).flatMap((row) => {
		const [kPa, deg] = [inKPa(row.vacuum, row.vacuumUnit), parse(row.deg)];
		if (kPa === null || deg === null || isLeftOut(row.deg, row.degUnit)) return [];
		return [
			{
				kPa,
				direction: row.direction,
				...(row.degUnit.startsWith("crank") ? { crankDeg: deg } : { distDeg: deg }),
			},
		];
	});
	const hold = holdOf(facts);
	if (readings.length === 0 && !hold) return null;
	const port = factText(given, "vacuumPort");
	const idle = given.car.body.facts.idleVacuum;
	const idleKPa = idle ? inKPa(idle.value, idle.unit || "inHg") : null;
	const atPipe = facts.pipeAtIdle ? inKPa(facts.pipeAtIdle.value, facts.pipeAtIdle.unit || "inHg") : null;
	return {
		...driveOf(given.distributor?.body.sheet),
		capsule: capsuleOf(given),
		...(readings.length ? { readings } : {}),
		...(hold ? { hold } : {}),
		...(["ported", "manifold", "venturi"].includes(port)
			? { source: port }
			: port === "nowhere"
				? { source: "none" }
				: {}),
		...(idleKPa !== null ? { idleVacuumKPa: idleKPa } : {}),
		...(atPipe !== null ? { pipeAtIdleKPa: atPipe } : {}),
	};
}

/** The judgement of the capsule as last tried, or null. @param {Given} given @returns {Promise<any>} */
export async function capsuleJudgement(given) {
	const visit = capsuleVisit(given.car.id);
	const input = visit ? capsuleInput(given, visit.body.facts ?? {}) : null;
	return input ? ask("vacuum.judge", input) : null;
}

/** capsuleOf gives what is known of the capsule, as the calculations take it. @param {Given} given */
export function capsuleOf(given) {
	const code = factText(given, "capsuleCode");
	const kind = factText(given, "capsuleKind") === "retard" ? "retard" : "advance";
	const meaning = factText(given, "capsuleMeaning");
	/** @type {{[key: string]: unknown}} */
	const out = { kind };
	if (factText(given, "capsuleTwin") === "twin") out.twin = true;
	if (code && meaning === "start-full-most")
		out.code = {
			text: code,
			meaning: ["start", "full", "max"],
			vacuumUnit: factText(given, "capsuleCodeUnit") || "inHg",
			angleUnit: "distributor",
		};
	for (const [fact, field] of /** @type {const} */ ([
		["capsuleStart", "startKPa"],
		["capsuleFull", "fullKPa"],
	])) {
		const found = given.distributor?.body.facts[fact];
		const kPa = found ? inKPa(found.value, found.unit || "inHg") : null;
		if (kPa !== null && (kPa > 0 || field === "startKPa")) out[field] = kPa;
	}
	const most = parse(given.distributor?.body.facts.capsuleMost?.value);
	if (most !== null && most > 0 && most <= capsuleMost.capsuleMost) out.maxDistDeg = most;
	return out;
}

/** @param {Facts} facts */
function holdOf(facts) {
	const [start, end, seconds] = [
		facts["capsule.hold.start"],
		facts["capsule.hold.end"],
		facts["capsule.hold.seconds"],
	];
	const [startKPa, endKPa, held] = [
		inKPa(start?.value, start?.unit || "inHg"),
		inKPa(end?.value, end?.unit || "inHg"),
		parse(seconds?.value),
	];
	return startKPa === null ||
		endKPa === null ||
		held === null ||
		startKPa <= 0 ||
		held <= 0 ||
		held > capsuleMost["capsule.hold.seconds"]
		? null
		: { startKPa, endKPa, seconds: held };
}

/** @param {string | undefined} text @param {string} unit @returns {number | null} */
function inKPa(text, unit) {
	const typed = parse(text);
	return typed === null || isLeftOut(text ?? "", unit) ? null : convert(typed, unit, "kPa");
}
