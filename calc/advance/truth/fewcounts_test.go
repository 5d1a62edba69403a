//go:build race || wasm

package truth_test

// fewCases, fewUnits and oneIn: see the file for ordinary builds. The race detector
// and WebAssembly are many times slower.
const (
	fewCases = 20
	fewUnits = 10
	oneIn    = 10
)
