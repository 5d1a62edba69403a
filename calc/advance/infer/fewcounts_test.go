//go:build race || wasm

package infer

// seedCases: see the file for ordinary builds. The race detector and
// WebAssembly are several times slower.
const seedCases = 4
