// What a setup card says, line by line, in the words of the trade.

import { btdc, num, rpm, short } from "../kit/format.js";
import { firstCapital, inEnglish, t } from "../kit/words.js";
import { withBook } from "../record/book-facts.js";
import { answerInWords, questionOf } from "../record/choices.js";
import { factFields } from "../record/facts.js";
import { firingOrderShown } from "../record/firing-order.js";
import { figureIn } from "../kit/units.js";

/**
 * @typedef {{key: string, group: string, label: string, always?: boolean, of: (card: SetupCard) => CardFact | string |
 *   null | undefined}} CardLine
 */

export const cardGroups = ["As it was set", "Distributor", "Ignition", "Car and engine", "Condition"];
const [asSet, distributor, ignition, engine, condition] = cardGroups;

/** Facts of the app that belong to each part of the sheet; those marked * stand there even when unknown. */
const factsAt = {
	[engine]:
		"year layout cylinders* capacity stroke chamber compressionRatio crankRotation pulleyDiameter altitude modifications",
	[ignition]: "voltage earth charging trigger coilOhm* ballast ballastOhm condenser* plugGap* feedVoltage",
	[distributor]: "pointsKind drive limitPlate* capsuleCode* vacuumPort gap dwell staticTiming",
	[condition]: "compression sidePlay* scatter* dwellIdle dwellFast capsuleCheck",
};
/** Said elsewhere on the sheet, in words of the card's own. */
const elsewhere = [
	"chosenCurve",
	"stopsAtHand",
	"primariesAtHand",
	"secondariesAtHand",
	"firingOrder",
	"rotation",
	"fuel",
	"markMeaning",
	"idleSpeed",
	"idleVacuum",
	"story",
	"owner",
	"strobeTiming",
	"strobeSpeed",
	"strobeVacuum",
	"sparkAssumed", // which figures the spark page is to assume: nothing of the car
];

/** What stands on a bench sheet even when unknown; nothing of an engine does. */
const ofBench = [distributor, condition];

/**
 * isBenchSheet tells the card of a distributor by itself: it knows nothing of a car, and its own name stands at the
 * head.
 * @param {SetupCard} card
 */
export const isBenchSheet = ({ car, distributor }) => !car.facts && distributor !== undefined && !distributor.name;

/**
 * cardRows gives every line of a card. A line that the sheet always has and
 * nobody filled in has an empty text: unknown.
 * @param {SetupCard} card
 * @returns {CardRow[]}
 */
export function cardRows(card) {
	const isBench = isBenchSheet(card);
	const lines = [...headLines(), ...factLines(), ...setLines(), ...strayLines(card)];
	return cardGroups.flatMap((group) =>
		lines
			.filter((line) => line.group === group)
			.flatMap((line) => {
				const found = line.of(card);
				const { text, note } = written(found);
				const isAsked = line.always && (!isBench || ofBench.includes(group));
				return text || isAsked ? [{ key: line.key, group, label: line.label, text, note }] : [];
			}),
	);
}

/** @param {CardFact | string | null | undefined} found */
function written(found) {
	if (!found) return { text: "", note: "" };
	if (typeof found === "string") return { text: found, note: "" };
	return {
		text: [found.value, found.unit].filter(Boolean).join(" "),
		note: [found.source, found.note].filter(Boolean).join("; "),
	};
}

/** @returns {CardLine[]} */
const headLines = () => [
	{ key: "owner", group: engine, label: "Owner", of: (card) => card.car.facts?.owner },
	{
		key: "story",
		group: engine,
		label: "What it does wrong, since when, after what change",
		of: (card) => card.car.facts?.story,
	},
	{ key: "odometer", group: engine, label: "Distance on the clock", always: true, of: (card) => card.odometer },
	{ key: "setFuel", group: engine, label: "Set for this fuel", always: true, of: (card) => card.fuel },
	{
		key: "typeNumber",
		group: distributor,
		label: "Type number on the body",
		always: true,
		of: (card) => card.distributor?.typeNumber,
	},
	{
		key: "rotation",
		group: distributor,
		label: "Turns, seen from the cap end",
		always: true,
		of: (card) =>
			inWordsOfOurs(card.distributor?.facts?.rotation ?? card.distributor?.rotation, [
				"clockwise",
				"anticlockwise",
			]),
	},
	{
		key: "firingOrder",
		group: distributor,
		label: "Firing order",
		always: true,
		of({ car, distributor }) {
			const typed = car.facts?.firingOrder;
			return distributor?.firingOrder?.join("-") ?? (typed && { ...typed, value: firingOrderShown(typed.value) });
		},
	},
];

