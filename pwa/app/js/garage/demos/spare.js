// The invented distributor without a car, of a friend who wants it for a better
// one: its stop was changed by somebody. Every figure in this file is invented
// and belongs to no real unit.

import { checkFacts, fact, pointsFacts, reading, set } from "./making.js";

const unitId = "demospareunit4140000";
const made = "2024-06-02T08:00:00.000Z";

/** @type {[rpm: string, rising: string, falling: string][]} distributor rpm and degrees */
const bench = [
	["400", "0.5", "0.5"],
	["600", "2", "2.5"],
	["900", "5", "5.5"],
	["1300", "7.5", "7.5"],
	["1800", "7.5", "7.5"],
	["2200", "7.5", "7.5"],
];

/** Before its pivots were cleaned: it stuck. @type {typeof bench} */
const asFound = [
	["400", "0", "1"],
	["600", "1", "3.5"],
	["900", "3", "6.5"],
	["1300", "6", "7.5"],
	["1800", "7.5", "7.5"],
	["2200", "7.5", "7.5"],
];

/**
 * One run, up and down.
 * @param {string} id of the set @param {string} of its readings, the beginning of their ids
 * @param {typeof bench} rows @param {string} at
 */
const run = (id, of, rows, at) =>
	set(id, "bench", [
		...rows.map(([rpm, deg], index) => reading(`${of}rise0000${index}`, rpm, deg, "rising", at)),
		...rows.map(([rpm, , deg], index) => reading(`${of}fall0000${index}`, rpm, deg, "falling", at)).reverse(),
	]);

/** @type {import("./making.js").Demo} */
export const spare = {
	name: "Spare unit D4-4140",
	carId: unitId,
	made,
	about: "A distributor without a car, for a friend. It runs out of advance too soon.",
	documents: [
		[
			"distributor",
			unitId,
			{
				name: "Spare unit D4-4140",
				typeNumber: "D4-4140",
				sheetSource: "Invented test sheet of the demo unit",
				bench: true,
				demo: true,
				owner: "A friend with two of these cars",
				where: "Second shelf, in the blue tin",
				facts: {
					rotation: fact("clockwise", "measured", "", "seen from the cap end"),
					cylinders: fact("4", "measured"),
					pointsKind: fact("single", "measured"),
					drive: fact("offset dog", "measured"),
					limitPlate: fact("10", "book", "distributor degrees", "the plate is not stamped"),
					vacuumPort: fact("nowhere", "measured"),
					gap: fact("0.014-0.016", "book", "in"),
					dwell: fact("60 ±3", "book", "distributor degrees"),
				},
				sheet: {
					angleUnit: "distributor",
					speedUnit: "distributor",
					base: "excluded",
					baseCrankDeg: "",
					baseSide: "before",
					baseToleranceCrankDeg: "",
					noAdvanceBelow: "",
					driveRatio: "",
					listedWhile: "either",
					limitDistDeg: "10",
					rows: [
						["400", "0", "1"],
						["600", "1", "3"],
						["900", "4", "6"],
						["1300", "6.5", "8.5"],
						["1800", "9", "11"],
						["2200", "9", "11"],
					].map(([rpm, min, max]) => ({ rpm, min, max })),
				},
			},
		],
		[
			"visit",
			"demospareunit4140old",
			{
				carId: "",
				distributorId: unitId,
				date: "2024-05-25",
				title: "As it came out of the shed",
				notes: "",
				sets: [run("demospareunit4140was", "demosparew", asFound, "2024-05-25T09:00:00.000Z")],
			},
		],
		[
			"visit",
			"demospareunit4140vis",
			{
				carId: "",
				distributorId: unitId,
				date: "2024-06-02",
				title: "",
				notes: "",
				sets: [run("demospareunit4140set", "demospare", bench, made)],
				events: [
					{
						id: "demosparecleanedwts1",
						at: "2024-06-02T07:30:00.000Z",
						step: "",
						verdict: "",
						what: "Weights and pivots cleaned",
						changed: "curve-changed",
						undone: [],
						restored: [],
						odometer: "",
						part: "weights",
						did: "cleaned",
					},
				],
				facts: {
					...checkFacts("2024-06-02T07:00:00.000Z", {
						B1: fact("0.003", "measured", "in"),
						B3: fact("0.010", "measured", "in"),
						B5: fact("good", "measured"),
						B7: fact("good", "measured"),
						B8: fact("good", "measured"),
						B13: fact("good", "measured"),
					}),
					...pointsFacts("2024-06-02T07:20:00.000Z", {
						state: fact("new", "measured"),
						gap: fact("15", "measured", "thou"),
						dwell: fact("60", "measured", "distributor degrees"),
					}),
				},
			},
		],
	],
};
