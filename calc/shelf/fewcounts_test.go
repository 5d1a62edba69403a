//go:build race || wasm

package shelf

// shelvesTried and unitsTried: the race detector and WebAssembly are many times
// slower.
const (
	shelvesTried = 4
	unitsTried   = 400
)
