// Package points is the room of the breaker points: gap, dwell, what a dwell
// means in time and in timing, how gap and dwell go together on this very
// distributor, and which of the two to trust when they disagree.
//
// Start with Dwell (angle to time), Shift (dwell to timing), Learn (gap
// against dwell from the car's own pairs) and Judge (measured against the
// book). Dwell is always in distributor degrees, timing in crank degrees.
//
// A wider gap means less dwell and an earlier opening. One Army manual states
// it the other way round; geometry and every other text seen do not.
package points
