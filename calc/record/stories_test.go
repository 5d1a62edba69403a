//go:build !race && !wasm

package record

import "os"

// stories to tell: 1,000 by miles; by dates as many in full (RECORD_FULL=1),
// else 200.
func stories(axis string) int {
	if axis == byDate && os.Getenv("RECORD_FULL") == "" {
		return 200
	}
	return 1000
}

// walks to draw.
const walks = 120000
