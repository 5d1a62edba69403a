// The book’s table and two sets of readings of one car, as several tests take them.

/** @type {Spec} the demo car's table */
export const spec = {
	angleUnit: "distributor",
	speedUnit: "distributor",
	base: "excluded",
	baseCrankDeg: 8,
	points: [
		{ rpm: 2500, minDeg: 12, maxDeg: 14 },
		{ rpm: 300, minDeg: 0, maxDeg: 1 },
	],
};

/** @type {ReadingSet} */
export const bench = {
	place: "bench",
	angleUnit: "distributor",
	speedUnit: "distributor",
	base: "excluded",
	points: [300, 450, 700, 1000].map((rpm) => ({ rpm, deg: 9, direction: "rising" })),
};

/** @type {ReadingSet} */
export const strobe = {
	place: "car",
	angleUnit: "crank",
	speedUnit: "engine",
	base: "included",
	points: [{ rpm: 800, deg: 8, direction: "rising" }],
};
