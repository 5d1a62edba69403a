// What was done last, as the card has it: the part, what was done, the old and
// the new figure, the day. And back into a garage that keeps the card.

import { fromTo, partName, parts, workWords } from "../bench/parts.js";
import { short } from "../record/events.js";
import { timingChanges } from "../record/judged-sets.js";
import { asWritten } from "../kit/format.js";
import { plainText } from "./card-facts.js";

const most = 6; // card.link takes no more
const longestPart = 40; // of an event's part
const did = /** @type {const} */ (["replaced", "adjusted", "cleaned", "found"]);

/**
 * workOf lists what was done last, the newest first.
 * @param {{body: Visit}[]} visits @returns {CardWork[]}
 */
export function workOf(visits) {
	return visits
		.flatMap(({ body }) => body.events ?? [])
		.filter((event) => !event.removed && (event.did || event.part || timingChanges.has(event.changed)))
		.sort((a, b) => asWritten(b.at, a.at))
		.map(cardWork)
		.filter(({ part, what }) => part || what)
		.slice(0, most);
}

/** @param {WorkEvent} event @returns {CardWork} */
function cardWork(event) {
	const { part = "", note = "" } = event;
	const isNamed = part !== "" && part !== "other";
	const words = part
		? { part: isNamed ? partName(part) : event.did ? note : "", what: [event.did, isNamed ? note : ""] }
		: { part: "", what: [event.what] };
	if (part && !isNamed && !event.did) words.what = [note];
	/** @type {CardWork} */
	const out = {};
	const put = (
		/** @type {keyof CardWork} */ key,
		/** @type {string | undefined} */ text,
		/** @type {number} */ size,
	) => {
		const plain = plainText(text, size);
		if (plain) out[key] = plain;
	};
	if (/^\d{4}-\d{2}-\d{2}/.test(event.at)) out.date = event.at.slice(0, 10);
	put("part", words.part, 80);
	put("what", words.what.filter(Boolean).join("; "), 200);
	put("from", event.from, 80);
	put("to", event.to, 80);
	return out;
}

/**
 * eventsOf turns the work on a card into events of a garage, each with its day. They are told and nothing more: no
 * reading is set apart by them, because the card itself says which reading was before and which after.
 * @param {CardWork[]} work @param {() => string} newId @returns {{date: string, event: WorkEvent}[]}
 */
export function eventsOf(work, newId) {
	return work.map(({ date = "", part = "", what = "", from = "", to = "" }, i) => {
		const known = parts.find(({ id, name }) => name === part && id !== "other")?.id;
		const kind = did.find((one) => what === one || what.startsWith(`${one}; `)) ?? "";
		const rest = kind ? what.slice(kind.length).replace(/^; /, "") : what;
		const isInWords = !known && (part === "" || part.length > longestPart);
		const of = isInWords
			? { part: "other", note: [part, rest].filter(Boolean).join("; ") }
			: { part: known ?? part, note: rest };
		const half = { ...of, did: /** @type {import("../bench/parts.js").Did | ""} */ (kind), from, to };
		return {
			date,
			event: {
				id: newId(),
				at: date ? `${date}T00:00:00.${String(999 - i)}Z` : "", // the newest first, as the card has them
				step: "",
				verdict: "",
				what: short(kind || !isInWords ? workWords(half) : half.note),
				changed: "",
				undone: [],
				restored: [],
				odometer: "",
				...half,
			},
		};
	});
}

/**
 * workLine says one of them in a line: "Primary spring replaced: 12 mm → 9 mm".
 * @param {CardWork} work @param {(ours: string) => string} inOurs what turns words of ours into the English chosen
 */
export function workLine({ part = "", what = "", from = "", to = "" }, inOurs) {
	const name = parts.some((one) => one.name === part) ? inOurs(part) : part;
	return [[name, what].filter(Boolean).join(" "), fromTo(from, to)].filter(Boolean).join(": ");
}
