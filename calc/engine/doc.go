// Package engine is the room of the engine's own physics: how early is best at
// a speed and load, where knock begins, and what a degree costs (Best, Map), for
// an engine whose book no longer fits. Its inner rooms are cycle (one cylinder),
// flame (burning), knock (end gas) and budget (base, stop, total).
//
// It is an estimate, and says so: every figure is a range. What is uncertain
// (spread.go) is drawn many times, evenly and always the same; each draw is an
// engine that could be this one. Knock that was heard, and best timing that was
// found, weigh those engines (posterior.go): a heard knock is never outvoted.
//
// The road of a point: what is in the cylinder (charge.go) → how it burns
// (burn.go) → one cycle from the spark on (run.go) → a few sparks, and from them
// best timing, knock limit, cost (profile.go) → ranges over the draws (best.go).
//
// Degrees are crank degrees, sparks before TDC positive. Load is the manifold's
// absolute pressure over the air's.
package engine
