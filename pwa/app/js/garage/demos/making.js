// How the invented cars are put together.

/**
 * @typedef {object} Demo an invented car
 * @property {string} name @property {string} carId @property {string} about what it is for
 * @property {string} made the same on every phone, so that two phones agree on it
 * @property {[kind: Kind, id: string, body: any][]} documents the car last
 */

/** @type {(value: string, source: Source, unit?: string, note?: string) => Fact} */
export const fact = (value, source, unit = "", note = "") => ({ value, unit, source, note });

/**
 * @param {string} id @param {string} rpm @param {string} deg @param {"rising" | "falling"} direction @param {string} at
 * @returns {Reading}
 */
export const reading = (id, rpm, deg, direction, at) => ({ id, rpm, deg, side: "before", direction, at });

/**
 * A set as it is usually read at that place.
 * @param {string} id
 * @param {"bench" | "car"} place
 * @param {Reading[]} readings
 * @returns {VisitSet}
 */
export function set(id, place, readings) {
	const usual =
		place === "bench"
			? {
					angleUnit: /** @type {const} */ ("distributor"),
					speedUnit: /** @type {const} */ ("distributor"),
					base: /** @type {const} */ ("excluded"),
				}
			: {
					angleUnit: /** @type {const} */ ("crank"),
					speedUnit: /** @type {const} */ ("engine"),
					base: /** @type {const} */ ("included"),
				};
	return {
		id,
		place,
		...usual,
		vacuum: "off",
		readingErrorCrankDeg: "",
		staticCrankDeg: "",
		staticSide: "before",
		readings,
	};
}

/** @param {string} subject @param {string} begun @param {Facts} facts @returns {Facts} */
function subject(subject, begun, facts) {
	return {
		[`${subject}.begun`]: fact(begun, ""),
		...Object.fromEntries(Object.entries(facts).map(([key, value]) => [`${subject}.${key}`, value])),
	};
}

/** @param {string} begun @param {Facts} facts */
export const checkFacts = (begun, facts) => subject("check", begun, facts);

/** @param {string} begun @param {Facts} facts */
export const pointsFacts = (begun, facts) => subject("points", begun, facts);

/** @param {string} begun @param {"closed" | "cranking"} state @param {[place: string, volts: string][]} volts */
export const voltsFacts = (begun, state, volts) =>
	subject(
		"volts",
		begun,
		Object.fromEntries(volts.map(([place, value]) => [`${state}.${place}`, fact(value, "measured", "V")])),
	);
