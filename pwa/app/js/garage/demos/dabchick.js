// The invented six-volt car: positive earth, side valves, and half a volt lost
// where nobody looks. Every figure in this file is invented and belongs to no
// real car.

import { fact, pointsFacts, set, reading, voltsFacts } from "./making.js";

const carId = "demodabchickten6vcar";
const distributorId = "demodabchickten6dist";
const made = "2024-04-20T08:00:00.000Z";

/** @type {[rpm: string, deg: string][]} engine rpm and crank degrees */
const strobe = [
	["600", "5"],
	["1000", "9"],
	["1600", "16"],
	["2400", "23"],
	["3200", "25"],
];

/** @type {import("./making.js").Demo} */
export const dabchick = {
	name: "Wexcombe Dabchick Ten",
	carId,
	made,
	about: "Positive earth, 6 V, side valves. It starts badly: volts are lost on the way to the coil.",
	documents: [
		[
			"distributor",
			distributorId,
			{
				name: "Wexcombe Dabchick Ten",
				typeNumber: "",
				sheetSource: "Invented instruction book of the demo car",
				facts: {
					rotation: fact("clockwise", "measured", "", "seen from the cap end"),
					pointsKind: fact("single", "measured"),
					limitPlate: fact("10", "measured", "distributor degrees"),
					vacuumPort: fact("nowhere", "measured"),
					gap: fact("0.012", "book", "in"),
					dwell: fact("50 ±5", "book", "distributor degrees"),
				},
				sheet: {
					angleUnit: "distributor",
					speedUnit: "engine",
					base: "excluded",
					baseCrankDeg: "4",
					baseSide: "before",
					baseToleranceCrankDeg: "",
					noAdvanceBelow: "",
					driveRatio: "",
					listedWhile: "either",
					limitDistDeg: "10",
					rows: [
						["600", "0", "1"],
						["1000", "1.5", "3.5"],
						["1600", "5", "7"],
						["2400", "8.5", "10.5"],
						["3200", "9", "11"],
					].map(([rpm, min, max]) => ({ rpm, min, max })),
				},
			},
		],
		[
			"visit",
			"demodabchickten6vis0",
			{
				carId,
				distributorId,
				date: "2024-04-20",
				title: "Starts badly, weak headlamps",
				notes: "",
				sets: [
					set(
						"demodabchickten6set0",
						"car",
						strobe.map(([rpm, deg], index) =>
							reading(`demodabchickrise000${index}`, rpm, deg, "rising", made),
						),
					),
				],
				facts: {
					...pointsFacts("2024-04-20T07:30:00.000Z", {
						state: fact("used", "measured"),
						gap: fact("12", "measured", "thou"),
						dwell: fact("51", "measured", "distributor degrees"),
						"idle.rpm": fact("550", "measured", "engine rpm"),
						"idle.dwell": fact("51", "measured", "distributor degrees"),
						"fast.rpm": fact("1500", "measured", "engine rpm"),
						"fast.dwell": fact("49.5", "measured", "distributor degrees"),
					}),
					...voltsFacts("2024-04-20T07:45:00.000Z", "closed", [
						["battery", "6.25"],
						["switchIn", "6.2"],
						["switchOut", "5.6"],
						["coilFeed", "5.55"],
						["coilPoints", "0.14"],
						["distributor", "0.09"],
						["body", "0.03"],
					]),
				},
			},
		],
		[
			"car",
			carId,
			{
				name: "Wexcombe Dabchick Ten",
				owner: "",
				distributorId,
				demo: true,
				facts: {
					story: fact("Needs a push on a cold morning. New coil, new battery, no better.", ""),
					year: fact("1938", "book"),
					layout: fact("inline", "book"),
					cylinders: fact("4", "book"),
					capacity: fact("1122", "book", "cc"),
					chamber: fact("side-valve", "book"),
					compressionRatio: fact("6.2", "book", ": 1"),
					firingOrder: fact("1-2-4-3", "book"),
					crankRotation: fact("clockwise", "measured", "", "seen from the pulley"),
					idleSpeed: fact("550", "measured", "engine rpm"),
					voltage: fact("6", "book", "V"),
					earth: fact("positive", "book"),
					charging: fact("dynamo", "book"),
					coilOhm: fact("1.3", "measured", "ohm"),
					ballast: fact("none", "measured"),
					condenser: fact("0.20", "measured", "µF"),
					plugGap: fact("0.022", "book", "in"),
					staticTiming: fact("4", "book", "before TDC"),
					coilMarks: fact("sw-cb", "measured"),
					coilTerminal: fact("CB", "measured"),
					coilMadeFor: fact("positive", "measured"),
				},
			},
		],
	],
};
