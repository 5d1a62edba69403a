// Listens on the audio thread: takes the sound down to about a quarter of its
// rate, after a filter so that nothing folds over, and hands it on in pieces.

const factor = 4;
const taps = 48; // of a windowed low-pass; chosen: 40 dB at the new half rate
const pieceLength = 1024; // samples a message, at the lower rate

const filter = Array.from({ length: taps }, (_, i) => {
	const x = i - (taps - 1) / 2;
	const sinc = Math.sin((Math.PI * 0.8 * x) / factor) / (Math.PI * x);
	return sinc * (0.54 - 0.46 * Math.cos((2 * Math.PI * i) / (taps - 1))); // Hamming's window
});

class Ear extends AudioWorkletProcessor {
	#past = new Float32Array(taps);
	#at = 0;
	#count = 0;
	#piece = new Float32Array(pieceLength);
	#filled = 0;

	/** @param {Float32Array[][]} inputs */
	process(inputs) {
		const sound = inputs[0]?.[0];
		if (!sound) return true;
		for (const sample of sound) {
			this.#past[this.#at] = sample;
			this.#at = (this.#at + 1) % taps;
			if (++this.#count % factor === 0) this.#keep();
		}
		return true;
	}

	#keep() {
		let sum = 0;
		for (let i = 0; i < taps; i++) sum += filter[i] * this.#past[(this.#at + i) % taps];
		this.#piece[this.#filled++] = sum;
		if (this.#filled < pieceLength) return;
		this.port.postMessage({ rate: sampleRate / factor, sound: this.#piece.slice() });
		this.#filled = 0;
	}
}

registerProcessor("ear", Ear);
