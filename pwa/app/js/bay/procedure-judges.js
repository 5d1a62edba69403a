// The live verdict of a step. Figures are judged by the calculation; what is
// only seen is judged by what was seen. Every judge gives null while there is
// nothing to judge yet.

import { btdc, num, parse, rpm } from "../kit/format.js";
import { driveOf } from "../record/car-electrics.js";
import { garage } from "../kept/garage.js";
import { bookOf } from "../electrics/points.js";
import { bookStatic, cylindersOf, factText, idleOf, orderOf, rotationOf, specOf } from "../record/known.js";
import { isAnswered } from "./procedure-run.js";
import { driveRatio } from "../record/sheet.js";
import { inWords } from "../readings/quick-verdict.js";
import { readingsForVerdict } from "../record/judged-sets.js";
import { capsuleJudgement } from "../vacuum/capsule.js";
import { scatterJudgement } from "../scatter/scatter.js";
import { ask } from "../engine/ask.js";
import { speed, timing } from "../record/answers.js";

/** @typedef {import("../record/known.js").Given} Given */

/** @param {Verdict} verdict @param {string} text @returns {Outcome} */
const seen = (verdict, text) => ({ verdict, text });

/** @type {{[name: string]: (given: Given) => Outcome | null | Promise<Outcome | null>}} */
const judges = {
	async tdc({ answers }) {
		const [first, second] = [timing(answers, "first"), timing(answers, "second")];
		if (first === null || second === null) return null;
		const [before, after] = [Math.max(first, second), Math.min(first, second)];
		const answer = await ask("marks.tdc", { stopBeforeCrankDeg: -before, stopAfterCrankDeg: -after });
		return { verdict: answer.verdict, text: answer.note, working: answer.working, sources: answer.sources };
	},
	async static(given) {
		const still = timing(given.answers, "static");
		if (still === null) return null;
		const book = bookStatic(given);
		if (!book)
			return seen(
				"unknown",
				`The points open ${btdc(still)}. The book’s static figure is not entered, so it is kept and not judged.`,
			);
		const answer = await ask("marks.static", {
			foundCrankDeg: still,
			bookCrankDeg: book.crankDeg,
			bookToleranceCrankDeg: book.toleranceCrankDeg,
		});
		const range = book.toleranceCrankDeg
			? `, so ${btdc(answer.minCrankDeg)} to ${btdc(answer.maxCrankDeg)}`
			: " and prints no tolerance";
		return {
			verdict: answer.verdict,
			text: `The points open ${btdc(still)}; the book has ${btdc(book.crankDeg)}${book.toleranceCrankDeg ? ` ± ${num(book.toleranceCrankDeg)}°` : ""}${range}. A test lamp reads to about ${num(answer.readingErrorCrankDeg)}°: as near as that to the book’s figure passes.`,
			do: answer.do,
			working: answer.working,
			sources: answer.sources,
		};
	},
	async strobe(given) {
		const [engineRPM, deg, spec] = [speed(given.answers, "rpm"), timing(given.answers, "deg"), specOf(given)];
		if (engineRPM === null || deg === null) return null;
		if (!spec || (spec.base === "excluded" && spec.baseCrankDeg === undefined))
			return seen(
				"unknown",
				`${btdc(deg)} at ${rpm(engineRPM)}. The book’s figures are not complete, so it is kept and not judged.`,
			);
		const set = {
			place: "car",
			angleUnit: "crank",
			speedUnit: "engine",
			base: "included",
			vacuum: "off",
			points: [{ rpm: engineRPM, deg, direction: "rising" }],
		};
		const answer = /** @type {Judgement} */ (await ask("advance.judge", { spec, readings: [set] }));
		const [point] = answer.points;
		if (!point) return seen("unknown", answer.summary);
		const { verdict, text } = inWords(
			point,
			spec.driveRatio ?? driveRatio(/** @type {any} */ ({ driveRatio: "" })),
		);
		return {
			verdict,
			text: `${btdc(deg)} at ${rpm(engineRPM)}: ${text}.`,
			do: beginsTooSoon(spec, engineRPM) || answer.findings[0]?.text,
			working: answer.working,
			sources: answer.sources,
		};
	},
	async points(given) {
		const cylinders = cylindersOf(given);
		const { answers, distributor } = given;
		const gap = gapMm(answers.gap);
		const [dwell, fast] = [parse(answers.dwell), parse(answers.fast)];
		if (gap === null && dwell === null) return null;
		if (cylinders === null)
			return seen(
				"unknown",
				"The number of cylinders is not entered, so nothing can be judged. Enter it under Facts.",
			);
		const book = bookOf(distributor?.body.facts ?? {}, cylinders);
		const speeds =
			dwell !== null && fast !== null
				? [
						{ engineRPM: idleOf(given) ?? 800, dwellDistDeg: dwell },
						{ engineRPM: 1500, dwellDistDeg: fast },
					]
				: [];
		const answer = await ask("points.judge", {
			...driveOf(distributor?.body.sheet),
			cylinders,
			state: answers.state === "new" || answers.state === "used" ? answers.state : "unknown",
			...(gap !== null ? { gapMm: gap } : {}),
			...(dwell !== null ? { dwellDistDeg: dwell } : {}),
			...(book.gap ? { gapBookMm: { min: book.gap.min, max: book.gap.max } } : {}),
			...(book.dwell ? { dwellBookDistDeg: { min: book.dwell.min, max: book.dwell.max } } : {}),
			...(speeds.length ? { speeds } : {}),
		});
		return {
			verdict: answer.verdict,
			text: answer.summary,
			do: answer.findings[0]?.text,
			working: answer.working,
			sources: answer.sources,
		};
	},
	async tooth(given) {
		const [teeth, cylinders, order, rotation] = [
			parse(given.answers.teeth),
			cylindersOf(given),
			orderOf(given),
			rotationOf(given),
		];
		if (teeth === null) return null;
		if (!cylinders || !order || !rotation || !Number.isInteger(teeth))
			return seen(
				"unknown",
				`One tooth of ${teeth} is ${num(360 / teeth, 1)}° of the rotor, ${num(720 / teeth, 1)} crank degrees.`,
			);
		const answer = await ask("cap.plan", {
			cylinders,
			firingOrder: order,
			rotation,
			firstPostClock: parse(factText(given, "firstPostClock")) ?? 12,
			gearTeeth: teeth,
		});
		return { verdict: "pass", text: answer.notes.at(-1) ?? "", working: answer.working, sources: answer.sources };
	},
	async curve(given) {
		const spec = specOf(given);
		const readings = readingsForVerdict(garage.visits({ carId: given.car.id }));
		if (!spec || readings.length === 0) return null;
		const answer = /** @type {Judgement} */ (await ask("advance.judge", { spec, readings }));
		return { verdict: answer.verdict, text: answer.summary, working: answer.working, sources: answer.sources };
	},
	vacuum: (given) =>
		capsuleJudgement(given).then(
			(found) =>
				found && {
					verdict: found.verdict,
					text: found.summary,
					do: found.findings[0]?.text,
					working: found.working,
					sources: found.sources,
				},
		),
	scatter: (given) =>
		scatterJudgement(given).then(
			(found) =>
				found && {
					verdict: found.verdict,
					text: found.findings[0]?.text ?? "The cylinders fire alike.",
					working: found.working,
					sources: found.sources,
				},
		),

	springsBack: ({ answers }) =>
		picked(answers.springs, {
			back: ["pass", "It springs fully back."],
			hangs: ["fail", "It hangs: the base would be set wrong."],
		}),
	compressionStroke: ({ answers }) =>
		picked(answers.pressure, {
			yes: ["pass", "No. 1 is on compression."],
			no: ["fail", "No pressure: this is the end of the exhaust stroke."],
		}),
	firstPost({ answers }) {
		const clock = parse(answers.post);
		if (clock === null) return null;
		return clock > 0 && clock <= 12
			? seen(
					"pass",
					`The post of No. 1 stands at ${num(clock, 1)} on the clock face. The cap plan is drawn from it.`,
				)
			: seen(
					"fail",
					`${num(clock, 1)} is not on a clock face. Limit: above 0, up to 12. Type 7.5 for half past seven.`,
				);
	},
	fitted: ({ answers }) =>
		picked(answers.pointsTo, {
			one: ["pass", "It faces No. 1: the drive is in right."],
			near: ["fail", "One tooth out."],
			opposite: ["fail", "180° out: the engine is on the other TDC, or the drive was fitted reversed."],
			other: ["fail", "Several teeth out, or the engine is not at its mark."],
		}),
	room: ({ answers }) =>
		picked(answers.room, {
			free: ["pass", "Room to time it both ways."],
			fouls: ["fail", "It fouls: most likely one tooth out."],
		}),
	firstStart: (given) =>
		given.answers.how === "keyOff"
			? firesAtKeyOff(given.answers.ballast || factText(given, "ballast"))
			: picked(given.answers.how, {
					runs: ["pass", "It runs evenly. On to the strobe."],
					misses: ["watch", "It misses: look at plugs, leads and dwell before the carburettor."],
					spits: [
						"fail",
						"Spitting or kicking: timing or leads, not fuel.",
						"180° out, leads in the wrong order, or far too early.",
					],
					cranks: [
						"fail",
						"No sign of life: the points, or no feed.",
						"Points closed or dirty, a card left in them, or no feed. Volts at the coil first.",
					],
				}),
	bridged: ({ answers }) =>
		picked(answers.bridged, {
			fires: [
				"fail",
				"The start feed past the ballast is dead.",
				"Repair it: its wire from the starter’s solenoid or from the ignition switch.",
			],
			same: [
				"watch",
				"So it is not the start feed alone.",
				"Volts at the coil with the starter turning; the points; the battery.",
			],
		}),
	runsNow: ({ answers }) =>
		picked(answers.runs, { yes: ["pass", "It runs."], no: ["fail", "It does not run yet: find the cause first."] }),
	allIn: ({ answers }) =>
		picked(answers.rises, {
			no: ["pass", "All in: it does not rise any more."],
			yes: ["fail", "It still rises: that was not the total."],
		}),
	glide: ({ answers }) =>
		picked(answers.glide, {
			yes: ["pass", "It glides."],
			jumps: ["fail", "It sticks, or the wiring inside moves."],
		}),
	yes: ({ answers }) =>
		picked(answers.turns ?? answers.back ?? answers.moves ?? answers.set ?? answers.sound, {
			yes: ["pass", "Good."],
			no: ["fail", "Not right: put it right before going on."],
		}),
	phasing: ({ answers }) =>
		picked(answers.with ?? answers.without, {
			faces: ["pass", "Tip and post face each other."],
			edge: ["watch", "At the edge: it will burn on one side."],
			off: ["fail", "Off the post: crossfire under load."],
		}),
	jitter({ answers }) {
		const by = parse(answers.jitter);
		if (by === null) return null;
		if (by <= 1) return seen("pass", `${num(by)} crank degrees: steady (limits 1 and 3, common practice).`);
		return by <= 3
			? seen("watch", `${num(by)} crank degrees: more than 1, up to 3 (common practice).`)
			: seen("fail", `${num(by)} crank degrees: more than 3 (common practice). Look at the drive.`);
	},
	tipIn: ({ answers }) => knock(answers.tipIn, "at tip-in"),
	knockLow: ({ answers }) => knock(answers.low, "low down"),
	knockHigh: ({ answers }) => knock(answers.high, "at speed"),
	idleSpeed(given) {
		const found = speed(given.answers, "rpm");
		if (found === null) return null;
		const own = idleOf(given);
		if (own === null)
			return found >= 500 && found <= 1100
				? seen(
						"pass",
						`${rpm(found)} engine rpm. This car’s own figure is not entered; usual are 500 to 1100 (common practice).`,
					)
				: seen(
						"watch",
						`${rpm(found)} engine rpm. Usual: 500 to 900, 900 to 1100 on a hot cam (common practice). This car’s own figure is not entered.`,
					);
		const off = Math.round(found - own);
		const held = `${rpm(found)} engine rpm; this car’s own figure is ${rpm(own)} (${given.car.body.facts.idleSpeed?.source || "source not given"}), ${idleEither} either side allowed (common practice)`;
		return Math.abs(off) <= idleEither
			? seen("pass", `${held}.`)
			: seen("watch", `${held}: ${rpm(Math.abs(off))} too ${off > 0 ? "fast" : "slow"}.`);
	},
};

