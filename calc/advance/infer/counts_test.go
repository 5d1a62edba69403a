//go:build !race && !wasm

package infer

// seedCases is how many problems are judged under another seed.
const seedCases = 16
