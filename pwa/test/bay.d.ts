// Shapes of the work at the engine bay. Only the type checker reads this file.

interface OrderStep { id: string; name: string; state: "done" | "due" | "again" | "blocked" | "unknown"; because: string; why: string; at?: string; verdict?: string; needs: string[] }
interface OrderAnswer {
	steps: OrderStep[]; next: { step?: string; restore?: string; say: string };
	planned: { step: string; what: string; state: string; fromMiles: number | null; toMiles: number | null }[];
	restoreList: { id: string; what: string; minutes: number | null; overdue?: boolean; say?: string; blocksStart?: boolean; blocksIgnition?: boolean }[];
	mayStart: boolean; mayFinish: boolean;
}

type EngineState = "off" | "hand" | "ignition" | "running" | "fast" | "bench" | "road";

/** One thing asked in place. */
interface Ask {
	key: string; label: string; kind: "number" | "speed" | "timing" | "choice" | "text";
	unit?: string; note?: string; options?: { value: string; label: string }[];
	isOptional?: boolean;
	/** kept in the facts of this visit under this name */
	fact?: string;
	/** kept among the facts of the car or the distributor too: it is asked once */
	lasting?: "car" | "distributor";
}
interface StepCondition { answer: string; is: string[] }
interface ProcedureStep {
	id: string;
	/** the one action, as it would be read aloud */
	title: string;
	text?: string[];
	engine: EngineState;
	cautions?: string[];
	/** what stands undone once the step is confirmed; what it puts back */
	undoes?: string[];
	restores?: string[];
	/** it is about putting something back in its place, not about taking something away */
	putsBack?: boolean;
	/** undone only where an answer says so */
	mayUndo?: { answer: string; is: string[]; what: string }[];
	startsEngine?: boolean;
	/** the engine is turned or the setting changed: what that is called in the order of work */
	changes?: string;
	/** a figure of this car that is shown large */
	figure?: string;
	asks?: Ask[];
	/** the judge that gives the live verdict on what is asked */
	judge?: string;
	/** its verdict is the verdict on the step of the order of work */
	records?: boolean;
	/** names of the answers that are a reading; rpm empty: the static figure */
	keeps?: { rpm: string; deg: string };
	/** what to do when it fails */
	onFail?: string[];
	/** readings are taken on their own page */
	readings?: "bench" | "car";
	page?: { name: string; label: string };
	/** only where an earlier answer or a fact says so */
	only?: StepCondition | StepCondition[];
	/** only where one of these answers was given */
	anyOf?: StepCondition[];
	/** seconds at most, as with a hand on the throttle */
	holdSeconds?: number;
	/** seconds to wait before it is read */
	waitSeconds?: number;
	/** what the button that confirms it says, where the usual words would be untrue */
	done?: string;
	/** timing is proved by it: nothing may be loose that timing hangs on */
	proves?: boolean;
	/** the last step: nothing may stand undone */
	finishes?: boolean;
}
interface Procedure {
	name: string; title: string; why: string;
	/** the step of the order of work it judges, or "" */
	judges: string;
	tools: string[];
	before: string[];
	steps: ProcedureStep[];
}
interface Run {
	step: string; answers: { [key: string]: string }; begun: string; verdict?: string; said?: string; sets?: { [step: string]: string };
	/** the cautions of the steps confirmed, each with the step it came first at */
	passed?: { [caution: string]: string };
}
interface Outcome { verdict: Verdict; text: string; do?: string; working?: string[]; sources?: string[] }