/** What an idle may be off the car's own figure, engine rpm: common practice. */
const idleEither = 50;

/**
 * judgeStep judges a step once what it asks is in; until then there is nothing
 * to judge, whatever earlier steps have left.
 * @param {ProcedureStep} step @param {Given} given @returns {Promise<Outcome | null>}
 */
export async function judgeStep({ judge: name, keeps, ...step }, given) {
	const { answers } = given;
	if (!name || !isAnswered(step, answers)) return null;
	/** @type {{[key: string]: string}} */
	const read = keeps?.rpm
		? {
				rpm: answers[keeps.rpm] ?? "",
				deg: answers[keeps.deg] ?? "",
				"deg.side": answers[`${keeps.deg}.side`] ?? "",
			}
		: {};
	return judge(name, { ...given, answers: { ...answers, ...read } });
}

/** @param {string} name @param {Given} given @returns {Promise<Outcome | null>} */
export async function judge(name, given) {
	return (await judges[name]?.(given)) ?? null;
}

/** Every judge that a step may name. */
export const judgeNames = () => Object.keys(judges);

/**
 * @param {string | undefined} answer
 * @param {{[answer: string]: [verdict: Verdict, text: string, next?: string]}} list
 * @returns {Outcome | null}
 */
function picked(answer, list) {
	const found = answer ? list[answer] : undefined;
	return found ? { ...seen(found[0], found[1]), ...(found[2] ? { do: found[2] } : {}) } : null;
}

