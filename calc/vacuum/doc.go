// Package vacuum is the room of the vacuum capsule: what it should do, what
// it does, whether it holds, whether its pipe goes to the right place, and
// what it adds on the road.
//
// Vacuum is kPa below ambient, positive. Movement is distributor degrees in
// the unit's own direction: a retard unit that works has positive figures
// too; a negative one moved the wrong way. Figures in inHg or mmHg are
// turned into kPa before they come here; only a code stamped on the unit is
// read in its own unit.
package vacuum
