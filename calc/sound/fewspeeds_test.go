//go:build race || wasm

package sound

// testSpeeds: see the file for ordinary builds. The race detector and
// WebAssembly are an order of magnitude slower; there fewer are listened to.
// With 135 sounds a rate of 2 % scatters by 1.2 (binomial); 6 is more than
// three of these.
func testSpeeds() (speeds []float64, allowed float64) { return []float64{500, 1900, 4000}, 0.06 }
