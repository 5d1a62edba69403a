//go:build race || wasm

package record

// stories: see the file for ordinary builds. The race detector and WebAssembly
// are an order of magnitude slower.
func stories(string) int { return 60 }

// walks: see the file for ordinary builds.
const walks = 12000
