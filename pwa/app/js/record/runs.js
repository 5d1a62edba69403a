// Every set of readings by what it tells of: as found, after what was done, and
// which run of that it is. So a day with two repairs keeps its runs apart.

import { lastAt, timingChanges } from "./judged-sets.js";
import { complete } from "./sheet.js";
import { asWritten, dateWords } from "../kit/format.js";
import { firstCapital } from "../kit/words.js";

/**
 * @typedef {object} Run one set that was read
 * @property {Doc<Visit>} visit
 * @property {VisitSet} set
 * @property {string} name "as found", "after primary spring replaced, run 2"; "" where it is the only one of a day
 *   and nothing was ever changed
 * @property {number} changes how many changes that timing hangs on came before it
 */

const longestWhat = 48; // of what was done; a card's name of a curve holds 80 characters with place and day

/**
 * runsOf lists all that was read on a car or a distributor, the earliest first.
 * @param {Doc<Visit>[]} visits in any order
 * @returns {Run[]}
 */
export function runsOf(visits) {
	const done = changesIn(visits);
	/** @type {Map<string, number>} */
	const counts = new Map();
	return setsIn(visits).map(({ visit, set, at }) => {
		const before = done.filter((change) => change.at < at);
		const last = at === "" ? undefined : before.at(-1);
		const label = last ? afterWords(last) : done.length ? "as found" : "";
		const key = `${set.place} ${visit.body.date} ${before.length}`;
		const run = (counts.get(key) ?? 0) + (complete(set).length ? 1 : 0); // a static figure alone is no run
		counts.set(key, run);
		const name = [label, run > 1 ? `run ${run}` : ""].filter(Boolean).join(", ");
		return { visit, set, name, changes: before.length };
	});
}

/**
 * runName names one of them; "" where it was not read.
 * @param {Run[]} runs @param {string} set its id
 */
export const runName = (runs, set) => runs.find((run) => run.set.id === set)?.name ?? "";

/** runTitle is its name with place and day, for a list of many. @param {Run} run */
export const runTitle = (run) =>
	firstCapital([ownName(run), run.set.place, dateWords(run.visit.body.date)].filter(Boolean).join(", "));

/** The title that somebody gave the day says more than “as found”. @param {Run} run */
export const ownName = ({ name, visit }) => (name.startsWith("after") ? name : visit.body.title || name);

/**
 * changesBetween lists what was done between two runs, the earliest first.
 * @param {Doc<Visit>[]} visits @param {Run} one @param {Run} other
 */
export function changesBetween(visits, one, other) {
	const [from, to] = [timeOf(one.visit.body, one.set), timeOf(other.visit.body, other.set)].sort(asWritten);
	return workIn(visits).filter(({ at }) => at > from && at < to);
}

/** @param {WorkEvent} last what was changed last before it */
function afterWords(last) {
	const [what] = last.what.split(":");
	const short = what.length > longestWhat ? `${what.slice(0, longestWhat - 1).replace(/\s+\S*$/, "")}…` : what;
	return `after ${short.charAt(0).toLowerCase()}${short.slice(1)}`;
}

/** @param {{body: Visit}[]} visits @returns {WorkEvent[]} in the order they were done */
function workIn(visits) {
	return visits
		.flatMap(({ body }) => body.events ?? [])
		.filter(({ removed, changed, did }) => !removed && (timingChanges.has(changed) || Boolean(did)))
		.sort((a, b) => asWritten(a.at, b.at));
}

/** @param {{body: Visit}[]} visits */
const changesIn = (visits) => workIn(visits).filter(({ changed }) => timingChanges.has(changed));

/** @param {Doc<Visit>[]} visits */
function setsIn(visits) {
	return visits
		.flatMap((visit) =>
			(visit.body.sets ?? [])
				.filter((set) => !set.removed && (complete(set).length > 0 || set.staticCrankDeg !== ""))
				.map((set) => ({ visit, set, at: timeOf(visit.body, set) })),
		)
		.sort((a, b) => asWritten(a.at, b.at));
}

/**
 * When it was read; a set that bears no time was read when its day began.
 * @param {Visit} visit @param {VisitSet} set
 */
const timeOf = (visit, set) => lastAt(set) || (visit.date ? `${visit.date}T00:00:00Z` : "");
