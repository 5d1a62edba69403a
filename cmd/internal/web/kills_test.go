//go:build !race

package web

// kills of the server while it writes. The race detector makes each start of a
// server several times slower and has a smaller number; .ci/check runs this
// test once more without it.
const kills = 200
