// A document of the garage in the words of the trade, line by line, so that
// two versions of it can be laid side by side.

import { dateWords } from "../kit/format.js";
import { t } from "../kit/words.js";
import { asWords } from "../card/card-rows.js";
import { leftFigures, leftKey, lists, said, saidKey } from "../card/card-facts.js";
import { factFields } from "../record/facts.js";
import { garage } from "../kept/garage.js";
import { isBlank } from "../record/sheet.js";
import { subjectName } from "../record/photos/visit-photos.js";
import { placeName } from "../record/visits.js";
import { whole } from "../kept/whole.js";

/**
 * documentRows gives the lines of a body. A deletion has none.
 * @param {Kind} kind @param {any} body
 * @returns {CardRow[]}
 */
export function documentRows(kind, body) {
	if (!body) return [];
	const rows = { car: carRows, distributor: distributorRows, visit: visitRows }[kind](whole(kind, body));
	return rows.filter(({ text }) => text !== "");
}

/**
 * documentName says which document this is: "the car", "the distributor of
 * Hartsmere Linnet 1250", "the visit of 18 May".
 * @param {Kind} kind @param {string} id @param {any} body
 */
export function documentName(kind, id, body) {
	const car =
		kind === "car"
			? null
			: garage.cars().find((one) => (kind === "visit" ? one.id === body?.carId : one.body.distributorId === id));
	const of = car ? ` of ${car.body.name}` : "";
	if (kind === "car") return body?.name || "a car";
	if (kind === "distributor") return `distributor${of || ` ${body?.name ?? ""}`}`;
	return [`visit${body?.date ? ` of ${dateWords(body.date)}` : ""}${of}`, body?.title].filter(Boolean).join(": ");
}

/** @param {string} key @param {string} group @param {string} label @param {unknown} text @returns {CardRow} */
const row = (key, group, label, text) => ({ key, group, label, text: String(text ?? "").trim(), note: "" });

/** @param {Car} body */
const carRows = (body) => [
	row("name", "The car", "Name", body.name),
	row("owner", "The car", "Owner", body.owner),
	...factRows(body.facts),
];

/** @param {Distributor} body */
function distributorRows(body) {
	const { sheet } = body;
	const group = "The book’s table";
	const lines = [
		row("angleUnit", group, "Degrees", sheet?.angleUnit && `${sheet.angleUnit} degrees`),
		row("speedUnit", group, "Speeds", sheet?.speedUnit && `${sheet.speedUnit} rpm`),
		row(
			"base",
			group,
			"Base timing",
			sheet?.base === "included" ? "in the figures" : sheet?.base === "excluded" ? "not in the figures" : "",
		),
		row(
			"baseCrankDeg",
			group,
			t("staticTiming"),
			sheet?.baseCrankDeg && `${sheet.baseCrankDeg} crank degrees ${sheet.baseSide} TDC`,
		),
		row("baseTolerance", group, "Allowed either way", sheet?.baseToleranceCrankDeg),
		row("noAdvance", group, "No advance below", sheet?.noAdvanceBelow),
		row("ratio", group, "Crank turns for one of the distributor", sheet?.driveRatio),
		row("listed", group, "Read while the speed", sheet?.listedWhile === "either" ? "" : sheet?.listedWhile),
		row("limit", group, "Stop", sheet?.limitDistDeg),
	];
	/** @type {Map<string, string[]>} */
	const at = new Map();
	for (const line of sheet?.rows ?? [])
		if (!isBlank(line)) at.set(line.rpm.trim(), [...(at.get(line.rpm.trim()) ?? []), rangeOf(line)]);
	const table = [...at].map(([rpm, ranges]) => row(`row ${rpm}`, group, `At ${rpm || "?"} rpm`, ranges.join("; ")));
	return [
		row("name", "The distributor", "Name", body.name),
		row("typeNumber", "The distributor", "Type number", body.typeNumber),
		row("sheetSource", group, "From", body.sheetSource),
		...lines,
		...table,
		...factRows(body.facts),
	];
}

