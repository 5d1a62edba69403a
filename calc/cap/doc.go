// Package cap is the room of the distributor cap: which post serves which
// cylinder, which cylinders share a crank position, which leads must not lie
// side by side, and what one tooth of the drive gear does.
//
// Clock positions are those of a clock face laid on the cap, seen from the
// cap end with 12 where the person chooses: 7.5 is half past seven, 30
// degrees an hour. Posts are taken to stand evenly round the cap.
package cap
