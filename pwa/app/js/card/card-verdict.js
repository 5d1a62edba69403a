// What the figures on a setup card come to, held against the book on the same
// card. It is worked out where the card is read and never sent.

import { btdc } from "../kit/format.js";
import { ask } from "../engine/ask.js";

/**
 * cardVerdicts judges the newest readings of each place on a card, and its
 * static figure. Empty where there is no book or nothing can calculate.
 * @param {SetupCard} card
 * @returns {Promise<{verdict: Verdict, text: string}[]>}
 */
export async function cardVerdicts({ spec, curves = [], asSet }) {
	if (!spec) return [];
	const newest = /** @type {const} */ (["bench", "car"]).flatMap(
		(place) => curves.find((set) => set.place === place) ?? [],
	);
	const [still, book] = [asSet?.staticCrankDeg, spec.baseCrankDeg];
	const asked = [
		newest.length
			? ask("advance.judge", { spec, readings: newest }).then((found) => ({
					verdict: found.verdict,
					text: `The readings: ${found.summary}`,
				}))
			: null,
		still === undefined || book === undefined
			? null
			: ask("marks.static", {
					foundCrankDeg: still,
					bookCrankDeg: book,
					bookToleranceCrankDeg: spec.baseToleranceCrankDeg ?? 0,
				}).then((found) => ({
					verdict: found.verdict,
					text: `Static timing: ${btdc(still)}; the book has ${btdc(book)}.`,
				})),
	];
	return (await Promise.all(asked.map((one) => one?.catch(() => null)))).flatMap((one) => one ?? []);
}
