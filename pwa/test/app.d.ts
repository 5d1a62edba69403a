// The shapes the app's modules pass to one another. Only the type checker
// reads this file; nothing of it is shipped.

type Source = "book" | "measured" | "common practice" | "guess" | "";
interface Fact { value: string; unit: string; source: Source; note: string }
type Facts = { [key: string]: Fact };

interface Row { rpm: string; min: string; max: string }
interface Sheet {
	angleUnit: "" | "crank" | "distributor"; speedUnit: "" | "engine" | "distributor"; base: "" | "included" | "excluded";
	baseCrankDeg: string; baseSide: "before" | "after"; baseToleranceCrankDeg: string; noAdvanceBelow: string; driveRatio: string;
	listedWhile: "either" | "rising" | "falling"; limitDistDeg: string; rows: Row[];
	/** crank degrees before TDC in all that a person has confirmed beyond the stop */
	confirmedTotal?: string;
}
interface Reading { id: string; rpm: string; deg: string; side: "before" | "after"; direction: "rising" | "falling"; at: string; removed?: boolean }
interface VisitSet {
	id: string; place: "bench" | "car"; angleUnit: "crank" | "distributor"; speedUnit: "engine" | "distributor"; base: "included" | "excluded";
	vacuum: "" | "off" | "connected"; readingErrorCrankDeg: string; staticCrankDeg: string; staticSide: "before" | "after"; readings: Reading[]; removed?: boolean;
}
interface Car { name: string; owner: string; distributorId: string; facts: Facts; demo: boolean }
interface Distributor { name: string; typeNumber: string; facts: Facts; sheet: Sheet; sheetSource: string }
interface Visit { carId: string; distributorId: string; date: string; title: string; notes: string; sets: VisitSet[]; facts?: Facts }

type Kind = "car" | "distributor" | "visit";
interface Doc<Body> {
	kind: Kind; id: string; revision: string; changedAt: string; deleted: boolean; body: Body;
	mark?: string; // on this phone only: names what was typed, as the time alone cannot
}
type AnyDoc = Doc<any>;

interface SpecPoint { rpm: number; minDeg: number; maxDeg: number }
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
