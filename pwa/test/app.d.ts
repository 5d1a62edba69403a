// The shapes the app's modules pass to one another. Only the type checker
// reads this file; nothing of it is shipped. What documents hold stands in
// shapes.d.ts, which go generate makes.

type Source = Fact["source"];
type Facts = { [key: string]: Fact };

interface Doc<Body> {
	isUnit?: true; // a distributor that stands in for a car (kept/stand-in.js)
	kind: Kind; id: string; revision: string; changedAt: string; deleted: boolean; body: Body;
	mark?: string; // on this phone only: names what was typed, as the time alone cannot
}
type AnyDoc = Doc<any>;

/** A row may name only a least or only a most. */
interface SpecPoint { rpm: number; minDeg?: number; maxDeg?: number }
interface Spec {
	angleUnit: "crank" | "distributor"; speedUnit: "engine" | "distributor"; base: "included" | "excluded"; points: SpecPoint[];
	baseCrankDeg?: number; baseToleranceCrankDeg?: number; noAdvanceBelowRPM?: number; driveRatio?: number; limitDistDeg?: number;
	listedWhile?: "either" | "rising" | "falling";
}
interface ReadingSet {
	name?: string; place: "bench" | "car"; angleUnit: "crank" | "distributor"; speedUnit: "engine" | "distributor"; base: "included" | "excluded";
	vacuum?: "off" | "connected"; readingErrorCrankDeg?: number; staticCrankDeg?: number;
	points: { rpm: number; deg: number; direction: "rising" | "falling" }[];
}
interface FieldProblem { field: string; problem: string; limit: string; do: string }
interface Problem { type?: string; title: string; status?: number; detail?: string; field?: string; limit?: string; do?: string }

interface PageContext {
	params: { [name: string]: string }; car: Doc<Car> | null; distributor: Doc<Distributor> | null; visits: Doc<Visit>[];
	go(hash: string): void; signal: AbortSignal;
}
