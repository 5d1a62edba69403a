// Package coil is the room of the primary and what it makes: how the coil
// charges while the points are closed (Charge), how high it swings when they
// open (Break), how both fare over speed and at the starter for the car as it
// is (Sweep), whether the condenser suits it (JudgeCondenser), and which way
// round it is connected (Polarity).
//
// The circuit is one loop: supply, series resistance, inductance, points. The
// secondary's capacitance counts in the primary with the square of the turns
// ratio. Iron loss and leakage of the windings are not in it, so its figures
// are ideal: a measured coil gives less, never more.
package coil