/** @returns {CardLine[]} */
function factLines() {
	const fields = new Map(factFields().map((field) => [field.key, field]));
	return Object.entries(factsAt).flatMap(([group, names]) =>
		names.split(" ").flatMap((name) => {
			const field = fields.get(name.replace("*", ""));
			if (!field) return [];
			const isOfBook = ["gap", "dwell", "staticTiming"].includes(field.key);
			return [
				{
					key: field.key,
					group,
					label: isOfBook ? `${field.label}, by the book` : field.label,
					always: name.endsWith("*"),
					of: (/** @type {SetupCard} */ card) => inWordsOfOurs(factOf(card, field.key), field.options),
				},
			];
		}),
	);
}

/**
 * A choice of ours is shown in the English now chosen; what was typed stays.
 * @template {CardFact | Fact | string | undefined} T @param {T} found @param {readonly string[]} [options] @returns {T}
 */
function inWordsOfOurs(found, options = []) {
	const value = typeof found === "string" ? found : (found?.value ?? "");
	if (!options.includes(value)) return found;
	return /** @type {T} */ (
		typeof found === "string" ? inEnglish(found) : { .../** @type {Fact} */ (found), value: inEnglish(value) }
	);
}

/** @param {SetupCard} card @param {string} key */
const factOf = (card, key) => withBook(key, card.car.facts?.[key] ?? card.distributor?.facts?.[key], tableOf(card));

/** The figures of the book's table on the card that are facts too. @param {SetupCard} card @returns {Partial<Sheet>} */
function tableOf({ spec }) {
	const base = spec?.baseCrankDeg;
	return {
		limitDistDeg: spec?.limitDistDeg === undefined ? "" : short(spec.limitDistDeg),
		baseCrankDeg: base === undefined ? "" : short(Math.abs(base)),
		baseSide: base !== undefined && base < 0 ? "after" : "before",
	};
}

/** @returns {CardLine[]} */
const setLines = () => [
	left("gap", "Points gap", (set) => set.gap ?? (set.gapMm === undefined ? null : `${short(set.gapMm)} mm`), true),
	left("dwell", "Dwell", (set) => withUnit(set.dwellDistDeg, "distributor degrees"), true),
	left("mark", "Mark used, what it means", (set) => set.mark, true),
	left("markError", "True TDC stands on the marks", (set) =>
		set.markErrorCrankDeg === undefined
			? null
			: set.markErrorCrankDeg === 0
				? "at the mark, error 0"
				: `${num(Math.abs(set.markErrorCrankDeg))}° ${set.markErrorCrankDeg > 0 ? "after" : "before"} it`,
	),
	left(
		"static",
		`${firstCapital(t("staticTiming"))}, engine stopped`,
		(set) => (set.staticCrankDeg === undefined ? null : btdc(set.staticCrankDeg)),
		true,
	),
	left("strobe", "By strobe, at the low end", (set) => strobe(set.strobe), true),
	left("total", "Total when all in", (set) => strobe(set.total), true),
	left("cruise", "Total at light throttle, vacuum on", (set) =>
		set.cruiseCrankDeg === undefined ? null : btdc(set.cruiseCrankDeg),
	),
	left(
		"knock",
		`Began to ${t("pinking").replace(/ing$/, "")} at`,
		(set) => (set.knockCrankDeg === undefined ? null : btdc(set.knockCrankDeg)),
		true,
	),
	left("margin", "Margin kept to that", (set) => withUnit(set.marginCrankDeg, "crank degrees")),
	left("vernier", firstCapital(t("vernier")), (set) => set.vernier),
	left(
		"idle",
		"Idle afterwards",
		(set) => (set.idleEngineRPM === undefined ? null : `${rpm(set.idleEngineRPM)} engine rpm`),
		true,
	),
	{ key: "set.idleVacuum", group: asSet, label: "Manifold vacuum at idle", of: idleVacuum },
	left("capsule", firstCapital(t("capsule")), (set) => capsule(set.capsule), true),
];

