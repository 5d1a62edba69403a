// The invented six: healthy after an overhaul, a reference to look at. Every
// figure in this file is invented and belongs to no real car.

import { checkFacts, fact, pointsFacts, reading, set, voltsFacts } from "./making.js";

const carId = "demostoursix2612car0";
const distributorId = "demostoursix2612dist";
const made = "2024-06-08T08:00:00.000Z";

/** @type {[rpm: string, rising: string, falling: string][]} distributor rpm and degrees */
const bench = [
	["500", "2.0", "2.0"],
	["750", "5.5", "5.8"],
	["1000", "8.0", "8.2"],
	["1500", "11.0", "11.0"],
	["2000", "13.0", "13.0"],
];

/** @type {import("./making.js").Demo} */
export const stour = {
	name: "Brindlecote Stour Six",
	carId,
	made,
	about: "Negative earth, 12 V, sound after an overhaul. Use it to compare. Its book prints totals with the base in them.",
	documents: [
		[
			"distributor",
			distributorId,
			{
				name: "Brindlecote Stour Six",
				typeNumber: "",
				sheetSource: "Invented workshop manual of the demo car",
				facts: {
					rotation: fact("clockwise", "measured", "", "seen from the cap end"),
					pointsKind: fact("single", "measured"),
					capsuleCode: fact("5-14-8", "book"),
					vacuumPort: fact("ported", "book"),
					gap: fact("0.014-0.016", "book", "in"),
					dwell: fact("35 ±3", "book", "distributor degrees"),
					dwellIdle: fact("35", "measured", "distributor degrees"),
					dwellFast: fact("34.6", "measured", "distributor degrees", "at 1500 engine rpm"),
					sidePlay: fact("0.002", "measured", "in"),
				},
				sheet: {
					angleUnit: "crank",
					speedUnit: "engine",
					base: "included",
					baseCrankDeg: "6",
					baseSide: "before",
					baseToleranceCrankDeg: "",
					noAdvanceBelow: "",
					driveRatio: "",
					listedWhile: "either",
					limitDistDeg: "",
					rows: [
						["1000", "8", "12"],
						["1500", "15", "19"],
						["2000", "20", "24"],
						["3000", "26", "30"],
						["4000", "30", "34"],
					].map(([rpm, min, max]) => ({ rpm, min, max })),
				},
			},
		],
		[
			"visit",
			"demostoursix2612worn",
			{
				carId,
				distributorId,
				date: "2024-05-25",
				title: "Before the overhaul",
				notes: "",
				sets: [],
				facts: {
					...checkFacts("2024-05-25T08:00:00.000Z", {
						B1: fact("0.011", "measured", "in"),
						B5: fact("good", "measured"),
						B8: fact("doubtful", "measured"),
					}),
					...pointsFacts("2024-05-25T08:10:00.000Z", {
						state: fact("used", "measured"),
						gap: fact("0.015", "measured", "in"),
						dwell: fact("35", "measured", "distributor degrees"),
						"idle.rpm": fact("650", "measured", "engine rpm"),
						"idle.dwell": fact("35", "measured", "distributor degrees"),
						"fast.rpm": fact("1500", "measured", "engine rpm"),
						"fast.dwell": fact("30.5", "measured", "distributor degrees"),
					}),
				},
			},
		],
		[
			"visit",
			"demostoursix2612good",
			{
				carId,
				distributorId,
				date: "2024-06-08",
				title: "After the overhaul: new bush, cam kept",
				notes: "",
				sets: [
					set("demostoursix2612set0", "bench", [
						...bench.map(([rpm, deg], index) =>
							reading(`demostourrising0000${index}`, rpm, deg, "rising", made),
						),
						...bench
							.map(([rpm, , deg], index) =>
								reading(`demostourfalling000${index}`, rpm, deg, "falling", made),
							)
							.reverse(),
					]),
				],
				facts: {
					...checkFacts("2024-06-08T08:00:00.000Z", {
						"B22.standing": fact("12.6", "measured", "V"),
						"B22.cranking": fact("10.4", "measured", "V"),
						B28: fact("good", "measured"),
						B27: fact("152-155-150-154-153-151", "measured", "psi"),
						B30: fact("19", "measured", "inHg"),
						B29: fact("4", "measured", "crank degrees"),
						B1: fact("0.002", "measured", "in"),
						"B2.skipped": fact("distributor is on the bench", "measured"),
						B3: fact("0.028", "measured", "in"),
						B5: fact("good", "measured"),
						B7: fact("good", "measured"),
						B8: fact("good", "measured"),
						B9: fact("good", "measured"),
						B10: fact("19", "measured", "oz"),
					}),
					...pointsFacts("2024-06-08T08:10:00.000Z", {
						state: fact("new", "measured"),
						gap: fact("0.015", "measured", "in"),
						dwell: fact("35", "measured", "distributor degrees"),
						"pair1.gap": fact("13", "measured", "thou"),
						"pair1.dwell": fact("36.8", "measured", "distributor degrees"),
						"pair2.gap": fact("18", "measured", "thou"),
						"pair2.dwell": fact("31.9", "measured", "distributor degrees"),
						"idle.rpm": fact("650", "measured", "engine rpm"),
						"idle.dwell": fact("35", "measured", "distributor degrees"),
						"fast.rpm": fact("1500", "measured", "engine rpm"),
						"fast.dwell": fact("34.6", "measured", "distributor degrees"),
						"again.rpm": fact("650", "measured", "engine rpm"),
						"again.dwell": fact("35", "measured", "distributor degrees"),
					}),
					...voltsFacts("2024-06-08T08:20:00.000Z", "closed", [
						["battery", "12.6"],
						["switchIn", "12.56"],
						["switchOut", "12.5"],
						["coilFeed", "12.46"],
						["coilPoints", "0.12"],
						["distributor", "0.09"],
						["body", "0.02"],
					]),
				},
			},
		],
		[
			"car",
			carId,
			{
				name: "Brindlecote Stour Six",
				owner: "",
				distributorId,
				demo: true,
				facts: {
					story: fact(
						"Overhauled this spring: bush, springs, points. Runs sweetly; kept as the one to compare with.",
						"",
					),
					year: fact("1967", "book"),
					layout: fact("inline", "book"),
					cylinders: fact("6", "book"),
					capacity: fact("2612", "book", "cc"),
					chamber: fact("wedge", "book"),
					compressionRatio: fact("8.8", "book", ": 1"),
					firingOrder: fact("1-5-3-6-2-4", "book"),
					crankRotation: fact("clockwise", "measured", "", "seen from the pulley"),
					pulleyDiameter: fact("165", "measured", "mm"),
					idleSpeed: fact("650", "measured", "engine rpm"),
					voltage: fact("12", "book", "V"),
					earth: fact("negative", "book"),
					charging: fact("alternator", "book"),
					coilOhm: fact("3.2", "measured", "ohm"),
					ballast: fact("none", "book"),
					condenser: fact("0.22", "measured", "µF"),
					plugGap: fact("0.025", "book", "in"),
					staticTiming: fact("6", "book", "before TDC"),
					coilMarks: fact("plus-minus", "measured"),
					coilTerminal: fact("-", "measured"),
				},
			},
		],
	],
};
