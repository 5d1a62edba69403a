// The first half of a SHA-256 (FIPS 180-4): the id of what never changes. That of
// a photo the server makes alike (store/photo.go). The browser's own digest is
// missing over plain HTTP.

/** @returns {number[]} the first 64 primes */
function primes() {
	const found = [2];
	for (let n = 3; found.length < 64; n += 2) if (found.every((prime) => n % prime !== 0)) found.push(n);
	return found;
}

/** The first 32 bits behind the point. @param {number} x */
const fraction = (x) => ((x - Math.floor(x)) * 2 ** 32) | 0;

const start = primes().slice(0, 8).map(Math.sqrt).map(fraction); // FIPS 180-4, 5.3.3
const rounds = primes().map(Math.cbrt).map(fraction); // 4.2.2

/** @param {number} x @param {number} by */
const turned = (x, by) => (x >>> by) | (x << (32 - by));

/**
 * digest gives 32 hexadecimal digits.
 * @param {Uint8Array} bytes
 */
export function digest(bytes) {
	const state = start.slice();
	const blocks = padded(bytes);
	const words = new Int32Array(64);
	for (let at = 0; at < blocks.byteLength; at += 64) {
		for (let t = 0; t < 16; t++) words[t] = blocks.getInt32(at + 4 * t);
		for (let t = 16; t < 64; t++)
			words[t] = (small1(words[t - 2]) + words[t - 7] + small0(words[t - 15]) + words[t - 16]) | 0;
		mix(state, words);
	}
	return state
		.slice(0, 4)
		.map((word) => (word >>> 0).toString(16).padStart(8, "0"))
		.join("");
}

/** @param {number} x */
const small0 = (x) => turned(x, 7) ^ turned(x, 18) ^ (x >>> 3);
/** @param {number} x */
const small1 = (x) => turned(x, 17) ^ turned(x, 19) ^ (x >>> 10);

/** A one, noughts, and the length in bits (5.1.1). @param {Uint8Array} bytes */
function padded(bytes) {
	const whole = new Uint8Array(Math.ceil((bytes.length + 9) / 64) * 64);
	whole.set(bytes);
	whole[bytes.length] = 0x80;
	const view = new DataView(whole.buffer);
	view.setUint32(whole.length - 8, Math.floor(bytes.length / 2 ** 29));
	view.setUint32(whole.length - 4, (bytes.length * 8) >>> 0);
	return view;
}

/** One block (6.2.2). @param {number[]} state @param {Int32Array} words */
function mix(state, words) {
	let [a, b, c, d, e, f, g, h] = state;
	for (let t = 0; t < 64; t++) {
		const one =
			(h + (turned(e, 6) ^ turned(e, 11) ^ turned(e, 25)) + ((e & f) ^ (~e & g)) + rounds[t] + words[t]) | 0;
		const two = ((turned(a, 2) ^ turned(a, 13) ^ turned(a, 22)) + ((a & b) ^ (a & c) ^ (b & c))) | 0;
		[h, g, f, e, d, c, b, a] = [g, f, e, (d + one) | 0, c, b, a, (one + two) | 0];
	}
	[a, b, c, d, e, f, g, h].forEach((word, n) => {
		state[n] = (state[n] + word) | 0;
	});
}
