// Package marks is the room of the timing marks: degrees along a rim, along a
// ring gear and as piston travel, where true top dead centre stands on marks
// that may be wrong, and a printed tape for a pulley.
//
// Angles are crank degrees. On a scale of marks an angle is negative on the
// side that passes the pointer before the zero (before TDC) and positive on
// the other; that is the sign marks.tdc speaks. Everywhere else before TDC
// has a field of its own.
package marks
