//go:build !race && !wasm

package shelf

// shelvesTried, unitsTried and bruteTried: how many an ordinary run tries.
const (
	shelvesTried = 100
	unitsTried   = 4000
	bruteTried   = 63
)