/** @param {Row} row */
function rangeOf({ min, max }) {
	if (!min.trim() && !max.trim()) return "?";
	return !min.trim() ? `at most ${max}` : !max.trim() ? `at least ${min}` : `${min} to ${max}`;
}

/** @param {Visit} body */
function visitRows(body) {
	const head = [
		row("date", "The visit", "Date", body.date),
		row("title", "The visit", "Title", body.title),
		row("notes", "The visit", "Notes", body.notes),
	];
	const events = (body.events ?? [])
		.filter((event) => !event.removed)
		.map((event) =>
			row(
				`event ${event.id}`,
				"Work done",
				asWords(String(/** @type {any} */ (event).step ?? "work")),
				eventText(event),
			),
		);
	return [
		...head,
		...(body.sets ?? []).flatMap(setRows),
		...events,
		...(body.photos ?? []).map((photo) =>
			row(
				`photo ${photo.id}`,
				"Photos",
				subjectName(photo),
				[photo.note, photo.at, photo.removed ? "taken out" : ""].filter(Boolean).join(", "),
			),
		),
		...factRows(body.facts ?? {}, "Measured that day"),
	];
}

/** What an event of the work says, in its own words. @param {any} event */
function eventText(event) {
	return [event.what ?? event.kind, event.verdict, event.note, event.at]
		.filter((part) => typeof part === "string" && part)
		.join(", ");
}

/** @param {VisitSet} set @param {number} index */
function setRows(set, index) {
	const group = `${placeName(set)}, run ${index + 1}${set.removed ? " (taken out)" : ""}`;
	const head = [
		row(
			`${set.id} how`,
			group,
			"Read in",
			`${set.angleUnit} degrees at ${set.speedUnit} rpm, base ${set.base === "included" ? "in the figures" : "apart"}`,
		),
		row(`${set.id} vacuum`, group, "Vacuum pipe", set.vacuum),
		row(`${set.id} error`, group, "Reading error, crank degrees", set.readingErrorCrankDeg),
		row(
			`${set.id} static`,
			group,
			t("staticTiming"),
			set.staticCrankDeg && `${set.staticCrankDeg} ${set.staticSide} TDC`,
		),
	];
	return [
		...head,
		...(set.readings ?? []).map((reading) =>
			row(
				`${set.id} ${reading.id}`,
				group,
				`At ${reading.rpm || "?"}, ${reading.direction}`,
				`${reading.deg || "?"}° ${reading.side === "after" ? "after" : "before"}${reading.removed ? ", taken out" : ""}`.replace(
					set.base === "excluded" ? / before/ : /^$/,
					"",
				),
			),
		),
	];
}

/** @param {Facts} facts @param {string} [group] @returns {CardRow[]} */
function factRows(facts, group) {
	const fields = new Map(factFields().map((field) => [field.key, field]));
	return Object.entries(facts ?? {}).map(([key, fact]) => {
		const field = fields.get(key.split(".").at(-1) ?? key);
		const text = [
			[fact.value, fact.unit].filter(Boolean).join(" "),
			fact.value && fact.source ? `(${fact.source})` : "",
			fact.note,
		]
			.filter(Boolean)
			.join(" ");
		return row(
			`fact ${key}`,
			group ?? (cardLabel(key) ? "Written on the setup card" : (field?.group ?? "Other facts")),
			cardLabel(key) ?? field?.label ?? asWords(key.replaceAll(".", " ")),
			fact.value ? text : "",
		);
	});
}

/** Names of what stands on the setup card. @param {string} key */
function cardLabel(key) {
	const field =
		[...said.map((one) => one.field), ...lists].find((name) => saidKey(name) === key) ??
		[...leftFigures.map(({ path }) => path), "gap"].find((path) => leftKey(path) === key);
	return field ? asWords(field.replaceAll(".", " ").replace(/DistDeg|CrankDeg|Mm|KPa/g, "")) : null;
}
