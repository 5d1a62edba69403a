// The curves and the book of a setup card, brought to crank degrees at engine
// rpm so that two cards can be laid over one another.
//
//	crank = distributor × ratio, engine rpm = distributor rpm × ratio
//	total before TDC = base + advance

/** @typedef {"total" | "advance"} Quantity */
/**
 * @typedef {{name: string, points: {engineRPM: number, crankDeg: number}[], taken: string}} Line taken: the base that
 *   was put in or taken off, in words, or ""
 */

/** @param {SetupCard} card */
export const ratioOf = (card) => card.spec?.driveRatio ?? 2;

/**
 * baseOf gives the base a card is known to stand on, and where that is from.
 * @param {SetupCard} card @param {ReadingSet} [set]
 * @returns {{crankDeg: number, from: string} | null}
 */
export function baseOf(card, set) {
	if (set?.staticCrankDeg !== undefined)
		return { crankDeg: set.staticCrankDeg, from: "static figure of the readings" };
	if (card.asSet?.staticCrankDeg !== undefined)
		return { crankDeg: card.asSet.staticCrankDeg, from: "static timing as set" };
	if (card.spec?.baseCrankDeg !== undefined) return { crankDeg: card.spec.baseCrankDeg, from: "book’s base" };
	return null;
}

/**
 * lineOf gives one set of readings as a line of the wanted quantity, while
 * the speed rises where both ways were read; null when the base that would be
 * needed is not known.
 * @param {SetupCard} card @param {ReadingSet} set @param {Quantity} quantity
 * @returns {Line | null}
 */
export function lineOf(card, set, quantity) {
	const ratio = ratioOf(card);
	const rising = set.points.filter(({ direction }) => direction !== "falling");
	const points = meanAtSpeed(
		(rising.length ? rising : set.points).map(({ rpm, deg }) => ({
			engineRPM: set.speedUnit === "engine" ? rpm : rpm * ratio,
			crankDeg: set.angleUnit === "crank" ? deg : deg * ratio,
		})),
	);
	if (!points.length) return null;
	const own = set.base === "included" ? "total" : "advance";
	const name = set.name ?? (set.place === "bench" ? "on the bench" : "on the car");
	if (own === quantity) return { name, points, taken: "" };
	const base = baseOf(card, set);
	if (!base) return null;
	const shift = quantity === "total" ? base.crankDeg : -base.crankDeg;
	return {
		name,
		points: points.map(({ engineRPM, crankDeg }) => ({ engineRPM, crankDeg: crankDeg + shift })),
		taken: base.from,
	};
}

/** @param {{engineRPM: number, crankDeg: number}[]} points */
function meanAtSpeed(points) {
	/** @type {Map<number, number[]>} */
	const at = new Map();
	for (const { engineRPM, crankDeg } of points) at.set(engineRPM, [...(at.get(engineRPM) ?? []), crankDeg]);
	return [...at]
		.sort(([a], [b]) => a - b)
		.map(([engineRPM, all]) => ({ engineRPM, crankDeg: all.reduce((sum, one) => sum + one, 0) / all.length }));
}

/**
 * pairOf finds the quantity in which both cards have a line: as both were
 * read, if they were read alike, else with a base put in or taken off.
 * @param {SetupCard} mine @param {SetupCard} theirs
 * @returns {{quantity: Quantity, mine: Line, theirs: Line} | null}
 */
export function pairOf(mine, theirs) {
	const wanted = /** @type {const} */ (["advance", "total"]).flatMap((quantity) => {
		const lines = [mine, theirs].map((card) => linesOf(card, quantity)[0]);
		return lines[0] && lines[1] ? [{ quantity, mine: lines[0], theirs: lines[1] }] : [];
	});
	const converted = (/** @type {{mine: Line, theirs: Line}} */ pair) =>
		Number(pair.mine.taken !== "") + Number(pair.theirs.taken !== "");
	return wanted.sort((a, b) => converted(a) - converted(b))[0] ?? null;
}

/**
 * linesOf gives all lines of a card in one quantity, those read that way first.
 * @param {SetupCard} card @param {Quantity} quantity
 */
export function linesOf(card, quantity) {
	return (card.curves ?? [])
		.map((set) => lineOf(card, set, quantity))
		.filter((line) => line !== null)
		.sort((a, b) => Number(a.taken !== "") - Number(b.taken !== ""));
}

/**
 * at gives a line's value between its points; null outside them.
 * @param {Line["points"]} points ascending @param {number} engineRPM
 */
export function at(points, engineRPM) {
	const i = points.findIndex((point) => point.engineRPM >= engineRPM);
	if (i < 0) return null;
	const b = points[i];
	if (b.engineRPM === engineRPM) return b.crankDeg;
	const a = points[i - 1];
	return a
		? a.crankDeg + ((engineRPM - a.engineRPM) / (b.engineRPM - a.engineRPM)) * (b.crankDeg - a.crankDeg)
		: null;
}

/**
 * bookOf gives the book's rows in one quantity, an edge null where a row
 * names none; null when the base is wanted and not known.
 * @param {SetupCard} card @param {Quantity} quantity
 * @returns {BookRow[] | null}
 */
export function bookOf(card, quantity) {
	const { spec } = card;
	if (!spec) return null;
	const own = spec.base === "included" ? "total" : "advance";
	if (own !== quantity && spec.baseCrankDeg === undefined) return null;
	const shift = own === quantity ? 0 : (quantity === "total" ? 1 : -1) * Number(spec.baseCrankDeg);
	const ratio = ratioOf(card);
	return spec.points
		.map(({ rpm, minDeg, maxDeg }) => {
			const scale = spec.angleUnit === "crank" ? 1 : ratio;
			const edge = (/** @type {number | undefined} */ deg) => (deg === undefined ? null : deg * scale + shift);
			return {
				engineRPM: spec.speedUnit === "engine" ? rpm : rpm * ratio,
				minCrankDeg: edge(minDeg),
				maxCrankDeg: edge(maxDeg),
			};
		})
		.sort((a, b) => a.engineRPM - b.engineRPM);
}
