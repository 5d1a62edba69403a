// The answers of the calculation methods the screens read, as contract.md has
// them. Only the type checker reads this file; nothing of it is shipped.

type Verdict = "pass" | "watch" | "fail" | "unknown";
type Sureness = "sure" | "likely" | "possible";

/** min and max: the straight line between the book's rows. least and most: what a sound distributor through them can show, which readings are judged by. silent: below the book's first speed. */
interface BandAnswer { engineRPM: number; minCrankDeg: number; maxCrankDeg: number; held?: boolean; silent?: boolean; leastCrankDeg?: number; mostCrankDeg?: number; note?: string }
interface Expectation { bands: BandAnswer[]; working?: string[]; sources?: string[] }

interface JudgedPoint {
	set: number; point?: number; engineRPM: number; direction: "rising" | "falling"; base: "included" | "excluded";
	measuredCrankDeg: number; minCrankDeg: number; maxCrankDeg: number; deviationCrankDeg: number;
	readingErrorCrankDeg?: number; held?: boolean; silent?: boolean; verdict: Verdict; baseOffVerdict?: Verdict; alone?: boolean;
}
interface InBand { inside: number; withinError: number; outside: number }
interface InBandCounts { asRead: InBand; baseOffCrankDeg: number | null; baseOff: InBand | null }
interface Finding {
	code: string; title: string; text: string; part?: string; direction?: string; sureness: Sureness;
	disprovedBy?: string; working?: string[]; sources?: string[]; verdict?: Verdict | ""; caution?: string;
	/** of belief, 0 to 1; only where accounts were weighed */
	share?: number;
}
/** One story of how the readings came about; the shares add up to 1 with "other". */
interface Account { id: string; share: number; parts: string[]; direction: string; title: string; text: string }
/** What one account expects to be read: about deg, hardly less than low nor more than high. */
interface AccountExpects { account: string; deg: number; low: number; high: number }
/** A reading that would tell the accounts apart; gain in bits. */
interface NextReading {
	place: "bench" | "car" | "lamp"; rpm: number; speedUnit: "engine" | "distributor"; angleUnit: "crank" | "distributor";
	direction: "rising" | "falling"; gain: number; expects: AccountExpects[];
}
interface Explanation { code: string; text: string; test: string }
interface Judgement {
	points: JudgedPoint[]; bands: BandAnswer[]; counts: InBandCounts;
	baseOffsetCrankDeg: number | null; baseCrankDeg: number | null; baseLowCrankDeg?: number | null; baseHighCrankDeg?: number | null;
	basis?: string; shape: string; hysteresisDistDeg: number | null; suspicion: string;
	findings: Finding[]; accounts?: Account[]; nextReadings?: NextReading[]; explanations?: Explanation[]; ask?: string[]; verdict: Verdict; summary: string;
	working?: string[]; sources?: string[];
}

interface CurvePoint { distRPM: number; distDeg: number }
interface GovernorModel {
	startDistRPM: number; primaryRate: number; secondaryRate: number; kneeDistDeg: number;
	limitDistDeg: number; frictionDistDeg: number; weightGrowth: number;
}
interface Fit {
	model: GovernorModel; kneeDistRPM: number; limitDistRPM: number; rmsDistDeg: number;
	intervals: { [name: string]: [number, number] }; curve: CurvePoint[];
	undecided?: { name: string; why: string; take: string }[];
	wild?: { set: number; point: number; distRPM: number; deviationDistDeg: number }[];
	statedRate?: number; basis?: string; baseCrankDeg?: number | null; working?: string[]; sources?: string[];
}

interface GovernorChange {
	primarySpring?: number; secondarySpring?: number; weights?: number; primaryPreload?: number;
	slackDistDeg?: number; limitDistDeg?: number; baseCrankDeg?: number; replace?: ("primary" | "secondary")[];
}
interface WhatIfAnswer { model: GovernorModel; kneeDistRPM?: number; limitDistRPM?: number; curve: CurvePoint[]; words?: string[]; working?: string[] }

interface ExpectedReading {
	engineRPM: number; distRPM: number; distDeg: number; crankDeg: number;
	minCrankDeg: number; maxCrankDeg: number; verdict: Verdict; direction?: "rising" | "falling"; doubtful?: boolean;
}
interface MendOption {
	rank: number; change: GovernorChange; steps: string[]; expected: ExpectedReading[]; curve: CurvePoint[];
	verdict: Verdict; why: string; effort: number; bodyOnly?: boolean; inBookShare?: number; scale?: string;
	/** the steps that change the curve, in order */
	stages?: { step: string; read?: string; change: GovernorChange; curve: CurvePoint[] }[];
}
interface Prescription { options: MendOption[]; verdict: Verdict; summary: string; cautions?: string[]; working?: string[]; sources?: string[] }
