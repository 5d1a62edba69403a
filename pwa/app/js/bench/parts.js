// What can be done to a distributor, by its parts (the trade's list), and which
// of it asks for readings anew.

/** @typedef {"replaced" | "adjusted" | "cleaned" | "found"} Did */
/** @typedef {{id: string, name: string, changed: string, figure?: string}} Part */

/**
 * changed: what work.order calls a change of this part, "" where nothing is to be read again. figure: what is measured
 * of it, as an example.
 * @type {readonly Part[]}
 */
export const parts = [
	{ id: "primary-spring", name: "Primary spring", changed: "curve-changed", figure: "stretch, mm under 100 g" },
	{ id: "secondary-spring", name: "Secondary spring", changed: "curve-changed", figure: "stretch, mm under 100 g" },
	{ id: "spring-post", name: "Spring post", changed: "curve-changed", figure: "bent by, mm" },
	{ id: "stop", name: "Stop or its plate", changed: "curve-changed", figure: "stamped number" },
	{ id: "weights", name: "Weights and pivots", changed: "curve-changed", figure: "play, mm" },
	{ id: "cam", name: "Cam", changed: "distributor-rebuilt" },
	{ id: "bush", name: "Bush or shaft", changed: "distributor-rebuilt", figure: "side play, mm" },
	{ id: "end-float", name: "End float shims", changed: "distributor-rebuilt", figure: "float, mm" },
	{ id: "plate", name: "Base plate", changed: "distributor-rebuilt" },
	{ id: "drive", name: "Drive gear or dog", changed: "distributor-rebuilt" },
	{ id: "points", name: "Points", changed: "points-fitted", figure: "gap or dwell" },
	{ id: "capsule", name: "Vacuum capsule", changed: "capsule-changed", figure: "code" },
	{ id: "condenser", name: "Condenser", changed: "", figure: "µF" },
	{ id: "cap", name: "Cap", changed: "" },
	{ id: "rotor", name: "Rotor", changed: "" },
	{ id: "leads", name: "Leads and plate earth", changed: "" },
	{ id: "oil", name: "Oil and grease", changed: "" },
	{ id: "other", name: "Something else", changed: "" },
];

/** What was only looked at, or cleaned where it does not move, changes nothing. */
const cleanMatters = ["weights", "plate", "primary-spring", "secondary-spring"];

/**
 * changeOf gives work.order's name of the change, or "".
 * @param {string} part its id @param {Did | ""} did
 */
export function changeOf(part, did) {
	const found = parts.find(({ id }) => id === part);
	if (!found || did === "found" || did === "") return "";
	if (did === "cleaned") return cleanMatters.includes(part) ? "curve-changed" : "";
	return found.changed;
}

/** partName gives its name; what is in no list says itself. @param {string} part */
export const partName = (part) => parts.find(({ id }) => id === part)?.name ?? part;

/**
 * fromTo says the old and the new figure: "12 mm → 9 mm"; "" where neither is known.
 * @param {string} from @param {string} to
 */
export const fromTo = (from, to) => (from && to ? `${from} → ${to}` : to || (from && `was ${from}`));

/**
 * workWords says in a line what was done: "Primary spring replaced: 12 mm → 9 mm".
 * @param {Pick<WorkEvent, "part" | "did" | "from" | "to" | "note">} event
 */
export function workWords({ part = "", did = "", from = "", to = "", note = "" }) {
	const detail = [fromTo(from, to), part === "other" ? "" : note].filter(Boolean).join("; ");
	const what = `${part === "other" && note ? note : partName(part)}${did ? ` ${did}` : ""}`;
	return detail ? `${what}: ${detail}` : what;
}
