// Package sound is the ear of the room: engine speed from the sound of the
// exhaust, or from the times of its pulses, and the number of cylinders.
//
// A four-stroke fires cylinders / 2 times a turn, so
//
//	engine rpm = 120 × firings a second / cylinders
//
// The firing rate is found as the time after which the sound repeats
// (autocorrelation), from a spectrum flattened so that neither the ring of
// the pipe nor a fan nor the colour of the noise decides, only what repeats.
// What lies halfway between repeats tells a rate from its half and double.
package sound
