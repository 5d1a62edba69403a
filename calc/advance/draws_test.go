//go:build !race && !wasm

package advance

// coverageDraws is how many governors the coverage of the intervals is
// counted on. The race detector and WebAssembly are an order of magnitude
// slower; there fewer are drawn and the rate asked for is wider.
func coverageDraws() (draws int, allowed float64) { return 1000, 3 }
