package house

import (
	"strings"
	"testing"
)

// What every room of calc may stand on.
var calcFloor = []string{"pointsmith/calc/finding", "pointsmith/calc/refuse", "pointsmith/calc/schema"}

// The rooms of calc that use another one, and why. A room includes the folders
// inside it.
var betweenCalcRooms = map[[2]string]string{
	{"card", "advance"}:    "a card holds a spec and readings, as they are judged",
	{"coil", "points"}:     "dwell at a speed is how long the coil charges",
	{"coil", "spark"}:      "what the coil gives is held against what the gap asks for",
	{"engine", "advance"}:  "a target is held against the band of the book",
	{"scatter", "cap"}:     "errors are read in firing order, which cap checks",
	{"shelf", "advance"}:   "many units are held against one book by the same governor, book and repairs",
	{"turn", "advance"}:    "one cycle is laid out from the other rooms' figures: the curve",
	{"turn", "cap"}:        "… the firing order",
	{"turn", "clock"}:      "… crank degrees and time",
	{"turn", "coil"}:       "… current and volts",
	{"turn", "engine"}:     "… burning and pressure",
	{"turn", "marks"}:      "… the piston",
	{"turn", "points"}:     "… the dwell",
	{"turn", "spark"}:      "… the plug's need",
	{"turn", "vacuum"}:     "… the capsule",
	{"vacuum", "quantity"}: "a capsule's code is stamped in units of its own",
}

// calc: door → rooms → finding, refuse, schema, and the arrows above.
func TestCalcRoomsKeepToThemselves(t *testing.T) {
	used := map[[2]string]bool{}
	for _, s := range sources(t) {
		room, inside := strings.CutPrefix(s.folder(), "calc/")
		if !inside || s.isTest() {
			continue
		}
		room, _, _ = strings.Cut(room, "/")
		for _, path := range s.imports() {
			other, isCalc := strings.CutPrefix(path, "pointsmith/calc/")
			other, _, _ = strings.Cut(other, "/")
			if !isCalc || other == room || onFloor(path) {
				continue
			}
			arrow := [2]string{room, other}
			if used[arrow] = true; betweenCalcRooms[arrow] == "" {
				t.Errorf("%s imports %s: no arrow from %s to %s stands in betweenCalcRooms", s.path, path, room, other)
			}
		}
	}
	for arrow := range betweenCalcRooms {
		if !used[arrow] {
			t.Errorf("the arrow from %s to %s is not used: take it out", arrow[0], arrow[1])
		}
	}
}

func onFloor(path string) bool {
	for _, f := range calcFloor {
		if path == f {
			return true
		}
	}
	return false
}
