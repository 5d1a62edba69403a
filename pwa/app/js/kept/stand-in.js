// A distributor that is worked on by itself. The pages of a car take it as they
// take a car: under its own id, with its name, its owner and its facts, and
// with itself as the distributor. What they change goes into its document.

/** What of a car is kept with the distributor that stands in for one. */
const shared = /** @type {const} */ (["name", "owner", "facts", "demo"]);

/** @type {WeakMap<Doc<Distributor>, Doc<Car>>} by the distributor as pages get it */
const standIns = new WeakMap();

/**
 * standIn gives a distributor as the pages of a car take it.
 * @param {Doc<Distributor>} unit with nothing missing, frozen @returns {Doc<Car>}
 */
export function standIn(unit) {
	if (!standIns.has(unit))
		standIns.set(unit, Object.freeze({ ...unit, kind: "car", isUnit: true, body: bodyOf(unit) }));
	return /** @type {Doc<Car>} */ (standIns.get(unit));
}

/** @param {Doc<Distributor>} unit @returns {Car} */
const bodyOf = ({ id, body }) =>
	Object.freeze({
		name: body.name || body.typeNumber || "A distributor",
		owner: body.owner ?? "",
		distributorId: id,
		facts: body.facts,
		demo: body.demo ?? false,
	});

/**
 * keepStandIn puts what was changed of it into the distributor's body.
 * @param {Distributor} body changed in place @param {Car} before @param {Car} after
 */
export function keepStandIn(body, before, after) {
	for (const key of shared) if (after[key] !== before[key]) Object.assign(body, { [key]: after[key] });
}

/** Facts of a visit that are the distributor's: points, capsule, cylinder by cylinder, the checks of its wear. */
const ofUnit = /^(points\.|capsule\.|scatter|check\.B([1-9]|1[0-4])\b)/;

/**
 * What a car's visit says of the car while another distributor was in it: nothing of curve and points.
 * @param {Visit} body @returns {Visit}
 */
export const withoutUnit = (body) => ({
	...body,
	sets: [],
	facts: Object.fromEntries(Object.entries(body.facts ?? {}).filter(([key]) => !ofUnit.test(key))),
});
