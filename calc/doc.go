// Package calc is the door to the arithmetic of the trade: one table of
// methods, each JSON in and JSON out, the same for the command line, the
// server and the phone. It does no input or output of its own, reads no
// clock, no network and no file.
//
// Use Call for one calculation and Describe for the list of them. Behind the
// door, each subject has a room (a package): quantity, clock, advance, points,
// coil, spark, supply, condition and more; finding is the shape they conclude in.
// Rooms take and give plain structs whose tags hold names, units and limits.
//
// Units and signs: names end in their unit. Degrees always say crank or
// distributor, speeds engine or distributor. Base and advance are positive
// before top dead centre. Vacuum is positive below ambient.
//
// Accuracy: results are float64 and differ in the last bits between amd64,
// arm64 and WebAssembly. Compare with a tolerance; round only to show.
package calc
