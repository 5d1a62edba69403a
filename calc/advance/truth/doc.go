// Package truth holds tests only: it asks whether what calc/advance concludes
// is true of a distributor that obeys other physics than the room's own model.
//
// A unit here is two weights on pivots, a cam plate they drive by pin and slot
// or by rolling, two springs whose pull follows from where their ends lie, dry
// friction, and two stops. Books are printed for such units, faults are done to
// them, readings are taken with rounding and noise, and the judge's answer is
// held against what was done. Every case follows from a seed and an index.
//
// Ordinary runs judge a few cases of each sort. TRUTH_FULL=1 judges the full
// count, TRUTH_CASES=n just n, TRUTH_SEED=n others, TRUTH_SHOW=1 with -v lists
// every single fault that was answered wrongly.
package truth
