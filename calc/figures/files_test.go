package figures

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// badFiles are the badly made files of testdata/figures, what is said to their
// questions, and what is right. The rows were written down by hand from the
// files, not taken from an answer.
var badFiles = []struct {
	file    string
	asks    []string          // of the first reading, in any order
	answers map[string]string // all that is said
	units   string            // what, angle, speed, base
	rows    []string          // rpm, then min..max or deg, then direction
	left    int               // lines left out, comments not counted
}{
	{"01-semicolons.csv", []string{"base"}, map[string]string{"base": included}, "spec crank engine included",
		[]string{"800 7.5..9.5", "1200 10..12.5", "2000 18..20", "4500 27.5..30"}, 0},
	{"02-torn-commas.csv", []string{"commas"},
		map[string]string{"commas": "decimal", "what": readings, "base": included},
		"readings crank engine included", []string{"800 7.5", "1200 10", "2000 18.5"}, 0},
	{"03-swapped.csv", []string{"swapped"}, map[string]string{"swapped": "swap", "base": included},
		"readings crank engine included",
		[]string{"800 8 rising", "1500 12.5 rising", "3000 20 rising", "1500 13 falling"}, 0},
	{"04-no-shaft.csv", []string{"angleUnit", "speedUnit", "base"},
		map[string]string{"angleUnit": distributor, "speedUnit": distributor, "base": excluded},
		"spec distributor distributor excluded", []string{"300 0..1", "700 4..6", "1500 9..11"}, 0},
	{"05-byte-order-mark.csv", nil, nil, "readings distributor distributor excluded",
		[]string{"400 1.5 rising", "800 5 rising", "1200 8.25 rising", "800 6 falling"}, 0},
	{"06-old-line-ends.csv", nil, nil, "readings crank engine included",
		[]string{"900 10 rising", "1800 19.5 rising", "3600 31 rising"}, 0},
	{"07-words-in-figures.csv", []string{"base"}, map[string]string{"base": included}, "spec crank engine included",
		[]string{"1500 12..14", "2000 16..18", "3000 23..25", "4000 ..32", "5000 33.5..35"}, 2},
	{"08-no-heads.txt", []string{"columns"},
		map[string]string{"columns": "speed,minDeg,maxDeg", "angleUnit": distributor, "speedUnit": distributor,
			"base": excluded}, "spec distributor distributor excluded",
		[]string{"500 2..4", "1000 7.5..9.5", "2000 14..16"}, 0},
	{"09-two-tables.csv", []string{"table"}, map[string]string{"table": "2", "what": readings, "base": included},
		"readings crank engine included", []string{"800 10", "1600 20"}, 2},
	{"10-across.csv", []string{"base"}, map[string]string{"base": included}, "spec crank engine included",
		[]string{"800 7.5..9.5", "1200 10..12.5", "2000 18..20", "4500 27.5..30"}, 0},
	{"11-quotes.csv", []string{"what"}, map[string]string{"what": readings}, "readings crank engine included",
		[]string{"1500 14", "2250 18.5", "3000 24"}, 0},
	{"12-read-falling.csv", []string{"what"}, map[string]string{"what": readings, "direction": "order"},
		"readings crank engine included",
		[]string{"800 8 rising", "1500 17.2 rising", "3000 21.7 rising", "1500 18 falling", "800 8.5 falling"}, 1},
}

func TestBadlyMadeFilesAreReadRightOrAsked(t *testing.T) {
	if len(badFiles) < 10 {
		t.Fatal("ten files at least were asked for")
	}
	for _, c := range badFiles {
		text, err := os.ReadFile(filepath.Join("../../testdata/figures", c.file))
		if err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(firstLines(string(text), 100), "# Invented for this project") {
			t.Errorf("%s does not say where it is from", c.file)
		}
		first := read(t, string(text), Hints{})
		if got := askIDs(first); !sameSet(got, c.asks) {
			t.Errorf("%s asks %v, want %v", c.file, got, c.asks)
		}
		for _, a := range first.Asks {
			if a.Question == "" || a.Why == "" || len(a.Choices) < 2 {
				t.Errorf("%s: %s asks badly: %+v", c.file, a.ID, a)
			}
			if !slices.ContainsFunc(a.Choices, func(o Choice) bool { return len(o.Preview) > 0 }) {
				t.Errorf("%s: %s shows no rows for any answer", c.file, a.ID)
			}
		}
		out := read(t, string(text), Hints{Answers: c.answers})
		if len(out.Asks) > 0 {
			t.Errorf("%s still asks %v", c.file, askIDs(out))
		}
		if got := strings.Join([]string{out.What, out.AngleUnit, out.SpeedUnit, out.Base}, " "); got != c.units {
			t.Errorf("%s is %s, want %s", c.file, got, c.units)
		}
		if got := rowTexts(out.Rows); !slices.Equal(got, c.rows) {
			t.Errorf("%s gives\n%q, want\n%q", c.file, got, c.rows)
		}
		isComment := func(l Left) bool { return l.Because == "a comment" }
		if n := len(slices.DeleteFunc(out.LeftOut, isComment)); n != c.left {
			t.Errorf("%s leaves %d lines out, want %d: %v", c.file, n, c.left, out.LeftOut)
		}
	}
}

// A choice's preview is what reading with that answer gives.
func TestAPreviewIsWhatTheAnswerGives(t *testing.T) {
	n := 0
	for _, c := range badFiles {
		text, err := os.ReadFile(filepath.Join("../../testdata/figures", c.file))
		if err != nil {
			t.Fatal(err)
		}
		for _, a := range read(t, string(text), Hints{}).Asks {
			for _, o := range a.Choices {
				out := read(t, string(text), Hints{Answers: map[string]string{a.ID: o.Answer}})
				for i, line := range o.Preview {
					n++
					row := rowTexts(out.Rows)[i]
					speed, rest, _ := strings.Cut(row, " ")
					said := strings.HasPrefix(line, speed+" ")
					for _, x := range strings.Fields(strings.ReplaceAll(rest, "..", " ")) {
						said = said && strings.Contains(line, " "+x)
					}
					if !said {
						t.Errorf("%s: %s=%s shows %q, and gives %q", c.file, a.ID, o.Answer, line, row)
					}
				}
			}
		}
	}
	if n < 30 {
		t.Errorf("only %d preview lines were held against anything", n)
	}
}
