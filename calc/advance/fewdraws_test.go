//go:build race || wasm

package advance

// coverageDraws: see the file for ordinary builds. With 60 draws the rate of a
// 90 % interval scatters by 3.9 (binomial); 15 is nearly four of these.
func coverageDraws() (draws int, allowed float64) { return 60, 15 }
