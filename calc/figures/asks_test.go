package figures

import (
	"slices"
	"strings"
	"testing"
)

// Questions that no file of testdata brings up: the text, what is asked at
// first, an answer, and the rows it gives.
func TestAsks(t *testing.T) {
	const heads = "engine rpm;crank deg with base"
	for name, c := range map[string]struct {
		text, asks, answer string
		rows               []string
		left               int
	}{
		"bands among readings": {heads + ";direction\n800;8-10;rising\n1500;17;rising\n2000;20;rising\n", "bands",
			"middle", []string{"800 9 rising", "1500 17 rising", "2000 20 rising"}, 0},
		"bands left out": {heads + ";direction\n800;8-10;rising\n1500;17;rising\n2000;20;rising\n", "bands", "leave",
			[]string{"1500 17 rising", "2000 20 rising"}, 1},
		"a sign that could not be read": {heads + ";direction\n800;12\ufffd;rising\n1500;17;rising\n", "unreadable",
			"leave", []string{"1500 17 rising"}, 1},
		"the same as a degree sign": {heads + ";direction\n800;12\ufffd;rising\n1500;17;rising\n", "unreadable",
			"degree", []string{"800 12 rising", "1500 17 rising"}, 0},
		"least above most": {"engine rpm;min crank deg total;max\n800;10;8\n1500;18;17\n", "leastMost", "swap",
			[]string{"800 8..10", "1500 17..18"}, 0},
		"one least above its most is left out": {"engine rpm;min crank deg total;max\n800;10;8\n1500;17;18\n", "", "",
			[]string{"1500 17..18"}, 1},
		"a speed twice": {"engine rpm;min crank deg total;max\n800;8;10\n800;7;9\n1500;17;18\n", "repeats", "widest",
			[]string{"800 7..10", "1500 17..18"}, 1},
		"marks that do not agree": {heads + ";direction\n800;8.5;rising\n1.500;17.5;rising\n", "decimal", "each",
			[]string{"800 8.5 rising", "1500 17.5 rising"}, 0},
		"speeds in thousands": {"engine rpm x 1000;crank deg with base;direction\n0.8;8.5;up\n1.5;17.5;up\n", "", "",
			[]string{"800 8.5 rising", "1500 17.5 rising"}, 0},
		"both shafts in one head": {"engine rpm;deg with base (crank or distributor);direction\n800;8;up\n1500;17;up\n",
			"angleUnit", crank, []string{"800 8 rising", "1500 17 rising"}, 0},
		"two speeds": {"engine rpm;distributor rpm;crank deg with base;direction\n800;400;8;up\n1600;800;17;up\n", "columns",
			"skip,speed,deg,direction", []string{"400 8 rising", "800 17 rising"}, 0},
		"one row of another shaft": {
			"engine rpm;deg with base;direction\n800;8 crank;up\n1500;17 crank;up\n2000;9 distributor;up\n",
			"angleUnit", crank, []string{"800 8 rising", "1500 17 rising"}, 1},
		"blanks or commas": {"1 500,12\n1 600,13\n", "separator", "comma", []string{"1500 12..12", "1600 13..13"}, 0},
		"after top dead centre": {heads + ";direction\n800;2 ATDC;up\n1500;8 BTDC;up\n", "", "",
			[]string{"800 -2 rising", "1500 8 rising"}, 0},
		"fewer cells than heads": {"engine rpm;min crank deg total;max\n800;8;10\n1200;14\n1500;17;18\n", "", "",
			[]string{"800 8..10", "1500 17..18"}, 1},
	} {
		out := read(t, c.text, Hints{})
		if got := strings.Join(askIDs(out), " "); got != c.asks {
			t.Errorf("%s: asks %q, want %q", name, got, c.asks)
			continue
		}
		hints := Hints{}
		if c.asks != "" {
			hints.Answers = map[string]string{c.asks: c.answer}
			if c.asks == "separator" {
				hints.What, hints.AngleUnit, hints.SpeedUnit, hints.Base = spec, crank, engine, included
			}
			out = read(t, c.text, hints)
		}
		if got := rowTexts(out.Rows); !slices.Equal(got, c.rows) || len(out.LeftOut) != c.left || len(out.Asks) > 0 {
			t.Errorf("%s: gives %q, left out %v, asks %v", name, got, out.LeftOut, askIDs(out))
		}
	}
}

// A hint that the heads speak against is asked about, not followed.
func TestAHintAgainstTheHeadsIsAsked(t *testing.T) {
	text := "engine rpm;crank deg with base;direction\n800;8;up\n1500;17;up\n"
	hints := Hints{AngleUnit: distributor, SpeedUnit: distributor, Base: excluded}
	out := read(t, text, hints)
	if got := askIDs(out); !sameSet(got, []string{"angleUnit", "speedUnit", "base"}) || out.AngleUnit != "" {
		t.Errorf("asks %v, says %q", got, out.AngleUnit)
	}
	hints.Answers = map[string]string{"angleUnit": distributor, "speedUnit": engine, "base": included}
	out = read(t, text, hints)
	if len(out.Asks) > 0 || out.AngleUnit != distributor || out.SpeedUnit != engine || out.Base != included {
		t.Errorf("after the answers: %v, %+v", askIDs(out), out)
	}
}

// What an encoding left behind is taken off and said.
func TestEncodings(t *testing.T) {
	text := "engine rpm;crank ° with base;direction\r\n800;8°;up\r\n"
	zeros := ""
	for _, c := range text {
		zeros += string(c) + "\x00"
	}
	for name, given := range map[string]string{"plain": text, "mark": "\ufeff" + text,
		"UTF-16 read byte by byte": "\u00ff\u00fe" + zeros, "UTF-16 in part read": "\ufffd\ufffd" + zeros,
		"UTF-8 read as Latin": "\u00ef\u00bb\u00bf" + strings.ReplaceAll(text, "°", "\u00c2\u00b0")} {
		out := read(t, given, Hints{})
		if len(out.Asks) > 0 || !slices.Equal(rowTexts(out.Rows), []string{"800 8 rising"}) || out.AngleUnit != crank {
			t.Errorf("%s: %q, asks %v", name, rowTexts(out.Rows), askIDs(out))
		}
		if said := len(out.Notes) > 0; said != (name != "plain") {
			t.Errorf("%s: notes %v", name, out.Notes)
		}
	}
}
