// What a figure of the advance curve is made from: every part of the plate, and
// every room that has one drawn, means these. Crank degrees and engine rpm.

/** A row as the book prints it; null: it names no such figure. */
interface BookRow { engineRPM: number; minCrankDeg: number | null; maxCrankDeg: number | null }

/** What a sound distributor through the rows can show; isOutside: below the first row or past the last. */
interface RangePoint { engineRPM: number; minCrankDeg: number; maxCrankDeg: number; isOutside: boolean }

/** The book, as a figure draws it. */
interface BookFigure { rows: BookRow[]; range: RangePoint[] }

/** One reading. */
interface PlatePoint {
	engineRPM: number; // 0 for a static figure
	crankDeg: number; // as the axis counts: total before TDC, or advance alone
	direction: "rising" | "falling" | "static";
	place?: "bench" | "car";
	minCrankDeg?: number | null; // the range the reading was judged by
	maxCrankDeg?: number | null;
	isSilent?: boolean; // the book is silent at this speed: the band is only what is possible
	verdict?: string; // pass, watch, fail or unknown
	isLone?: boolean; // it stands alone among its neighbours
}

interface PlateCurve {
	kind: "fitted" | "found" | "what-if" | "expected"; // decides the line's style
	name: string; // as the key and the text line call it
	points: { engineRPM: number; crankDeg: number }[]; // ascending in speed
}

interface PlateAxis {
	quantity: "total" | "advance"; // total: degrees before TDC; advance: degrees above base
	baseCrankDeg?: number | null; // where the distributor scale begins on a total axis
	driveRatio?: number; // crank turns per distributor turn, 2 unless said
	maxRPM?: number; // the figure reaches at least this far
}

interface PlateInput {
	number?: number; // of the figure
	title: string;
	axis: PlateAxis;
	bands: BookRow[]; // the book's rows
	range?: RangePoint[]; // what a sound distributor through them can show, ascending in speed
	points: PlatePoint[];
	curves: PlateCurve[];
	limits?: { crankDeg: number; text: string }[];
	callouts?: { number: number; engineRPM: number; crankDeg: number; text: string }[];
}
