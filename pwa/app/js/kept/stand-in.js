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

/** Facts of a visit that are the distributor's, by name: points, capsule, cylinder by cylinder, its wear. */
export const ofUnit = /^(points\.|capsule\.|scatter|check\.B([1-9]|1[0-4])\b)/;

/** What a photo shows that is the distributor's. @param {Photo} photo */
const showsUnit = ({ of }) => of === "cap" || of === "points";

/**
 * seenFrom gives a visit as a car sees it: its own, but for what is said of a distributor that is no longer in it; and
 * of visits elsewhere what is said of the one that is, on the bench.
 * @param {Visit} body @param {string} carId @param {string} unit the distributor that is in it
 * @returns {Visit}
 */
export function seenFrom(body, carId, unit) {
	const isIn = !unit || !body.distributorId || body.distributorId === unit;
	if (body.carId === carId && isIn) return body;
	const isOwn = body.carId === carId;
	return {
		...body,
		sets: isOwn ? [] : body.sets.filter(({ place }) => place === "bench"),
		facts: Object.fromEntries(Object.entries(body.facts ?? {}).filter(([key]) => ofUnit.test(key) !== isOwn)),
		events: (body.events ?? []).filter(({ did }) => Boolean(did) !== isOwn),
		...(body.photos ? { photos: body.photos.filter((photo) => !body.carId || showsUnit(photo) !== isOwn) } : {}),
	};
}
