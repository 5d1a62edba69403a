// Prompts and numbers said aloud, for hands that are busy. Only voices that
// are on the phone are used; without one it is silent.

import { setting } from "./settings.js";

const speech = globalThis.speechSynthesis;

/** hasVoice says whether this phone can speak without a network. */
export function hasVoice() {
	return voice() !== null;
}

/** speak says a text when the person wants it, and stops what was being said. @param {string} text */
export function speak(text) {
	if (setting("voice") !== "on") return;
	const chosen = voice();
	if (!chosen) return;
	speech.cancel();
	const words = new SpeechSynthesisUtterance(aloud(text));
	words.voice = chosen;
	words.lang = chosen.lang;
	words.rate = 0.95;
	speech.speak(words);
}

export function hush() {
	speech?.cancel();
}

/**
 * aloud writes a text as it should be read: degrees, true minus signs and
 * thin spaces are not spoken well.
 * @param {string} text
 */
export function aloud(text) {
	return text
		.replace(/(\d)\u202f(\d)/g, "$1$2")
		.replace(/[−–](?=\d)/g, "minus ")
		.replace(/°/g, " degrees")
		.replace(/\bTDC\b/g, "T D C")
		.replace(/\brpm\b/g, "R P M")
		.replace(/\bNo\. (\d)/g, "number $1");
}

function voice() {
	const all = speech?.getVoices?.() ?? [];
	return all.find(({ localService, lang }) => localService && /^en/i.test(lang)) ?? null;
}
