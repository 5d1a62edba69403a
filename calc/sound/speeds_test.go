//go:build !race && !wasm

package sound

// testSpeeds are the engine speeds of the table of made sounds, with the share
// of wrong octaves allowed.
func testSpeeds() (speeds []float64, allowed float64) {
	return []float64{500, 560, 620, 700, 800, 950, 1100, 1200, 1350, 1500, 1700, 1900, 2150, 2400, 2700, 3000, 3250, 3500, 3750, 4000}, 0.02
}
