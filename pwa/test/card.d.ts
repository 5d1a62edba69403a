// The setup card as card.link and card.open have it. Only the type checker
// reads this file; nothing of it is shipped.

interface CardFact { value: string; unit?: string; source?: Source; note?: string }
type CardFacts = { [key: string]: CardFact };
interface CardStrobe { engineRPM: number; crankDeg: number; vacuum?: "off" | "connected" }
interface CardCapsule { source?: string; code?: string; startKPa?: number; fullKPa?: number; maxDistDeg?: number; holds?: boolean }
interface CardAsSet {
	gap?: CardFact; gapMm?: number; dwellDistDeg?: number; staticCrankDeg?: number; strobe?: CardStrobe; total?: CardStrobe;
	cruiseCrankDeg?: number; knockCrankDeg?: number; marginCrankDeg?: number; markErrorCrankDeg?: number; mark?: string; vernier?: string;
	idleEngineRPM?: number; idleVacuumKPa?: number; capsule?: CardCapsule;
}
interface SetupCard {
	car: { name: string; facts?: CardFacts };
	distributor?: { name?: string; typeNumber?: string; rotation?: "clockwise" | "anticlockwise"; firingOrder?: number[]; facts?: CardFacts };
	spec?: Spec; specSource?: string; asSet?: CardAsSet; curves?: ReadingSet[];
	setBy?: string; checkedBy?: string; date?: string; odometer?: string; fuel?: string;
	warnings?: string[]; leftUndone?: string[]; nextCheck?: string; state?: CardState; work?: CardWork[];
}
interface CardWork { date?: string; part?: string; what?: string; from?: string; to?: string }
interface CardState { verdict: Verdict; summary: string; next?: string }
interface CardRow { key: string; group: string; label: string; text: string; note: string }
interface SideRow { key: string; group: string; label: string; mine: string; theirs: string; state: "same" | "differs" | "mine only" | "theirs only" }
