//go:build race || wasm

package vacuum

// Under the race detector and in WebAssembly a few show that it runs; the rates
// are held natively.
const capsules = 15
