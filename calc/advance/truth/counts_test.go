//go:build !race && !wasm

package truth_test

// fewCases is how many cases an ordinary run judges: all sorts in turn, eight
// times over. TRUTH_FULL=1 judges the full count.
const fewCases = 160

// fewUnits is how many units the coverage of the fit's intervals is counted on
// in an ordinary run.
const fewUnits = 60

// oneIn: the simulator's own tests draw one in so many of what they would.
const oneIn = 1
