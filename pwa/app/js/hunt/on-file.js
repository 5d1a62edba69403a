// What is on file of a car, as faults.rank takes it: nothing of it is asked
// again in the hunt.

import { ask } from "../engine/ask.js";
import { garage } from "../kept/garage.js";
import { parse } from "../kit/format.js";
import { figureIn } from "../kit/units.js";
import { electricsOf } from "../record/car-electrics.js";
import { compressions } from "../record/compressions.js";
import { readingsForVerdict } from "../record/judged-sets.js";
import { specOf } from "../record/known.js";
import { factsOf } from "../record/visit-facts.js";
import { pageVerdicts } from "../state/page-verdicts.js";
import { checkResults } from "../state/checks-verdict.js";

/** @typedef {import("../record/known.js").Given} Given */

/** huntCar gives the car as the calculation takes it. @param {Given} given */
export function huntCar({ car, distributor }) {
	const { nominalV, cylinders, ballasted, electronic } = electricsOf(
		car.body.facts,
		distributor?.body.facts ?? {},
		distributor?.body.sheet,
	);
	const coilOhm = figureIn(car.body.facts.coilOhm, "ohm");
	return only({ nominalV, cylinders, ballasted, coilOhm, trigger: electronic ? "electronic" : "points" });
}

/** Only what is known. @param {{[key: string]: unknown}} all */
const only = (all) => Object.fromEntries(Object.entries(all).filter(([, one]) => one !== null && one !== undefined));

/**
 * onFile gathers it. What a calculation refuses is left out: its own page says so.
 * @param {Given} of @returns {Promise<{[fact: string]: unknown}>}
 */
export async function onFile(of) {
	const visits = garage.visits({ carId: of.car.id });
	const checks = factsOf(visits, "check");
	const [pages, judged, curve] = await Promise.all([
		pageVerdicts(of),
		checkResults(of, visits).catch(() => []),
		curveOf(of, visits).catch(() => ({})),
	]);
	const { volts, polarity, scatter, vacuum } = /** @type {{[page: string]: any}} */ (pages);
	return only({
		batteryV: parse(checks["B22.standing"]?.value),
		crankingV: parse(checks["B22.cranking"]?.value),
		feedV: volts?.feedV,
		feedDropV: volts?.feedDropV,
		pointsDropV: parse(checks.B11?.value),
		bodyDropV: parse(checks.B12?.value),
		polarity: { pass: "right", fail: "reversed" }[String(polarity?.verdict)],
		condenserMicroF: figureIn(checks["B15.capacity"], "µF"),
		scatterWorstDistDeg: scatter?.worstDistDeg,
		capsule: vacuum?.verdict,
		compressionKPa: compressionKPa(checks.B27 ?? of.car.body.facts.compression),
		checks: judged,
		...curve,
	});
}

const kPaOf = /** @type {{[unit: string]: number}} */ ({ psi: 6.894757, bar: 100 }); // exact to seven digits

/** @param {Fact | undefined} fact */
function compressionKPa(fact) {
	const one = kPaOf[fact?.unit ?? ""];
	const each = one ? compressions(fact?.value ?? "").map((value) => value * one) : [];
	return each.length >= 2 ? each : null;
}

/** The accounts of the curve with their shares. @param {Given} of @param {Doc<Visit>[]} visits */
async function curveOf(of, visits) {
	const spec = specOf(of);
	const readings = readingsForVerdict(visits);
	if (!spec || !readings.length) return {};
	const { accounts = [], baseCrankDeg } = await ask("advance.judge", { spec, readings });
	return {
		accounts: accounts.map((/** @type {{id: string, share: number}} */ { id, share }) => ({ id, share })),
		baseRead: baseCrankDeg !== null,
	};
}
