// The answers of the calculation methods the screens read, as contract.md has
// them. Only the type checker reads this file; nothing of it is shipped.

type Verdict = "pass" | "watch" | "fail" | "unknown";
type Sureness = "sure" | "likely" | "possible";

/** silent: below the book's first speed; leastCrankDeg is then the least that can be right. below: what stands before the first corner, for a figure. */
interface BandAnswer { engineRPM: number; minCrankDeg: number; maxCrankDeg: number; held?: boolean; silent?: boolean; leastCrankDeg?: number; note?: string; below?: BandBelow }
/** What is possible before the book's first corner, or what it says there. */
interface BandBelow { minCrankDeg: number | null; maxCrankDeg: number; isSilent: boolean }
interface Expectation { bands: BandAnswer[]; working?: string[]; sources?: string[] }

interface JudgedPoint {
	set: number; engineRPM: number; direction: "rising" | "falling"; base: "included" | "excluded";
	measuredCrankDeg: number; minCrankDeg: number; maxCrankDeg: number; deviationCrankDeg: number;
	readingErrorCrankDeg?: number; held?: boolean; silent?: boolean; verdict: Verdict; baseOffVerdict?: Verdict; alone?: boolean;
}
interface InBand { inside: number; withinError: number; outside: number }
interface InBandCounts { asRead: InBand; baseOffCrankDeg: number | null; baseOff: InBand | null }
interface Finding {
	code: string; title: string; text: string; part?: string; direction?: string; sureness: Sureness;
	disprovedBy?: string; working?: string[]; sources?: string[]; verdict?: Verdict | ""; caution?: string;
}
interface Explanation { code: string; text: string; test: string }
interface Judgement {
	points: JudgedPoint[]; bands: BandAnswer[]; counts: InBandCounts;
	baseOffsetCrankDeg: number | null; baseCrankDeg: number | null; baseLowCrankDeg?: number | null; baseHighCrankDeg?: number | null;
	basis?: string; shape: string; hysteresisDistDeg: number | null; suspicion: string;
	findings: Finding[]; explanations?: Explanation[]; ask?: string[]; verdict: Verdict; summary: string;
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
	slackDistDeg?: number; limitDistDeg?: number; baseCrankDeg?: number;
}
interface WhatIfAnswer { model: GovernorModel; kneeDistRPM?: number; limitDistRPM?: number; curve: CurvePoint[]; words?: string[]; working?: string[] }

interface ExpectedReading {
	engineRPM: number; distRPM: number; distDeg: number; crankDeg: number;
	minCrankDeg: number; maxCrankDeg: number; verdict: Verdict; direction?: "rising" | "falling"; doubtful?: boolean;
}
interface MendOption {
	rank: number; change: GovernorChange; steps: string[]; expected: ExpectedReading[]; curve: CurvePoint[];
	verdict: Verdict; why: string; effort: number; bodyOnly?: boolean;
}
interface Prescription { options: MendOption[]; verdict: Verdict; summary: string; cautions?: string[]; working?: string[]; sources?: string[] }
