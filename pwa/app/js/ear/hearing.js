// From pieces of sound to an engine speed: the last seconds are kept, packed
// as the calculation takes them, and several answers are weighed. Pure but for
// the calculation.

import { call } from "../engine/client.js";

const seconds = 1.2; // of sound per answer. Chosen: a slow six fires 30 times in it
const agreeing = 0.03; // answers within 3 % of one another count as the same. Chosen

/**
 * @typedef {{engineRPM: number, sureness: "sure" | "likely" | "possible", clarity: number, alternatives: {engineRPM:
 *   number, why: string}[]}} Heard
 */

/** Sound keeps the last seconds of what was heard. */
export class Sound {
	#samples = new Float32Array(0);
	rate = 0;

	/** @param {number} rate samples a second @param {Float32Array} piece */
	add(rate, piece) {
		if (rate !== this.rate) {
			this.rate = rate;
			this.#samples = new Float32Array(0);
		}
		const most = Math.round(rate * seconds);
		const joined = new Float32Array(Math.min(most, this.#samples.length + piece.length));
		const old = this.#samples.subarray(Math.max(0, this.#samples.length + piece.length - joined.length));
		joined.set(old);
		joined.set(piece.subarray(Math.max(0, piece.length - joined.length)), old.length);
		this.#samples = joined;
	}

	get isEnough() {
		return this.rate > 0 && this.#samples.length >= this.rate * seconds * 0.98;
	}

	/** level is the loudest sample, 0 to 1. */
	get level() {
		return this.#samples.reduce((most, x) => Math.max(most, Math.abs(x)), 0);
	}

	/** pcm16 packs the sound, made as loud as it can be: the phone's microphone may be faint. */
	pcm16() {
		const loud = this.level;
		const gain = loud > 1e-4 ? Math.min(0.9 / loud, 1000) : 1; // silence stays silence
		const bytes = new Uint8Array(this.#samples.length * 2);
		const view = new DataView(bytes.buffer);
		this.#samples.forEach((x, i) =>
			view.setInt16(2 * i, Math.round(Math.max(-1, Math.min(1, x * gain)) * 32767), true),
		);
		let text = "";
		for (let i = 0; i < bytes.length; i += 8192) text += String.fromCharCode(...bytes.subarray(i, i + 8192));
		return btoa(text);
	}
}

/**
 * hear asks what speed a sound means.
 * @param {Sound} sound
 * @param {import("./heard-firing.js").Firing} firing
 * @param {number | null} expected a speed it should be near, to tell it from its half and double
 * @returns {Promise<Heard>}
 */
export async function hear(sound, { cylinders, intervals }, expected = null) {
	const firing = intervals ? { firing: { intervalsCrankDeg: intervals } } : {};
	return weighed(
		await call("sound.rpm", { cylinders, ...firing, sampleRate: sound.rate, pcm16: sound.pcm16() }),
		expected,
	);
}

/**
 * weighed takes the speed that is being held into account, where the sound
 * leaves half or double open; a sure answer stands as it is.
 * @param {Heard} answer @param {number | null} expected
 * @returns {Heard}
 */
export function weighed(answer, expected) {
	if (!expected || answer.sureness === "sure") return answer;
	const nearer = answer.alternatives.find(
		(one) => Math.abs(Math.log(one.engineRPM / expected)) < Math.abs(Math.log(answer.engineRPM / expected)) - 0.3,
	);
	if (!nearer) return answer;
	return {
		...answer,
		engineRPM: nearer.engineRPM,
		sureness: "possible",
		alternatives: [
			{ engineRPM: answer.engineRPM, why: "what the sound alone says" },
			...answer.alternatives.filter((one) => one !== nearer),
		],
	};
}

/**
 * settled weighs the last answers: the middle one of those that agree, or null
 * while fewer than two do, or three where the newest of them is not sure.
 * @param {readonly Heard[]} answers the newest last
 * @returns {Heard | null}
 */
export function settled(answers) {
	const last = answers.slice(-5);
	for (const one of [...last].reverse()) {
		const alike = last.filter((other) => Math.abs(other.engineRPM / one.engineRPM - 1) <= agreeing);
		if (alike.length < (one.sureness === "sure" ? 2 : 3) || alike.length * 2 < last.length) continue;
		const middle = alike.map(({ engineRPM }) => engineRPM).sort((a, b) => a - b)[
			Math.floor((alike.length - 1) / 2)
		];
		const sureness = alike.some((each) => each.sureness === "possible")
			? "possible"
			: alike.length === last.length && alike.every((each) => each.sureness === "sure")
				? "sure"
				: "likely";
		return { ...one, engineRPM: middle, sureness };
	}
	return null;
}

/**
 * followed takes one more answer in, null for a refused one, and gives the
 * answers to remember and what is to be shown: what was heard before fades.
 * @param {readonly Heard[]} answers @param {Heard | null} answer
 * @returns {{answers: Heard[], heard: Heard | null}}
 */
export function followed(answers, answer) {
	const next = answer ? [...answers, answer].slice(-5) : answers.slice(1);
	return { answers: next, heard: answer || next.length > 1 ? settled(next) : null };
}
