//go:build race || wasm

package sound

import "runtime"

// testSpeeds: see the file for ordinary builds. The race detector and
// WebAssembly are an order of magnitude slower; there fewer are listened to.
// With 135 sounds a rate of 2 % scatters by 1.2 (binomial), with 45 by 2.1;
// what is allowed is more than three of these.
func testSpeeds() (speeds []float64, allowed float64) {
	if runtime.GOARCH == "wasm" {
		return []float64{1900}, 0.09
	}
	return []float64{500, 1900, 4000}, 0.06
}