/** @param {string} ballast as the facts have it, "" where it is not known @returns {Outcome} */
function firesAtKeyOff(ballast) {
	if (ballast === "none")
		return {
			...seen("fail", "With the starter turning the coil gets too little."),
			do: "Low cranking volts, or the ignition switch gives the coil nothing in its start position.",
		};
	if (ballast)
		return {
			...seen("fail", "The start feed past the ballast is dead, or the battery is low with the starter turning."),
			do: "Bridge the ballast for one try. Better then: the start feed.",
		};
	return {
		...seen("fail", "With the starter turning the coil gets too little."),
		do: "With a ballast: its start feed. Without one: low cranking volts, or the ignition switch in its start position.",
	};
}

/** @param {string | undefined} heard @param {string} where */
const knock = (heard, where) =>
	picked(heard, {
		none: ["pass", `Clean ${where}.`],
		trace: ["watch", `A trace ${where}: this is the limit. Stay 2 to 4 degrees below it.`],
		knock: ["fail", `Knock ${where}: back off before the next try.`],
	});

/** A gap as the blades are marked: thou; a figure under 2 can only be mm. @param {string | undefined} text */
export function gapMm(text) {
	const typed = parse(text);
	if (typed === null || typed <= 0) return null;
	const mm = typed < 2 ? (typed < 0.1 ? typed * 25.4 : typed) : typed * 0.0254;
	return mm > 0 && mm <= 2 ? mm : null;
}

/** An idle above the start of advance reads more than the base. @param {Spec} spec @param {number} engineRPM */
function beginsTooSoon(spec, engineRPM) {
	const ratio = spec.driveRatio ?? 2;
	const first = Math.min(...spec.points.map((point) => point.rpm)) * (spec.speedUnit === "distributor" ? ratio : 1);
	const begins = spec.noAdvanceBelowRPM
		? spec.noAdvanceBelowRPM * (spec.speedUnit === "distributor" ? ratio : 1)
		: first;
	return engineRPM > begins
		? `At ${rpm(engineRPM)} the weights may be out already (the book’s table begins at ${rpm(begins)}): this figure holds base and some advance. Static tells the base alone.`
		: "";
}