/**
 * @param {string} key
 * @param {string} label
 * @param {(set: CardAsSet) => CardFact | string | null | undefined} of
 * @param {boolean} [always]
 * @returns {CardLine}
 */
const left = (key, label, of, always) => ({
	key: `set.${key}`,
	group: asSet,
	label,
	always,
	of: (card) => (card.asSet ? of(card.asSet) : null),
});

/**
 * As it was typed where that is on the card and says the same; a gauge is read in inHg, not in kPa.
 * @param {SetupCard} card
 */
function idleVacuum({ car, asSet: set }) {
	const kPa = set?.idleVacuumKPa;
	if (kPa === undefined) return null;
	const typed = car.facts?.idleVacuum;
	const unit = typed?.unit || "inHg";
	const same = figureIn(typed && { value: typed.value, unit }, "kPa");
	// the card holds tenths of a kPa
	return typed && same !== null && Math.abs(same - kPa) < 0.06 ? { ...typed, unit } : `${short(kPa)} kPa`;
}

/** @param {number | undefined} value @param {string} unit */
const withUnit = (value, unit) => (value === undefined ? null : `${short(value)} ${unit}`);

/** @param {CardStrobe | undefined} read */
function strobe(read) {
	if (!read) return null;
	const pipe =
		read.vacuum === "off"
			? ", vacuum pipe off"
			: read.vacuum === "connected"
				? ", vacuum connected"
				: ", vacuum pipe not said";
	return `${btdc(read.crankDeg)} at ${rpm(read.engineRPM)} engine rpm${pipe}`;
}

/** @param {CardCapsule | undefined} found */
function capsule(found) {
	if (!found) return null;
	return [
		found.source === "none" ? "no pipe" : found.source ? `${found.source} vacuum` : "",
		found.code ? `code ${found.code}` : "",
		found.startKPa === undefined ? "" : `starts at ${short(found.startKPa)} kPa`,
		found.fullKPa === undefined ? "" : `full at ${short(found.fullKPa)} kPa`,
		found.maxDistDeg === undefined ? "" : `moves ${short(found.maxDistDeg)} distributor degrees`,
		found.holds === undefined ? "" : found.holds ? "holds" : "does NOT hold",
	]
		.filter(Boolean)
		.join(", ");
}

/**
 * Facts that this version has no line for: shown by the name they came under.
 * @param {SetupCard} card
 * @returns {CardLine[]}
 */
function strayLines(card) {
	const known = new Set([...Object.values(factsAt).join(" ").replaceAll("*", "").split(" "), ...elsewhere]);
	const labels = new Map(factFields().map((field) => [field.key, field.label]));
	return [...new Set([...Object.keys(card.car.facts ?? {}), ...Object.keys(card.distributor?.facts ?? {})])]
		.filter((key) => !known.has(key))
		.map((key) => ({
			key,
			group: condition,
			label: labels.get(key) ?? (inEnglish(questionOf(key)) || asWords(key)),
			of: (one) => inChosenWords(key, factOf(one, key)),
		}));
}

/** @param {string} key @param {CardFact | undefined} fact */
const inChosenWords = (key, fact) => fact && { ...fact, value: answerInWords(key, fact.value) };

/** "endFloat" → "End float". @param {string} key */
export function asWords(key) {
	return firstCapital(key.replace(/([a-z0-9])([A-Z])/g, "$1 $2").toLowerCase());
}
