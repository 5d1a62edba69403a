// All procedures, in the order of the job. Each is data: one engine runs them.

import { idleSpeed, mixture } from "./afterwards.js";
import { capsule, curveOnBench, curveOnCar } from "./curve.js";
import { fitDistributor, setPoints } from "./fitting.js";
import { proveTDC, rotation } from "./marks-proved.js";
import { phasing, roadTest, scatter } from "./spread.js";
import { firstStart, staticTiming, statedSpeed, strobeIdle } from "./timing.js";

/** In the English now chosen. @returns {Procedure[]} */
export function procedures() {
	return [proveTDC, rotation, fitDistributor, setPoints, staticTiming, firstStart, strobeIdle, statedSpeed, curveOnCar, curveOnBench, capsule, phasing, scatter, roadTest, idleSpeed, mixture].map((make) => make());
}

/** @param {string} name @returns {Procedure | null} */
export const procedureOf = (name) => procedures().find((each) => each.name === name) ?? null;

/** Which procedure does a step of the order of work. @type {{[step: string]: string}} */
export const procedureFor = { points: "points", static: "static", base: "strobe-idle", curve: "curve-car", vacuum: "capsule", idle: "idle", mixture: "mixture" };
