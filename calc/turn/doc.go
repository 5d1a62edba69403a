// Package turn is the room of one whole engine cycle: the 720 crank degrees of a four-stroke, in which the piston, the
// points, the coil and the fire in cylinder No. 1 are followed side by side at one speed, vacuum and base.
//
// It has no physics of its own. Timing comes from the rooms of the curve and the capsule, current and volts from that
// of the coil, the piston from that of the marks, burning and pressure from that of the engine; here they are laid on
// one crank.
package turn
