// Package supply is the room of the way from battery to points and back: the
// volts measured along it, points closed or while cranking, give the drop and
// the resistance of each stretch, and so which connection is guilty. It knows
// 6 and 12 V, positive and negative earth, with and without ballast.
package supply
