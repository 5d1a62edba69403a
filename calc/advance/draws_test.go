//go:build !race && !wasm

package advance

import "os"

// coverageDraws is how many governors the coverage of the intervals is
// counted on. The race detector and WebAssembly are an order of magnitude
// slower; there fewer are drawn and the rate asked for is wider.
// A thousand are drawn where full counts are asked for; with 150 the rate scatters
// by 2.5 (binomial), and 4 more than that are allowed.
func coverageDraws() (draws int, allowed float64) {
	if os.Getenv("TRUTH_FULL") == "1" {
		return 1000, 4
	}
	return 150, 11
}

// kindDraws is how many draws of noise each kind of case is judged on.
func kindDraws() int {
	if os.Getenv("TRUTH_FULL") == "1" {
		return 10
	}
	return 2
}

// kindEngines is on which engines a kind of case is judged.
func kindEngines(int) []engine { return engines }

// cleanDraws is how many sound units are judged.
func cleanDraws() int { return 25 * kindDraws() }
