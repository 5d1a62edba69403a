package figures

import (
	"slices"
	"strings"
	"testing"
	"time"
)

// The ways people write a book's table by hand. What each means was written
// down by hand; the list is older than this room: it was that of the app's own
// paste box, whose tests held the same lines to the same figures.
func TestAHandWrittenTableIsReadInEveryWay(t *testing.T) {
	known := Hints{What: spec, AngleUnit: crank, SpeedUnit: engine, Base: excluded}
	for want, lines := range map[string][]string{
		"1000 7..9": {"1000 7-9", "1000: 7 to 9", "1000\t7\t9", "1000 7 – 9", "1000 rpm  7-9°", "1000 = 7..9",
			"1000;7;9", "7-9 at 1000", "7 to 9 @ 1000 rpm", "1000 | 7 | 9", "1000: 7° to 9°", "1000 7 9",
			"1000\t\t7\t9", "1000 → 7-9", "1000 -> 7 ... 9"},
		"450 0.5..2.5": {"450 0,5-2,5", "450: 1/2 to 2½", "450: ½ to 2 1/2"},
		"1500 9..11":   {"1,500 9-11", "1 500: 9-11"},
		"300 -1..1":    {"300 -1 to 1"},
		"2000 8..8":    {"2000 8", "2000: 8", "8° at 2000"},
		"2500 ..14": {"max 14 at 2500", "2500 max 14", "2500: at most 14°", "14 max. at 2500 rpm", "2500\t\t14",
			"2500; ;14", "2500 | – | 14", "up to 14 @ 2500", "2500 not more than 14"},
		"1000 7..":    {"min 7 at 1000", "1000 at least 7", "1000\t7\t", "1000; 7; -", "7 minimum at 1000"},
		"2500 12..14": {"max 12 to 14 at 2500"},
	} {
		for _, line := range lines {
			out := read(t, line, known)
			for _, a := range out.Asks { // the first choice takes an empty column for an edge the book does not give
				if a.ID != "columns" {
					t.Errorf("%q asks %s", line, a.ID)
				}
				h := known
				h.Answers = map[string]string{"columns": a.Choices[0].Answer}
				out = read(t, line, h)
			}
			isWhole := len(out.Asks) == 0 && len(out.LeftOut) == 0
			if got := rowTexts(out.Rows); !slices.Equal(got, []string{want}) || !isWhole {
				t.Errorf("%q gives %q, want %q; asks %v, left out %v", line, got, want, askIDs(out), out.LeftOut)
			}
		}
	}
}

// An empty column is never taken for the other edge unasked, where no head
// says what it is.
func TestAnEmptyColumnWithoutAHeadIsAsked(t *testing.T) {
	for _, text := range []string{"2500\t\t14", "1000\t7\t\n1500\t9\t", "2500; ;14"} {
		if out := read(t, text, Hints{What: spec}); !slices.Contains(askIDs(out), "columns") {
			t.Errorf("%q asks only %v", text, askIDs(out))
		}
	}
}

func TestNoAdvanceBelowIsNoRow(t *testing.T) {
	known := Hints{What: spec, AngleUnit: distributor, SpeedUnit: distributor, Base: excluded}
	for text, want := range map[string]float64{
		"No advance below 300\n450 0.5-2.5":             300,
		"450: 0.5-2.5\nnil below 300 rpm":               300,
		"speed;min deg;max deg\n450;0.5;2.5\nbelow 250": 250,
		"no advance below 300;;\n450;0.5;2.5":           300,
		"450 0.5-2.5\nadvance starts at 350":            350,
		"450 0.5-2.5\nbelow 300: nil":                   300,
	} {
		out := read(t, text, known)
		if out.NoAdvanceBelowRPM == nil || *out.NoAdvanceBelowRPM != want || len(out.Rows) != 1 && len(out.Asks) == 0 {
			t.Errorf("%q gives %v and %v", text, out.NoAdvanceBelowRPM, out.Rows)
		}
	}
	out := read(t, "no advance below 300\nno advance below 400\n450 1-2", known)
	if *out.NoAdvanceBelowRPM != 300 || len(out.LeftOut) != 1 {
		t.Errorf("a second speed is not left out and named: %v", out.LeftOut)
	}
	as := known
	as.What = readings
	if out := read(t, "no advance below 300\n450 1", as); out.NoAdvanceBelowRPM != nil || len(out.Notes) == 0 {
		t.Error("readings have no such speed")
	}
}

// A bare “7/9” may be a fraction or a band; “1/2” alone may be a half, or 1 to 2.
func TestABareFractionIsNotGuessed(t *testing.T) {
	for _, cell := range []string{"1/2", "3/4", "7/9"} {
		if f := parse(cell, point); f.isNumeric() {
			t.Errorf("%s was read as %v", cell, f)
		}
	}
	for cell, want := range map[string]float64{"½": 0.5, "7 1/3": 7 + 1./3, "2¾": 2.75} {
		if f := parse(cell, point); f.kind != isFigure || f.low != want {
			t.Errorf("%s was read as %v", cell, f)
		}
	}
}

// Sentences among three columns get a least and a most of their own.
func TestSentencesAmongThreeColumns(t *testing.T) {
	text := "1000 7 9\n1500: 9 to 11\nmax 14 at 2500"
	h := Hints{What: spec, AngleUnit: crank, SpeedUnit: engine, Base: excluded}
	out := read(t, text, h)
	if len(out.Asks) != 1 || out.Asks[0].ID != "columns" {
		t.Fatalf("asks %v", askIDs(out))
	}
	h.Answers = map[string]string{"columns": "speed,minDeg,maxDeg"}
	out = read(t, text, h)
	if got := rowTexts(out.Rows); !slices.Equal(got, []string{"1000 7..9", "1500 9..11", "2500 ..14"}) {
		t.Errorf("gives %q, left out %v", got, out.LeftOut)
	}
}

// Tabs and semicolons stand there on purpose: a note with “at” in it makes no
// sentence of its row.
func TestANoteMakesNoSentence(t *testing.T) {
	out := read(t, "rpm engine;deg crank;note\n1000;7;max 14 at 2500\n1500;9;see: 3",
		Hints{What: readings, Base: included})
	if got := rowTexts(out.Rows); !slices.Equal(got, []string{"1000 7", "1500 9"}) {
		t.Errorf("gives %q", got)
	}
}

func TestALongLineIsOverInAMoment(t *testing.T) {
	begun := time.Now()
	for _, text := range []string{strings.Repeat("7 7 7 7 7 7 7-", 80_000), strings.Repeat("1 ", 500_000),
		strings.Repeat("1000: 7 at at at\n", 60_000)} {
		_, _ = Read(ReadIn{Text: text})
	}
	if took := time.Since(begun); took > 8*time.Second {
		t.Errorf("took %v", took)
	}
}
