package figures

import (
	"fmt"
	"math"
	"testing"
)

// What a cell says, written down by hand, by decimal point and by comma.
func TestCells(t *testing.T) {
	for cell, want := range map[string][2]string{
		"12": {"12", "12"}, " 12° ": {"12", "12"}, "~14": {"14", "14"}, "12-14": {"12..14", "12..14"},
		"12 to 14": {"12..14", "12..14"}, "14 – 12°": {"12..14", "12..14"}, "13 ± 1": {"12..14", "12..14"},
		"13+/-1":  {"12..14", "12..14"},
		"1500rpm": {"1500", "1500"}, "1500 min⁻¹": {"1500", "1500"}, "1500 r/min": {"1500", "1500"},
		"n/a": {"nothing", "nothing"}, "": {"nothing", "nothing"}, "–": {"nothing", "nothing"},
		"1,500": {"1500", "1.5"}, "1.500": {"1.5", "1500"}, "1,5": {"text", "1.5"}, "1.5": {"1.5", "text"},
		"1 500": {"1500", "1500"}, "1'500": {"1500", "1500"}, "1\u00a0500,5": {"text", "1500.5"},
		"1.234,5": {"text", "1234.5"},
		"1,234.5": {"1234.5", "text"}, "12,34,5": {"text", "text"}, "−2": {"-2", "-2"}, "-2-4": {"-2..4", "-2..4"},
		"max 14": {"..14", "..14"}, "≤14°": {"..14", "..14"}, "at least 3": {"3..", "3.."}, "≥ 3": {"3..", "3.."},
		"12½": {"12.5", "12.5"}, "12 1/4": {"12.25", "12.25"}, "12°30'": {"12.5", "12.5"}, "-2½": {"-2.5", "-2.5"},
		"2 ATDC": {"-2", "-2"}, "8° BTDC": {"8", "8"}, "12 mm": {"text", "text"}, "see 12": {"text", "text"},
		"12 13": {"text", "text"}, "2024-05-18": {"text", "text"}, "10:30": {"text", "text"}, "1e3": {"text", "text"},
		"12:30": {"text", "text"}, "2-4 ATDC": {"text", "text"}, "1/2": {"text", "text"}, "12/14": {"text", "text"},
		"1500 rpm (engine)": {"1500", "1500"}, "12\"": {"text", "text"}, "0x12": {"text", "text"},
		"12 deg crank": {"12", "12"},
	} {
		for i, m := range []mark{point, comma} {
			if got := inText(parse(cell, m)); got != want[i] {
				t.Errorf("%q by %c is %s, want %s", cell, m, got, want[i])
			}
		}
	}
}

func inText(f figure) string {
	short := func(x float64) string { return fmt.Sprintf("%g", math.Round(x*1e9)/1e9) }
	switch f.kind {
	case isEmpty:
		return "nothing"
	case isText:
		return "text"
	case isBand:
		return short(f.low) + ".." + short(f.high)
	case isAtLeast:
		return short(f.low) + ".."
	case isAtMost:
		return ".." + short(f.high)
	}
	return short(f.low)
}

// What a head says, by hand.
func TestHeads(t *testing.T) {
	for head, want := range map[string]string{
		"rpm (engine)": "speed engine ", "deg crank": "deg crank ", "distributor degrees": "deg distributor ",
		"°":     "deg  ",
		"min⁻¹": "speed  ", "min °": "minDeg  ", "max. advance (crank) incl. base": "maxDeg crank included",
		"1/min":        "speed  ",
		"Total timing": "deg  included", "rising": "risingDeg  ", "Vacuum pipe": "vacuum  ",
		"vacuum advance deg":     "skip  ",
		"deg, base not included": "deg  excluded", "Dwell angle": "skip  ", "crank deg at engine rpm": "  ", "n": "  ",
		"Remarks": "note  ", "up": "risingDeg  ", "revs per min distributor": "speed distributor ",
		"min-max deg":                  "deg  ",
		"crank or distributor degrees": "deg  ", "inHg": "skip  ", "speed_engine_rpm": "speed engine ",
	} {
		u := headUnit(head)
		is := u.role()
		shaft, base := "", ""
		if is == isSpeed || degrees(is) {
			shaft, base = u.shaft(is == isSpeed), u.base()
		}
		if got := is + " " + shaft + " " + base; got != want {
			t.Errorf("%q says %q, want %q", head, got, want)
		}
	}
}
