//go:build race || wasm

package sound

// testSpeeds: see the file for ordinary builds. The race detector and
// WebAssembly are an order of magnitude slower; there fewer are listened to.
func testSpeeds() []float64 { return []float64{500, 950, 1900, 4000} }
