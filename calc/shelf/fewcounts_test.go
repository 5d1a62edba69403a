//go:build race || wasm

package shelf

// shelvesTried, unitsTried and bruteTried: the race detector and WebAssembly are many times
// slower.
const (
	shelvesTried = 4
	unitsTried   = 400
	bruteTried   = 3
)
