// One turn as time.turn takes it: this car's own figures, the book's curve, the
// coil as the spark's page has it. Unknown stays unknown and is left out.

import { electricsOf, unitDocuments } from "../record/car-electrics.js";
import { factText, orderOf, rotationOf, specOf } from "../record/known.js";
import { factsOf } from "../record/visit-facts.js";
import { dwellNow } from "../electrics/points.js";
import { polarityOf, voltsOf } from "../electrics/spark-ground.js";
import { sweepIn } from "../electrics/spark.js";
import { capsuleOf } from "../vacuum/capsule.js";
import { engineKnown } from "../choose/engine-input.js";

/**
 * @typedef {object} Known
 * @property {{[field: string]: any}} input of time.turn, all but the speed
 * @property {"clockwise" | "anticlockwise" | ""} rotation
 * @property {boolean} isElectronic an electronic trigger: no points to draw
 * @property {number | null} dwell distributor degrees
 * @property {{[field: string]: unknown} | null} capsule for light throttle; null where its pipe goes nowhere
 */

/**
 * @typedef {object} State
 * @property {number} rpm @property {number} deg
 * @property {number | null} spark the timing as it was moved
 * @property {number | null} dwell the dwell as it was moved
 * @property {number | null} vacuumKPa the vacuum as it was moved; full throttle else
 * @property {number} shift what that has done to the timing
 * @property {import("./moment.js").Turn | null} turn @property {Known | null} known
 */

const fullThrottle = { vacuumKPa: 0 };

/** knownOf gathers what is known of a car. @param {string} carId @returns {Promise<Known>} */
export async function knownOf(carId) {
	const { car, distributor, facts, visits } = unitDocuments(carId);
	const given = { car, distributor, answers: {} };
	const electrics = electricsOf(facts.car, facts.distributor, distributor?.body.sheet);
	const { cylinders, electronic, driveRatio } = electrics;
	const dwell =
		cylinders === null || electronic ? null : dwellNow(factsOf(visits, "points"), facts.distributor, cylinders);
	const [order, spec] = [orderOf(given), specOf(given)];
	const { engine, air } = engineKnown(given);
	return {
		input: {
			...fullThrottle,
			...(cylinders === null ? {} : { cylinders }),
			...(order && order.length === cylinders && order[0] === 1 ? { firingOrder: order } : {}),
			...(driveRatio === undefined ? {} : { driveRatio }),
			...(spec ? { spec } : {}),
			engine,
			...(air ? { air } : {}),
			...(dwell ? await coilOf(electrics, facts.car, visits, dwell) : {}),
		},
		rotation: rotationOf(given),
		isElectronic: electronic,
		dwell: dwell?.dwell ?? null,
		capsule: distributor && factText(given, "vacuumPort") !== "nowhere" ? capsuleOf(given) : null,
	};
}

/**
 * Points, coil and plug as the spark's page has them.
 * @param {import("../record/car-electrics.js").Electrics} electrics
 * @param {Facts} car @param {Doc<Visit>[]} visits @param {{dwell: number, from: string}} dwell
 */
async function coilOf(electrics, car, visits, dwell) {
	const points = { points: { dwellDistDeg: dwell.dwell } };
	if (electrics.nominalV === null || electrics.cylinders === null) return points;
	const polarity = await polarityOf(car, electrics.earth);
	const volts = await voltsOf(electrics, visits, car);
	const whole = /** @type {any} */ (electrics);
	const { input } = sweepIn(whole, car, dwell, [], [], polarity?.polarity ?? "unknown", volts.figures);
	const { supplyV, stoppedV, coil, feed, plug } = /** @type {any} */ (input);
	return { ...points, supplyV, ...(stoppedV ? { stoppedV } : {}), coil, ...(feed ? { feed } : {}), plug };
}

const parts = /** @type {{[what: string]: string}} */ ({
	piston: "the piston",
	timing: "the spark’s moment",
	points: "the points",
	coil: "current and kilovolts",
	"plug's need": "what the plug asks for",
	burning: "fire and pressure",
	"cylinders by number": "the cylinders’ numbers",
	capsule: "what the capsule adds",
});

/** What is wanted, and the page that asks it. @type {{[field: string]: [words: string, page: string]}} */
const wanted = {
	"engine.strokeMm": ["stroke", "facts"],
	"engine.boreMm": ["capacity", "facts"],
	"engine.compressionRatio": ["compression ratio", "facts"],
	"engine.chamber": ["combustion chamber", "facts"],
	cylinders: ["cylinders", "facts"],
	firingOrder: ["firing order", "facts"],
	supplyV: ["system voltage", "facts"],
	"points.dwellDistDeg": ["dwell", "points"],
	spec: ["the book’s curve", "book"],
	baseCrankDeg: ["base timing", "book"],
	capsule: ["the capsule’s figures", "vacuum"],
	"capsule.startKPa": ["the capsule’s figures", "vacuum"],
};

/** Where each page leads, by what it holds. @type {{[page: string]: string}} */
const pages = {
	facts: "Fill in the facts",
	points: "Enter the dwell",
	book: "Enter the book’s figures",
	vacuum: "Look at the capsule",
};

/**
 * missingOf says what is not drawn, what for, and where it is asked.
 * @param {import("./moment.js").Turn} turn @param {Known} known
 * @param {boolean} [isLight] the throttle is not wide open
 */
export function missingOf({ leftOut }, { input, isElectronic }, isLight = false) {
	// with the throttle open the capsule rests
	const out = leftOut.filter(({ what }) => what in parts && (isLight || what !== "capsule"));
	const follows = [...out.map(({ field }) => field), ...(input.engine.displacementCc ? [] : ["engine.boreMm"])];
	if (out.some(({ what }) => what === "burning"))
		follows.push(
			...["strokeMm", "compressionRatio", "chamber"]
				.filter((key) => input.engine[key] === undefined)
				.map((key) => `engine.${key}`),
		);
	const lacks = out.length
		? [...new Set(follows)].filter((field) => field in wanted && !(isElectronic && /^points|^supply/.test(field)))
		: [];
	return {
		parts: out.map(({ what }) => parts[what]),
		wants: lacks.map((field) => wanted[field][0]),
		pages: [...new Set(lacks.map((field) => wanted[field][1]))].map((page) => ({ page, label: pages[page] })),
	};
}
