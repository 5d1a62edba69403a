// The answers of the methods of condition, points, coil and supply that the
// screens read. Only the type checker reads this file; nothing of it is shipped.

interface MeasureLimit { passMin?: number; passMax?: number; watchMin?: number; watchMax?: number; source?: string; ruleOfThumb?: boolean }
interface Measure { id: string; title: string; kind: "figure" | "look"; unit?: string; limit?: MeasureLimit; possible?: { low: number; high: number }; accept: string }
interface ConditionCheck {
	id: string; title: string; group: "engine" | "distributor" | "electrics"; place: "bench" | "car" | "either";
	how: string; caution?: string; failText: string; measures: Measure[];
}
interface ConditionList { checks: ConditionCheck[]; assumed: string[]; sources: string[] }
interface ConditionResult { measure: string; value?: number; seen?: string; skipped?: string; own?: MeasureLimit }
interface JudgedMeasure { measure: string; check: string; title: string; verdict: Verdict; text: string; limitText: string; source: string; own: boolean }
interface ConditionJudgement { results: JudgedMeasure[]; findings: Finding[]; toDo: string[]; skipped: string[]; verdict: Verdict; summary: string; working?: string[]; sources?: string[] }

interface PointsJudgement {
	variationDistDeg: number | null; vacuumVariationDistDeg: number | null; shiftCrankDeg: number | null;
	agree: "yes" | "no" | "unknown"; trust: "dwell" | "gap" | "neither" | "unknown"; trustText: string;
	reasons: { id: string; text: string; test: string }[]; findings: Finding[]; ask: string[]; verdict: Verdict; summary: string; working: string[]; sources: string[];
}
interface PointsShift { timingShiftCrankDeg: number; mostCrankDeg: number; leastCrankDeg: number; text: string; working: string[]; sources: string[] }
interface PointsSlope {
	basis: "learned" | "common practice" | "unknown"; slopeDistDegPerMm: number | null; slopeDistDegPerThou: number | null; statedRate: number;
	foretold: { gapMm: number; dwellDistDeg: number; low: number; high: number; asked: "gap" | "dwell"; outside?: boolean }[];
	findings: Finding[]; text: string; working: string[]; sources: string[];
}

interface SparkRow {
	engineRPM: number; chargeMs: number; currentA: number; energyMilliJ: number; availableKV: number; availableLowKV: number;
	requiredKV: number; requiredLowKV: number; requiredGoodKV: number; marginKV: number; marginLowKV: number; verdict: Verdict;
	realLowKV: number; realHighKV: number; dirtyLowKV: number; dirtyHighKV: number; realMarginLowKV: number; realMarginHighKV: number; dirtyPlug: "enough" | "perhaps" | "short";
}
interface CrankingRow extends SparkRow { batteryV: number; bypass: boolean; measured: boolean; feedV: number | null }
interface SparkLoss { name: string; low: number; high: number; words: string; source: string }
interface Sweep {
	rows: SparkRow[]; cranking: CrankingRow[]; totalOhm: number; mostA: number; stoppedV: number; stalledA: number; stalledWatts: number; stalledCoilWatts: number; stalledBallastWatts: number;
	feedOhm: number | null; losses: SparkLoss[];
	assumed: string[]; findings: Finding[]; verdict: Verdict; summary: string; ask: string[]; working: string[]; sources: string[];
}
interface PlugCondition { id: string; words: string; gapMm: number; pressureKPa: number; temperatureC: number; lowKV: number; goodHighKV: number; wornHighKV: number }
interface PlugNeed { lowKV: number; highKV: number; goodHighKV: number; condition: string; conditions: PlugCondition[]; text: string; working: string[]; sources: string[] }
interface PolarityAnswer { wantedDistributorTerminal: string; wantedFeedTerminal: string; wantedText: string; centreElectrode: string; polarity: "right" | "wrong" | "unknown"; verdict: Verdict; summary: string; findings: Finding[]; working: string[]; sources: string[] }

interface Stretch { from: string; to: string; name: string; dropV: number; ohm: number | null; limitV: number | null; source?: string; verdict: Verdict }
interface SupplyJudgement {
	stretches: Stretch[]; currentA: number | null; currentBy: string; feedV: number | null; feedDropV: number | null; guilty: string;
	findings: Finding[]; ask: string[]; verdict: Verdict; summary: string; working: string[]; sources: string[];
}

interface CondenserJudgement {
	peakPrimaryV: number | null; peakAtMicroS: number | null; riseVPerMicroS: number | null; usualPeakV: number; usualAtMicroS: number; size: "right" | "small" | "large" | "unknown";
	sizes: { microF: number; peakPrimaryV: number; peakAtMicroS: number; peakSecondaryKV: number; riseVPerMicroS: number }[];
	effects: { size: "small" | "large"; text: string; loses: "fixed" | "arm" | "unknown"; gains: "fixed" | "arm" | "unknown"; source: string }[];
	assumed: string[]; findings: Finding[]; verdict: Verdict; summary: string; working: string[]; sources: string[];
}
