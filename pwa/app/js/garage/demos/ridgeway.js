// The invented V8: a curve to be chosen, a ballast to be understood. Every
// figure in this file is invented and belongs to no real car.

import { fact, pointsFacts, reading, set, voltsFacts } from "./making.js";

const carId = "demoridgewayv8car000";
const distributorId = "demoridgewayv8dist00";
const made = "2024-07-13T08:00:00.000Z";

/** @type {[rpm: string, deg: string][]} engine rpm and crank degrees, by strobe at the owner's base of 12 */
const strobe = [
	["900", "12"],
	["1500", "20"],
	["2200", "26"],
	["3200", "34"],
	["4200", "40"],
];

/** @type {import("./making.js").Demo} */
export const ridgeway = {
	name: "Kestlewood Ridgeway V8",
	carId,
	made,
	about: "Negative earth, 12 V with a ballast, compression raised. A curve has to be chosen. The ballast takes volts, as it should.",
	documents: [
		[
			"distributor",
			distributorId,
			{
				name: "Kestlewood Ridgeway V8",
				typeNumber: "",
				sheetSource: "Invented workshop manual of the demo car",
				facts: {
					rotation: fact("clockwise", "measured", "", "seen from the cap end"),
					pointsKind: fact("single", "measured"),
					limitPlate: fact("15", "measured", "distributor degrees"),
					capsuleCode: fact("6-15-10", "book"),
					capsuleMeaning: fact("start-full-most", "book"),
					vacuumPort: fact("manifold", "measured"),
					gap: fact("0.016-0.019", "book", "in"),
					dwell: fact("30 ±2", "book", "distributor degrees"),
					dwellIdle: fact("30", "measured", "distributor degrees"),
				},
				sheet: {
					angleUnit: "crank",
					speedUnit: "engine",
					base: "excluded",
					baseCrankDeg: "6",
					baseSide: "before",
					baseToleranceCrankDeg: "",
					noAdvanceBelow: "900",
					driveRatio: "",
					listedWhile: "either",
					limitDistDeg: "15",
					rows: [
						["1500", "6", "10"],
						["2200", "12", "16"],
						["3200", "20", "24"],
						["4200", "26", "30"],
					].map(([rpm, min, max]) => ({ rpm, min, max })),
				},
			},
		],
		[
			"visit",
			"demoridgewayv8strobe",
			{
				carId,
				distributorId,
				date: "2024-07-13",
				title: "On the car, at the owner’s base of 12",
				notes: "Knocks at full throttle from 3000.",
				sets: [
					set(
						"demoridgewayv8set000",
						"car",
						strobe.map(([rpm, deg], index) =>
							reading(`demoridgewayrise000${index}`, rpm, deg, "rising", made),
						),
					),
				],
				facts: {
					odometer: fact("44 020", "measured", "miles"),
					...pointsFacts("2024-07-13T07:40:00.000Z", {
						state: fact("used", "measured"),
						gap: fact("0.018", "measured", "in"),
						dwell: fact("30", "measured", "distributor degrees"),
						"idle.rpm": fact("750", "measured", "engine rpm"),
						"idle.dwell": fact("30", "measured", "distributor degrees"),
						"fast.rpm": fact("1500", "measured", "engine rpm"),
						"fast.dwell": fact("29.2", "measured", "distributor degrees"),
					}),
					...voltsFacts("2024-07-13T07:50:00.000Z", "closed", [
						["battery", "12.7"],
						["switchIn", "12.65"],
						["switchOut", "12.6"],
						["ballastIn", "12.55"],
						["ballastOut", "6.4"],
						["coilFeed", "6.35"],
						["coilPoints", "0.13"],
						["distributor", "0.09"],
						["body", "0.02"],
					]),
					...voltsFacts("2024-07-13T07:50:00.000Z", "cranking", [
						["battery", "10.2"],
						["coilFeed", "10.12"],
					]),
				},
			},
		],
		[
			"car",
			carId,
			{
				name: "Kestlewood Ridgeway V8",
				owner: "",
				distributorId,
				demo: true,
				facts: {
					story: fact("Skimmed heads and a mild cam. Crisp at 12 static, but rattles when I open it up.", ""),
					year: fact("1970", "book"),
					layout: fact("V", "book"),
					cylinders: fact("8", "book"),
					capacity: fact("5200", "book", "cc"),
					stroke: fact("84", "book", "mm"),
					chamber: fact("wedge", "book"),
					cam: fact("mild", "measured"),
					compressionRatio: fact("9.6", "measured", ": 1", "raised from 8.5"),
					firingOrder: fact("1-8-4-3-6-5-7-2", "book"),
					crankRotation: fact("clockwise", "measured", "", "seen from the pulley"),
					pulleyDiameter: fact("180", "measured", "mm", "damper"),
					fuel: fact("98", "measured", "RON", "5 % ethanol"),
					altitude: fact("300", "measured", "m"),
					idleVacuum: fact("14", "measured", "inHg", "mild cam"),
					idleSpeed: fact("750", "measured", "engine rpm"),
					voltage: fact("12", "book", "V"),
					earth: fact("negative", "book"),
					charging: fact("alternator", "book"),
					coilOhm: fact("1.5", "measured", "ohm"),
					ballast: fact("block", "measured"),
					ballastOhm: fact("1.5", "measured", "ohm"),
					condenser: fact("0.22", "measured", "µF"),
					plugGap: fact("0.032", "measured", "in"),
					staticTiming: fact("6", "book", "before TDC"),
					modifications: fact("Compression raised, mild cam, base set to 12 by the owner.", ""),
					coilMarks: fact("plus-minus", "measured"),
					coilTerminal: fact("-", "measured"),
				},
			},
		],
	],
};
