// The tables of the wall sheet: figures of this car, arcs along its pulley, and
// conversions of what is read in a garage.

import { inEnglish } from "../kit/words.js";
import { ask } from "../engine/ask.js";
import { withBook } from "../record/book-facts.js";
import { factFields } from "../record/facts.js";
import { firingOrderShown } from "../record/firing-order.js";
import { num, parse, short } from "../kit/format.js";
import { convert, figureIn } from "../kit/units.js";

/** @typedef {{caption: string, heads: string[], rows: string[][]}} Table */
/** @typedef {{diameter: string, rows: string[][]}} Arcs */

/** Crank degrees in the table of arcs. Chosen: what is painted on a rim. */
const arcDegrees = [2, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 35, 40];
const thous = [10, 12, 14, 15, 16, 18, 20, 22, 25, 28, 30, 35, 40]; // gaps of points and plugs; common practice
const inches = [2, 4, 6, 8, 10, 12, 14, 16, 18, 20, 22]; // of mercury: what a vacuum gauge shows
const percents = [50, 55, 58, 60, 62, 65, 67, 70]; // dwell of most cars; common practice
const celsius = [0, 20, 40, 60, 80, 90, 100];

/** What hangs on the wall of this car, known or not. */
const shown = ["gap", "dwell", "staticTiming", "firingOrder", "rotation", "plugGap", "limitPlate", "idleSpeed"];

/**
 * wallFigures lists the car's own figures; an unknown one has an empty text.
 * @param {Doc<Car>} car @param {{body: Distributor} | null | undefined} unit
 */
export function wallFigures(car, unit) {
	const fields = factFields(car.isUnit);
	return shown.flatMap((key) => {
		const field = fields.find((one) => one.key === key);
		if (!field) return [];
		const facts = field.of === "car" ? car.body.facts : (unit?.body.facts ?? {});
		const { value = "", unit: of = "" } = withBook(key, facts[key], unit?.body.sheet) ?? {};
		const said = key === "firingOrder" ? firingOrderShown(value) : key === "rotation" ? inEnglish(value) : value;
		return [{ label: field.label, text: said ? [said, of].filter(Boolean).join(" ") : "" }];
	});
}

/**
 * wallArcs gives degrees as lengths on this car's rim; null where its diameter is not known.
 * @param {Facts} facts @returns {Promise<Arcs | null>}
 */
export async function wallArcs({ pulleyDiameter: typed }) {
	const diameterMm = figureIn(typed && { value: typed.value, unit: typed.unit || "mm" }, "mm");
	if (diameterMm === null) return null;
	const found = await Promise.all(arcDegrees.map((crankDeg) => ask("marks.arc", { diameterMm, crankDeg })));
	return {
		diameter: `${typed.value} ${typed.unit || "mm"}`,
		rows: found.map(({ arcMm, chordMm }, i) => [String(arcDegrees[i]), num(arcMm), num(chordMm)]),
	};
}

/**
 * wallConversions gives the tables; dwell only where the cylinders are known.
 * @param {string} cylinders as typed @returns {Table[]}
 */
export function wallConversions(cylinders) {
	const n = parse(cylinders);
	const pitch = n !== null && n >= 1 && n <= 16 ? 360 / n : null; // distributor degrees from spark to spark
	return [
		{
			caption: "Gaps",
			heads: ["thou", "in", "mm"],
			rows: thous.map((x) => [String(x), num(x / 1000, 3), num(convert(x, "thou", "mm"), 2)]),
		},
		{
			caption: "Vacuum",
			heads: ["inHg", "mmHg", "kPa"],
			rows: inches.map((x) => [String(x), num(convert(x, "inHg", "mmHg"), 0), num(convert(x, "inHg", "kPa"))]),
		},
		...(pitch
			? [
					{
						caption: `Dwell, ${n} cylinders`,
						heads: ["%", "distributor degrees"],
						rows: percents.map((x) => [String(x), num((x * pitch) / 100)]),
					},
				]
			: []),
		{
			caption: "Heat",
			heads: ["°C", "°F"],
			rows: celsius.map((x) => [String(x), short(convert(x, "°C", "°F"))]),
		},
	];
}
