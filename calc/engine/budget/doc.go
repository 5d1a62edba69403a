// Package budget is the inner room of the arithmetic between base, stop and
// total, and of what is left to knock where it was heard: of the mean, and of the
// cylinder that fires first.
package budget
