//go:build !race && !wasm

package sound

import "os"

// testSpeeds are the engine speeds of the table of made sounds, with the share
// of wrong octaves allowed. The full table is listened to where full counts
// are asked for (TRUTH_FULL=1); else every fourth, and with 180 sounds a rate of
// 2 % scatters by 1 (binomial): 5 is three of these.
func testSpeeds() (speeds []float64, allowed float64) {
	if os.Getenv("TRUTH_FULL") != "1" {
		return []float64{500, 800, 1350, 2150, 3250}, 0.05
	}
	return []float64{500, 560, 620, 700, 800, 950, 1100, 1200, 1350, 1500, 1700, 1900, 2150, 2400, 2700, 3000, 3250,
		3500, 3750, 4000}, 0.02
}
