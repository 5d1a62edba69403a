//go:build !race && !wasm

package shelf

// shelvesTried and unitsTried: how many an ordinary run tries.
const (
	shelvesTried = 100
	unitsTried   = 4000
)
