//go:build !race && !wasm

package vacuum

// capsules of each kind that the simulator draws.
const capsules = 25
