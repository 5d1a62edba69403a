// Package sound is the ear of the room: engine speed from the sound of the
// exhaust, or from the times of its pulses, with the number of cylinders and
// how they fire.
//
// An engine's sound repeats with its whole cycle (720 crank degrees, 360 for a
// two-stroke). So its spectrum has lines at whole multiples of
//
//	cycles a second = engine rpm × 6 / crank degrees of a cycle
//
// and line k is as strong as |Σ e^(−2πi k θ/cycle)|² over the angles θ of the
// firings, the more so the more alike the cylinders are. Every speed is an
// account of the lines (account.go), weighed against noise with stray tones.
// The wander of the speed is taken out first (track.go). Where all firings are
// alike, repeats in time (ear.go, choose.go) speak as well: each of the two
// finds what the other misses.
//
// What is no engine lacks lines of the whole cycle, or comes and goes, or
// stands on the mains (judge.go).
package sound
