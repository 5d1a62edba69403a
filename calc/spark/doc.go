// Package spark is the room of the gap in the plug: the voltage at which air
// breaks down (Breakdown, by one of three laws, each with its range) and
// what a plug in a cylinder asks for (Required, a range and never one number,
// because electrodes, mixture and the laws themselves differ).
//
// Pressures are absolute, in kPa; gaps in mm.
package spark
