// Package scatter is the room of the spread between cylinders: how far each
// flash of the ring (or each cylinder by strobe) stands from where it should,
// what the pattern says about shaft, bush, cam and drive, and which cylinder
// is the earliest, because that one decides how much advance the engine can
// have.
//
// Errors are distributor degrees against the even spacing from No. 1, early
// positive, in firing order.
package scatter
