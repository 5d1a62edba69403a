// Package advance is the room of the advance curve: what the book says the
// timing should be over speed, what was measured, whether the two agree, what
// is wrong when they do not, and which spring, post or stop to touch.
//
// Start with Expect (book figures to bands) and Judge (readings against the
// book). Fit finds the governor behind the readings: two springs, slack and
// stop. WhatIf changes that governor, Prescribe looks for the smallest change
// that brings it into the book's band.
//
// Inside the room everything is crank degrees at engine rpm, base and advance
// positive before top dead centre; only the governor model speaks distributor
// degrees and distributor rpm, because the weights turn with that shaft.
package advance
