//go:build race || wasm

package sound

import "runtime"

// testSpeeds: see the file for ordinary builds. The race detector and
// WebAssembly are an order of magnitude slower; there fewer are listened to.
// With 135 sounds a rate of 2 % scatters by 1.2 (binomial), with 45 by 2.1;
// what is allowed is more than three of these. WebAssembly listens at one of
// the table's speeds, one at which most are heard: it shows that the phone
// hears as this machine does, and the rates are held in ordinary builds.
func testSpeeds() (speeds []float64, allowed float64) {
	if runtime.GOARCH == "wasm" {
		return []float64{1350}, 0.09
	}
	return []float64{500, 1900, 4000}, 0.06
}
