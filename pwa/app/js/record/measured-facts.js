// What was measured on a page of its own is known among the facts and on the
// card too. What a person typed among the facts stays as it was typed.

import { factsOf } from "./visit-facts.js";

/**
 * Where a fact is measured: its subject and key there, and the page in words.
 * @type {{[fact: string]: {of: "car" | "distributor", subject: import("./visit-facts.js").Subject, key: string, page:
 *   string}}}
 */
const places = {
	compression: { of: "car", subject: "check", key: "B27", page: "from the checks" },
	sidePlay: { of: "distributor", subject: "check", key: "B1", page: "from the checks" },
	dwellIdle: { of: "distributor", subject: "points", key: "idle.dwell", page: "from the points" },
	dwellFast: { of: "distributor", subject: "points", key: "fast.dwell", page: "from the points" },
};

/**
 * withMeasured gives the facts of a car or of a distributor with what was measured elsewhere, where nothing is typed.
 * @param {"car" | "distributor"} of @param {Facts} facts @param {Doc<Visit>[]} visits newest first
 * @returns {Facts}
 */
export function withMeasured(of, facts, visits) {
	const found = Object.entries(places).flatMap(([fact, place]) => {
		if (place.of !== of || facts[fact]?.value.trim()) return [];
		const read = factsOf(visits, place.subject)[place.key];
		// a spread in percent is no list of compressions
		if (!read?.value.trim() || (fact === "compression" && read.unit === "%")) return [];
		return [[fact, { ...read, note: read.note || place.page }]];
	});
	return found.length ? { ...facts, ...Object.fromEntries(found) } : facts;
}
