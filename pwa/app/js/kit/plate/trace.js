// Lines and marks as SVG path text. Pure: numbers in, text out.

/**
 * @typedef {{x: number, y: number}} Spot a place on the drawing, px
 * @typedef {{engineRPM: number, crankDeg: number}} TracePoint
 */

/** @param {number} n */
const px = (n) => String(Math.round(n * 100) / 100);

/** @param {readonly Spot[]} spots */
export function linePath(spots) {
	return spots.map((s, i) => `${i ? "L" : "M"}${px(s.x)} ${px(s.y)}`).join("");
}

/** @param {readonly Spot[]} spots */
export function closedPath(spots) {
	return spots.length ? linePath(spots) + "Z" : "";
}

/**
 * The mark of a reading. Direction is told by shape: rising points up, falling
 * points down, a static figure (engine stopped) is a diamond.
 * @param {"rising" | "falling" | "static"} direction
 * @param {number} x @param {number} y @param {number} r half height, px
 */
export function markPath(direction, x, y, r) {
	const w = r * 1.05;
	if (direction === "static")
		return closedPath([
			{ x, y: y - r },
			{ x: x + r, y },
			{ x, y: y + r },
			{ x: x - r, y },
		]);
	const up = direction === "rising" ? 1 : -1;
	return closedPath([
		{ x, y: y - up * r },
		{ x: x + w, y: y + up * r * 0.85 },
		{ x: x - w, y: y + up * r * 0.85 },
	]);
}

/**
 * The mark of a row of the book: a bar at the least, a bar at the most, a stem
 * between. Where the row names one alone, an arrow points where it is open.
 * @param {number} x @param {number | null} least @param {number | null} most heights on the drawing, px
 * @param {number} r half width, px
 */
export function edgePath(x, least, most, r) {
	const bar = (/** @type {number} */ y) =>
		linePath([
			{ x: x - r, y },
			{ x: x + r, y },
		]);
	if (least !== null && most !== null)
		return (
			bar(most) +
			linePath([
				{ x, y: most },
				{ x, y: least },
			]) +
			bar(least)
		);
	const at = least ?? most;
	if (at === null) return "";
	const tip = at + (most === null ? -3 : 3) * r;
	const back = tip + (most === null ? 1 : -1) * r;
	return (
		bar(at) +
		linePath([
			{ x, y: at },
			{ x, y: tip },
		]) +
		linePath([
			{ x: x - r * 0.7, y: back },
			{ x, y: tip },
			{ x: x + r * 0.7, y: back },
		])
	);
}

/**
 * The value of a line at a speed; null outside the line's own speeds.
 * @param {readonly TracePoint[]} line ascending in speed
 * @param {number} engineRPM
 */
export function lineAt(line, engineRPM) {
	const first = line[0];
	const last = line[line.length - 1];
	if (!first || !last || engineRPM < first.engineRPM || engineRPM > last.engineRPM) return null;
	const i = Math.max(
		1,
		line.findIndex((p) => p.engineRPM >= engineRPM),
	);
	const b = line[i] ?? first;
	const a = line[i - 1] ?? first;
	if (b.engineRPM === a.engineRPM) return b.crankDeg;
	return a.crankDeg + ((engineRPM - a.engineRPM) / (b.engineRPM - a.engineRPM)) * (b.crankDeg - a.crankDeg);
}

/**
 * The part of a line between two speeds, with its cut ends put on the line.
 * @param {readonly TracePoint[]} line ascending in speed
 * @param {number} fromRPM @param {number} toRPM
 * @returns {TracePoint[]}
 */
export function clipLine(line, fromRPM, toRPM) {
	const inside = line.filter((p) => p.engineRPM > fromRPM && p.engineRPM < toRPM);
	const start = lineAt(line, fromRPM);
	const end = lineAt(line, toRPM);
	return [
		...(start == null ? [] : [{ engineRPM: fromRPM, crankDeg: start }]),
		...inside,
		...(end == null ? [] : [{ engineRPM: toRPM, crankDeg: end }]),
	];
}
