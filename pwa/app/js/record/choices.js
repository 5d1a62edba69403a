// The questions whose answer is kept under a key: its words, once, for the
// page that asks and for the setup card.

import { inEnglish } from "../kit/words.js";

/** @typedef {{value: string, label: string, note?: string}} Answer */

/** @type {{[fact: string]: {label: string, options: Answer[]}}} */
const questions = {
	coilMarks: {
		label: "Stamped at the coil’s two small terminals",
		options: [
			{ value: "plus-minus", label: "+ and −" },
			{ value: "sw-cb", label: "SW and CB" },
			{ value: "none", label: "nothing" },
		],
	},
	coilTerminal: {
		label: "The distributor’s wire is on",
		options: [
			{ value: "+", label: "+" },
			{ value: "-", label: "−" },
			{ value: "SW", label: "SW" },
			{ value: "CB", label: "CB" },
		],
	},
	coilMadeFor: {
		label: "The coil was made for",
		options: [
			{ value: "positive", label: "positive earth" },
			{ value: "negative", label: "negative earth" },
		],
	},
	sparkFlare: {
		label: "A graphite point between lead and plug: it flares on the side of",
		options: [
			{ value: "plug", label: "the plug" },
			{ value: "lead", label: "the lead" },
		],
	},
	firing: {
		label: "The engine fires",
		options: [
			{ value: "even", label: "at even intervals" },
			{ value: "uneven", label: "unevenly, by design", note: "some V engines and twins" },
			{ value: "even-two-stroke", label: "evenly, and it is a two-stroke" },
		],
	},
	pointsSets: {
		label: "Under the cap there is",
		options: [
			{ value: "single", label: "one set of points" },
			{ value: "twin", label: "two sets, each fires every other cylinder" },
			{ value: "pair", label: "two sets that fire every cylinder together" },
		],
	},
	capsuleMeaning: {
		label: "The numbers of the capsule’s code mean",
		options: [
			{ value: "start-full-most", label: "start, full, most", note: "inHg, inHg, distributor degrees" },
			{ value: "other", label: "something else", note: "then type the figures below" },
		],
	},
	capsuleKind: {
		label: "The capsule",
		options: [
			{ value: "advance", label: "advances" },
			{ value: "retard", label: "retards" },
		],
	},
	capsuleTwin: {
		label: "This half of the capsule belongs to",
		options: [
			{ value: "single", label: "a single unit" },
			{ value: "twin", label: "a twin unit" },
		],
	},
};

/** questionOf gives the words of a question. @param {string} fact */
export const questionOf = (fact) => questions[fact]?.label ?? "";

/** answersTo lists the answers to it. @param {string} fact @returns {Answer[]} */
export const answersTo = (fact) => questions[fact]?.options ?? [];

/** answerInWords gives what was kept in the words of its choice. @param {string} fact @param {string} value */
export function answerInWords(fact, value) {
	const found = answersTo(fact).find((answer) => answer.value === value.trim());
	return found ? inEnglish(found.label) : value;
}
