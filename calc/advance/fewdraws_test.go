//go:build race || wasm

package advance

// coverageDraws: see the file for ordinary builds. With 24 draws the rate of a
// 90 % interval scatters by 6.1 (binomial); 24 is nearly four of these.
func coverageDraws() (draws int, allowed float64) { return 24, 24 }

// kindDraws: see the file for ordinary builds.
func kindDraws() int { return 1 }

// kindEngines and cleanDraws: see the file for ordinary builds.
func kindEngines(k int) []engine {
	if k%4 != 0 {
		return nil
	}
	return engines[k%len(engines) : k%len(engines)+1]
}

func cleanDraws() int { return 4 }
